"""How high the letters of the UN number must be. Shared by the rules of every law, which take the same figures here."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case
from marks.quantity import show, to
from marks.tables import limit, measure_figures
from marks.terms import PackageForm


def lettering(case: Case) -> tuple[dict[str, Decimal], str]:
    """The least letter height of the UN number, mm, and the sentence that says why.

    The test is what the packaging may hold, not what is in it: its stated capacity or largest net mass; failing these,
    the marked gross mass bounds the net mass. Nothing known: the full 12 mm. Empty: no figure, a size that fits.
    """
    figures = measure_figures("un-number", None, case.on)
    full, medium = figures["lettering"].value, figures["lettering_medium"].value
    sizes = list(_sizes(case))
    for height, tier in ((None, "small"), (medium, "medium")):
        for kind, value, words in sizes:
            if kind == "cylinder" and tier == "small":
                kind = "capacity"
            if value <= limit("lettering", f"{tier}_{kind}", case.on).value:
                if height is None:
                    return {}, f"{words}: letters of a size that fits the package"
                return {"lettering": height}, f"{words}: letters of at least {height} mm"
    why = sizes[0][2] if sizes else "neither capacity nor largest net mass is stated"
    return {"lettering": full}, f"{why}: letters of at least {full} mm"


def _sizes(case: Case) -> Iterator[tuple[str, Decimal, str]]:
    """What is known of how much the packaging may hold: kind of limit, value in L or kg, in words."""
    package = case.package
    if package.form_derived is PackageForm.CYLINDER and package.water_capacity is not None:
        litres = to(package.water_capacity, "L")
        yield "cylinder", litres, f"a cylinder of {show(package.water_capacity)} water capacity"
        return
    if package.capacity is not None:
        yield "capacity", to(package.capacity, "L"), f"capacity {show(package.capacity)}"
    if package.max_net is not None:
        yield "mass", to(package.max_net, "kg"), f"largest net mass {show(package.max_net)}"
    mark = package.spec
    if package.capacity is None and package.max_net is None and mark is not None and mark.gross_kg is not None:
        yield "mass", mark.gross_kg, f"marked gross mass {mark.gross_kg:f} kg, so its net mass is less"
