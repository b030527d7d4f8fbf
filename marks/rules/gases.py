"""Gases: how large an aerosol or small receptacle may be; the reduced labels of cylinders.

The labels, the name on refillable receptacles and on aerosols, arrows and lettering stand in the rules of every class.
"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case
from marks.check import check
from marks.gases import SMALL_RECEPTACLES
from marks.quantity import is_volume, show, to
from marks.reliefs import breakable
from marks.requirement import Finding
from marks.rule import EVERY_MODE, note, refuse
from marks.tables import limit
from marks.terms import Mode, PackageForm

_SHOULDER = {Mode.ROAD: "ADR 5.2.2.2.1.2", Mode.SEA: "IMDG 5.2.2.2.1.2", Mode.AIR: "ICAO TI 5;3.5.1.1"}


@check(modes=EVERY_MODE, concerns=lambda case: any(c.entry.un in SMALL_RECEPTACLES for c in case.contents))
def receptacle_size(case: Case) -> Iterator[Finding]:
    """Metal up to 1000 mL, plastics and glass up to 500 mL.

    Difference of law: US law takes plastic aerosols of 2.2 up to 1 L (49 CFR 173.306(a)(5)(i)).
    """
    for content in case.contents:
        inner = content.goods.inner
        if content.entry.un not in SMALL_RECEPTACLES or inner is None or not is_volume(inner.holds):
            continue
        metal = not breakable(inner.of) and "plastic" not in inner.of.casefold()
        most = limit("gases", "metal" if metal else "other", case.on, "special")
        if to(inner.holds, "mL") > most.value:
            made = "of metal" if metal else "not of metal"
            yield refuse(
                "gas-receptacle-large",
                f"{content.described_as()}: a receptacle of {show(inner.holds)} {made} ({inner.of}); {most.text} is "
                "the most; it is a cylinder then, with the entry of its gas",
                most.paragraph(case.mode),
            )


@check(modes=EVERY_MODE, concerns=lambda case: case.package.form_derived is PackageForm.CYLINDER)
def labels_of_a_cylinder(case: Case) -> Iterator[Finding]:
    """They may be smaller than 100 mm and stand on the shoulder, by ISO 7225 (from memory)."""
    if any(content.entry.hazard_class == "2" for content in case.contents):
        yield note(
            "cylinder-labels",
            "labels of a gas cylinder may be reduced to the sizes of ISO 7225 and stand on its shoulder; there they "
            "may overlap, so long as the label of the primary hazard and all figures stay wholly visible (from "
            "memory); those made here are of full size where the side of the cylinder takes them, and overlap nowhere",
            _SHOULDER[case.mode],
        )
