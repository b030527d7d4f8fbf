"""Figures of 49 CFR that the US highway turns on, at the figure and just over it.

Source: 49 CFR, US public law, in the sections each line names (texts of 2014 to 27 December 2022); from memory where it
says so.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from marks.decide import decide
from marks.reading import record_from
from marks.requirement import ModeDecision
from marks.terms import Level, Mode
from tests.law_cases import PACKED, RECORD

#: Limited quantities, 49 CFR 173.150(b) to 173.155(b) and 173.306(a): an entry of the class and packing group, what one
#: inner packaging may hold, the paragraph.
INNER = [
    ("1144", {}, "0.5 L", "173.150(b)(1)"),
    ("1090", {}, "1 L", "173.150(b)(2)"),
    ("1104", {}, "5 L", "173.150(b)(3)"),
    ("1323", {}, "1 kg", "173.151(b)(1)(i)"),
    ("1312", {}, "5 kg", "173.151(b)(1)(ii)"),
    ("1390", {}, "0.5 kg", "173.151(d)(1)"),
    ("1403", {}, "1 kg", "173.151(d)(2)"),
    ("3149", {}, "1 L", "173.152(b)(1)"),
    ("1439", {}, "1 kg", "173.152(b)(1)"),
    ("2984", {}, "5 L", "173.152(b)(2)"),
    ("1438", {}, "5 kg", "173.152(b)(2)"),
    ("3101", {"technical_name": "named"}, "25 mL", "173.152(b)(3)(i)"),
    ("3104", {"technical_name": "named"}, "100 g", "173.152(b)(3)(i)"),
    ("3105", {"technical_name": "named"}, "125 mL", "173.152(b)(3)(ii)"),
    ("3110", {"technical_name": "named"}, "500 g", "173.152(b)(3)(ii)"),
    ("1547", {}, "100 mL", "173.153(b)(1)"),
    ("1546", {}, "0.5 kg", "173.153(b)(1)"),
    ("1851", {"packing_group": "II", "technical_name": "named"}, "250 mL", "173.153(b)(1)"),
    ("1591", {}, "5 L", "173.153(b)(2)"),
    ("1548", {}, "5 kg", "173.153(b)(2)"),
    ("1716", {}, "1 L", "173.154(b)(1)"),
    ("1725", {}, "1 kg", "173.154(b)(1)"),
    ("1805", {}, "5 L", "173.154(b)(2)"),
    ("1773", {}, "5 kg", "173.154(b)(2)"),
    ("2315", {}, "1 L", "173.155(b)(1)"),
    ("3432", {}, "1 kg", "173.155(b)(1)"),
    ("1990", {}, "5 L", "173.155(b)(2)"),
    ("3077", {"technical_name": "named"}, "5 kg", "173.155(b)(2)"),
    ("1950", {"line": 4, "net": "1 kg"}, "1 L", "173.306(a)(3)(i)"),
    ("1011", {"net": "0.2 kg"}, "4 US fl oz", "173.306(a)(1)"),
]

#: Excepted quantities, 49 CFR 173.4a(c) and (d): mL or g in an inner packaging and in a package.
EXCEPTED = [
    ("1104", "mL", 30, 1000, "packing group III"),
    ("1090", "mL", 30, 500, "packing group II"),
    ("1144", "mL", 30, 300, "packing group I"),
    ("1921", "mL", 1, 300, "class 3, packing group I, toxic as subsidiary hazard"),
    ("1445", "g", 1, 500, "division 5.1, packing group II, toxic as subsidiary hazard"),
    ("1546", "g", 1, 500, "toxic, packing group II"),
    ("1565", "g", 1, 300, "toxic, packing group I"),
    ("1548", "g", 30, 1000, "toxic, packing group III"),
    ("1006", "mL", 30, 1000, "division 2.2"),
]

#: 49 CFR 171.8: from which per cent by weight a mixture counts, by reportable quantity.
SHARES = [("5000 lb", "10"), ("1000 lb", "2"), ("100 lb", "0.2"), ("10 lb", "0.02"), ("1 lb", "0.002")]
#: The same quantities in kilograms, as 171.8 prints them.
IN_KILOGRAMS = [("2270 kg", "10"), ("454 kg", "2"), ("45.4 kg", "0.2"), ("4.54 kg", "0.02"), ("0.454 kg", "0.002")]

#: 49 CFR 173.24a(b)(1): mark, an entry of packing group II (1090) or III (1104), the greatest density.
DENSITIES = [
    ("1A1/X/150", "1090", "1.8"),
    ("1A1/X1.0/150", "1090", "1.8"),
    ("1A1/X1.0/150", "1104", "2.7"),
    ("1A1/Y1.0/150", "1104", "1.8"),
    ("1A1/X1.4/150", "1090", "2.1"),
    ("1A1/X/150", "1104", "2.7"),
    ("1A1/X1.4/150", "1104", "3.15"),
    ("1A1/Y/150", "1090", "1.2"),
    ("1A1/Y/150", "1104", "1.8"),
    ("1A1/Y1.4/150", "1104", "2.1"),
    ("1A1/Z1.4/150", "1104", "1.4"),
]


def by_us_law(goods: dict[str, Any], packed: str = "box", **package: Any) -> ModeDecision:
    one = PACKED[packed] | {"package": "A", "goods": [goods]} | package
    return decide(record_from(RECORD | {"modes": ["us-ground"], "packages": [one]})).packages[0].modes[Mode.US_GROUND]


def refusals(decided: ModeDecision) -> set[str]:
    return {one.code for one in decided.findings if one.level is Level.REFUSE}


def inner(count: int, holds: str) -> dict[str, Any]:
    return {"inner": {"count": count, "holds": holds, "of": "metal can"}}


@pytest.mark.parametrize(("un", "keys", "limit", "paragraph"), INNER, ids=[f"{un}: {text}" for un, _, text, _ in INNER])
def test_limited_quantities(un: str, keys: dict[str, Any], limit: str, paragraph: str) -> None:
    value, unit = limit.split(" ", 1)
    over = f"{Decimal(value) * Decimal('1.001')} {unit}"
    for holds, refused in ((limit, set()), (over, {"limited-inner-over"})):
        decided = by_us_law({"un": un, "ship_as": "limited"} | keys | inner(1, holds))
        assert refusals(decided) == refused, holds
        cited = {cite for one in decided.findings if one.level is Level.REFUSE for cite in one.cite}
        assert not refused or f"49 CFR {paragraph}" in cited


@pytest.mark.parametrize(("un", "unit", "most", "together", "why"), EXCEPTED, ids=[line[-1] for line in EXCEPTED])
def test_excepted_quantities(un: str, unit: str, most: int, together: int, why: str) -> None:
    """``why`` says which line of 173.4a(c) and (d) the entry falls under."""
    count, rest = divmod(together, most)
    assert why and (rest == 0 or together - count * most < most)

    def shipped(number: int, holds: str) -> set[str]:
        return refusals(by_us_law({"un": un, "ship_as": "excepted"} | inner(number, holds)))

    assert shipped(1, f"{most} {unit}") == set()
    assert shipped(1, f"{most}.01 {unit}") == {"excepted-inner-over"}
    assert shipped(together, f"1 {unit}") == set()
    assert shipped(together + 1, f"1 {unit}") == {"excepted-outer-over"}


@pytest.mark.parametrize(("rq", "percent"), SHARES + IN_KILOGRAMS, ids=[rq for rq, _ in SHARES + IN_KILOGRAMS])
def test_a_mixture_is_a_hazardous_substance_from_its_share_on(rq: str, percent: str) -> None:
    under = Decimal(percent) * Decimal("0.999")
    for share, asked in ((percent, True), (f"{under:f}", False)):
        said = {"name": "Example", "rq": rq, "mass": "2300 kg", "percent": share}
        decided = by_us_law(
            {
                "un": "1263",
                "name": "PAINT",
                "packing_group": "III",
                "line": 4,
                "net": "200 L",
                "hazardous_substance": said,
            },
            "drum",
        )
        assert any(one.mark == "reportable-quantity" for one in decided.marks) is asked


@pytest.mark.parametrize(("mark", "un", "most"), DENSITIES, ids=[f"{mark} with {un}" for mark, un, _ in DENSITIES])
def test_density_in_a_packaging_of_a_higher_letter(mark: str, un: str, most: str) -> None:
    over = f"{Decimal(most) + Decimal('0.01')}"
    for density, refused in ((most, set()), (over, {"density-over"})):
        decided = by_us_law({"un": un, "net": "200 L", "density": density}, "drum", spec_mark=f"{mark}/26/USA/M4411")
        assert refusals(decided) == refused, density


def test_poison_on_plastics_is_6_3_mm_high_within_150_mm_of_the_closure() -> None:
    """49 CFR 172.313(b), from memory."""
    decided = by_us_law({"un": "1593", "net": "20 L"}, "jerrican")
    assert [one.measures["lettering"] for one in decided.marks if one.mark == "poison"] == [Decimal("6.3")]
    assert any("150 mm" in one.text for one in decided.findings if one.code == "poison-not-permanent")


@pytest.mark.parametrize(
    ("height", "sides"), [("1499 mm", "one"), ("1500 mm", "two-opposite"), ("1501 mm", "two-opposite")]
)
def test_a_package_of_1_8_m3_bears_its_labels_twice(height: str, sides: str) -> None:
    """49 CFR 172.406(e)(1): 1.8 m3 (64 ft3) or more."""
    size = {"length": "1200 mm", "width": "1000 mm", "height": height}
    decided = by_us_law({"un": "2211", "net": "20 kg"}, size=size)
    assert {one.where.value for one in decided.marks if one.mark == "hazard-label"} == {sides}
