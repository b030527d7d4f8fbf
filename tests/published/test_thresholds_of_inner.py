"""What one inner packaging may hold by air and by US law: each figure from below, at it and from above.

Transcribed by hand from the paragraphs named; nothing here is read from the tables. Each row has goods of its kind, and
the answer of the whole decision must turn where the figure stands.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from marks.requirement import ModeDecision
from marks.tables import table
from marks.terms import Level, Mode
from tests.law_cases import LawCase, told

SIDES = (("below", Decimal("0.999"), False), ("at", Decimal(1), False), ("above", Decimal("1.001"), True))
AIR_TIGHT = {"absorbent": "full", "pressure_tested": "95 kPa"}

#: 49 CFR 173.27(f), Tables 1 and 2: aircraft, column 9A or 9B in L or kg above and up to, glass, metal or plastics, goods.
#: No liquid of the list has more than 60 L on passenger aircraft, so Table 1 over 60 L has none.
INNER_AIR: tuple[tuple[str, str, str, str, str, str, dict[str, Any]], ...] = (
    ("passenger", "L", "0", "0.5", "0.5", "0.5", {"un": 1221}),
    ("passenger", "L", "0.5", "1", "0.5", "1", {"un": 1125}),
    ("passenger", "L", "1", "5", "1", "5", {"un": 1090}),
    ("passenger", "L", "5", "60", "2.5", "10", {"un": 1104}),
    ("passenger", "kg", "0", "5", "0.5", "1", {"un": 1439}),
    ("passenger", "kg", "5", "25", "1", "2.5", {"un": 1312}),
    ("passenger", "kg", "25", "200", "5", "10", {"un": 1548}),
    ("cargo", "L", "0", "2.5", "1", "1", {"un": 1221}),
    ("cargo", "L", "2.5", "30", "2.5", "2.5", {"un": 1715}),
    ("cargo", "L", "30", "60", "5", "10", {"un": 1090}),
    ("cargo", "L", "60", "220", "5", "25", {"un": 1104}),
    ("cargo", "kg", "0", "15", "1", "1", {"un": 3270}),
    ("cargo", "kg", "15", "50", "2.5", "5", {"un": 1323}),
    ("cargo", "kg", "50", "200", "5", "10", {"un": 1548}),
)
#: The same tables, entries of class 9: kind of inner packaging, the most it may hold, goods.
CLASS_NINE = (
    ("glass bottle", "10 L", {"un": 3082, "technical_name": "permethrin"}),
    ("plastic canister", "30 L", {"un": 3082, "technical_name": "permethrin"}),
    ("steel can", "40 L", {"un": 3082, "technical_name": "permethrin"}),
    ("glass jar", "10 kg", {"un": 3077, "technical_name": "zinc oxide"}),
    ("fibre drum", "50 kg", {"un": 3077, "technical_name": "zinc oxide"}),
    ("plastic drum", "50 kg", {"un": 3077, "technical_name": "zinc oxide"}),
    ("metal can", "50 kg", {"un": 3077, "technical_name": "zinc oxide"}),
)  # fmt: skip

#: 49 CFR 173.150(b) to 173.155(b), 173.306: paragraph, what one inner packaging may hold, goods.
INNER_GROUND: tuple[tuple[str, str, dict[str, Any]], ...] = (
    ("173.150(b)(1)", "0.5 L", {"un": 1144}),
    ("173.150(b)(2)", "1 L", {"un": 1090}),
    ("173.150(b)(3)", "5 L", {"un": 1104}),
    ("173.151(b)(1)(i)", "1 kg", {"un": 1323}),
    ("173.151(b)(1)(ii)", "5 kg", {"un": 1312}),
    ("173.151(d)(1)", "0.5 kg", {"un": 1390}),
    ("173.151(d)(2)", "1 kg", {"un": 1403}),
    ("173.152(b)(1)", "1 L", {"un": 2428, "packing_group": "II"}),
    ("173.152(b)(1)", "1 kg", {"un": 1439}),
    ("173.152(b)(2)", "5 L", {"un": 2984}),
    ("173.152(b)(2)", "5 kg", {"un": 1438}),
    ("173.152(b)(3)(i)", "25 mL", {"un": 3103, "technical_name": "tert-butyl peroxybenzoate"}),
    ("173.152(b)(3)(i)", "100 g", {"un": 3104, "technical_name": "dibenzoyl peroxide"}),
    ("173.152(b)(3)(ii)", "125 mL", {"un": 3105, "technical_name": "methyl ethyl ketone peroxide"}),
    ("173.152(b)(3)(ii)", "500 g", {"un": 3106, "technical_name": "dibenzoyl peroxide"}),
    ("173.153(b)(1)", "250 mL", {"un": 1851, "packing_group": "II", "technical_name": "colchicine"}),
    ("173.153(b)(1)", "100 mL", {"un": 1547}),
    ("173.153(b)(1)", "0.5 kg", {"un": 1554}),
    ("173.153(b)(2)", "5 L", {"un": 1593}),
    ("173.153(b)(2)", "5 kg", {"un": 1548}),
    ("173.154(b)(1)", "1 L", {"un": 1830}),
    ("173.154(b)(1)", "1 kg", {"un": 1727}),
    ("173.154(b)(2)", "5 L", {"un": 1805}),
    ("173.154(b)(2)", "5 kg", {"un": 1907}),
    ("173.155(b)(1)", "1 L", {"un": 2315}),
    ("173.155(b)(1)", "1 kg", {"un": 3432}),
    ("173.155(b)(2)", "5 L", {"un": 3082, "technical_name": "permethrin"}),
    ("173.155(b)(2)", "5 kg", {"un": 3077, "technical_name": "zinc oxide"}),
    ("173.306(a)(3)(i)", "1 L", {"un": 1950, "line": 4, "net": "6 kg"}),
    ("173.306(a)(1)", "118.29411825 mL", {"un": 1011, "net": "0.5 kg"}),
)
#: 49 CFR 173.4a(b) to (d): packing group or division, inner and outer in mL or g, goods, unit.
EXCEPTED_GROUND: tuple[tuple[str, int, int, dict[str, Any], str], ...] = (
    ("6.1, I", 1, 300, {"un": 2811, "packing_group": "I", "technical_name": "aconitine"}, "g"),
    ("3, I", 30, 300, {"un": 1144}, "mL"),
    ("6.1, II", 1, 500, {"un": 1546}, "g"),
    ("3, II", 30, 500, {"un": 1090}, "mL"),
    ("3, III", 30, 1000, {"un": 1104}, "mL"),
)


def decided(mode: Mode, goods: dict[str, Any], **more: Any) -> ModeDecision:
    """The goods in a box, by one mode; more: other keys of a law case."""
    return LawCase("inner", "", "", {"goods": goods, mode.value: {}} | more).decision().modes[mode]


def refusals(one: ModeDecision) -> set[str]:
    return {finding.code for finding in one.findings if finding.level is Level.REFUSE}


@pytest.mark.parametrize("row", INNER_AIR, ids=lambda row: " ".join(row[:4]))
@pytest.mark.parametrize("of", ["glass bottle", "plastic bottle"])
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_by_air(row: Any, of: str, side: str, factor: Decimal, over: bool) -> None:
    """Over Table 1 the goods leave the passenger aircraft, over Table 2 they do not fly."""
    aircraft, unit, _, _, glass, other, goods = row
    value = Decimal(glass if of.startswith("glass") else other)
    inner = {"count": 1, "holds": f"{value * factor} {unit}", "of": of} | AIR_TIGHT
    one = decided(Mode.AIR, goods | {"inner": inner})
    if aircraft == "passenger":
        cargo_only = any(mark.mark == "cargo-aircraft-only" for mark in one.marks)
        assert (cargo_only or "air-over-limit" in refusals(one)) is over, told(one)
    else:
        assert refusals(one) == ({"air-over-limit"} if over else set()), told(one)


@pytest.mark.parametrize(("of", "most", "goods"), CLASS_NINE, ids=str)
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_class_nine_by_air(of: str, most: str, goods: dict[str, Any], side: str, factor: Decimal, over: bool) -> None:
    value, unit = most.split()
    inner = {"count": 1, "holds": f"{Decimal(value) * factor} {unit}", "of": of} | AIR_TIGHT
    package = {"spec_mark": "4G/X70/S/26/N/Fjellkasse", "gross_mass": "60 kg"}
    one = decided(Mode.AIR, goods | {"inner": inner}, package=package)
    assert refusals(one) == ({"air-over-limit"} if over else set()), told(one)


@pytest.mark.parametrize(("paragraph", "most", "goods"), INNER_GROUND, ids=str)
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_limited_by_us_law(
    paragraph: str, most: str, goods: dict[str, Any], side: str, factor: Decimal, over: bool
) -> None:
    value, unit = most.split()
    inner = {"count": 2, "holds": f"{Decimal(value) * factor} {unit}", "of": "metal can"}
    one = decided(Mode.US_GROUND, goods | {"ship_as": "limited", "inner": inner})
    found = refusals(one)
    assert found == ({"limited-inner-over"} if over else set()), f"49 CFR {paragraph}: {told(one)}"


@pytest.mark.parametrize("row", EXCEPTED_GROUND, ids=lambda row: row[0])
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_excepted_by_us_law(row: Any, side: str, factor: Decimal, over: bool) -> None:
    """49 CFR 173.4a(c): the inner packaging; (d): the package, by one inner packaging more or less."""
    _, inner, outer, goods, unit = row
    shipped = goods | {"ship_as": "excepted"}
    held = {"count": 2, "holds": f"{inner * factor} {unit}", "of": "glass bottle"}
    one = decided(Mode.US_GROUND, shipped | {"inner": held}, package={"gross_mass": "3 kg"})
    assert refusals(one) == ({"excepted-inner-over"} if over else set()), told(one)
    each = min(inner, 20)
    count = outer // each + {"below": -1, "at": 0, "above": 1}[side]
    held = {"count": count, "holds": f"{each} {unit}", "of": "glass bottle"}
    one = decided(Mode.US_GROUND, shipped | {"inner": held}, package={"gross_mass": "3 kg"})
    assert refusals(one) == ({"excepted-outer-over"} if over else set()), told(one)


def test_every_row_of_the_tables_has_its_goods() -> None:
    """A new row, or one whose figures change, fails here until it has cases."""
    rows = {
        (r["aircraft"], r["unit"], r["over"], r["up_to"], r["glass"], r["other"]) for r in table("inner_air")["row"]
    }
    assert rows - {row[:6] for row in INNER_AIR} == {("passenger", "L", "60", "220", "5", "25")}
    assert {row[:6] for row in INNER_AIR} <= rows
    paragraphs = {row["cite"].removeprefix("49 CFR ") for row in table("ground")["inner"]}
    assert paragraphs - {row[0] for row in INNER_GROUND} == {"173.151(b)(2)"}
