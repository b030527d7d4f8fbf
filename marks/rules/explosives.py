"""Explosives: net explosive mass by air; goods of different compatibility groups in one package.

Division, compatibility group and subsidiary hazards are those of the entry: the label rules print them. The name on the
road, net and gross mass by air stand in the rules of every class.
"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content, listed
from marks.check import check
from marks.quantity import is_mass, show, to
from marks.requirement import Finding
from marks.rule import EVERY_MODE, Answer, Needs, Spares, caution, refuse, rule
from marks.terms import Mode

_TOGETHER = {Mode.ROAD: "ADR 4.1.10.4 MP20 to MP24", Mode.SEA: "IMDG 7.2.7.1", Mode.AIR: "ICAO TI 3;2 and 4;3"}


def _explosives(case: Case) -> tuple[Content, ...]:
    return tuple(content for content in case.contents if content.entry.hazard_class == "1")


@rule(
    "net-explosive-mass",
    cite={Mode.AIR: "ICAO TI 5;2.4.3"},
    elsewhere="by road and sea the net explosive mass stands on the document, not on the package",
    concerns=lambda case: bool(_explosives(case)),
)
def net_explosive_mass(case: Case) -> Iterator[Answer]:
    """By air beside net and gross mass, where the record states it (from memory); the document asks for it anyway."""
    explosives = _explosives(case)
    masses = {c.index: (c, mass) for c in explosives if (mass := c.goods.net_explosive_mass) is not None}
    for content in explosives:
        mass = content.goods.net_explosive_mass
        if mass is None:
            yield caution(
                "explosive-mass-open",
                f"{content.described_as()}: the document states the net explosive mass, of articles without their "
                "cases; write net_explosive_mass",
                "ICAO TI 5;4.1.5.1",
            )
        elif is_mass(content.net) and to(mass, "kg") > to(content.net, "kg"):
            yield refuse(
                "explosive-mass-over-net",
                f"{content.described_as()}: {show(mass)} net explosive mass in {content.net_text} net; weigh again",
                "ICAO TI 5;4.1.5.1",
            )
    if not masses:
        yield Spares("the record states no net explosive mass; the net quantity stands on the package")
        return
    words: tuple[str, ...] = ("Net explosive mass", *(f"{c.number}: {show(mass)}" for c, mass in masses.values()))
    if len(case.contents) == 1:
        words = tuple(f"Net explosive mass {show(mass)}" for _, mass in masses.values())
    yield Needs("explosives by air (from memory)", words=words, group="hazard", goods=tuple(masses))


@check(modes=EVERY_MODE, concerns=lambda case: len({c.entry.compatibility for c in _explosives(case)}) > 1)
def compatibility_groups(case: Case) -> Iterator[Finding]:
    """Goods of different compatibility groups share a package only where a mixed packing provision lets them."""
    named = listed(f"{content.described_as()} ({content.entry.shown_class})" for content in _explosives(case))
    yield caution(
        "compatibility-groups",
        f"{named}: goods of different compatibility groups may share a package only where the mixed packing provision "
        "of each entry lets them, those of groups A and L never (from memory); this program does not decide it",
        _TOGETHER[case.mode],
    )
