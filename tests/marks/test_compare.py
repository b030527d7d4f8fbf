"""The modes side by side, and the quantities at which an answer turns."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from marks.compare import Comparison, compare, ladder_lines
from marks.reading import record_from
from marks.tables import editions
from marks.terms import Mode, VerdictWord
from tests.law_cases import PACKED, RECORD


def compared(goods: dict[str, Any], modes: tuple[str, ...] = ("road",), **package: Any) -> Comparison:
    box = PACKED["box"] | {"package": "A", "goods": [goods]} | package
    return compare(record_from(RECORD | {"modes": list(modes), "packages": [box]}))


ISOPROPANOL = {"un": "1219", "name": "ISOPROPANOL", "inner": {"count": 6, "holds": "1 L", "of": "glass bottle"}}


def test_every_mode_that_is_held_is_compared_whatever_the_record_asks() -> None:
    (package,) = compared(ISOPROPANOL).packages
    assert set(package.verdicts) == set(editions())
    assert package.verdicts[Mode.ROAD] is VerdictWord.SHIP


def test_a_row_says_for_each_mode_whether_and_why() -> None:
    (package,) = compared(ISOPROPANOL).packages
    rows = {(row.mark, row.variant): row for row in package.rows}
    name = rows["proper-shipping-name", None]
    assert name.differs and name.cells[Mode.SEA].asked and not name.cells[Mode.ROAD].asked
    assert name.cells[Mode.ROAD].why and name.cells[Mode.ROAD].cite
    assert rows["cargo-aircraft-only", None].cells[Mode.AIR].asked
    assert not rows["hazard-label", "3"].differs


def test_the_ladder_names_the_published_quantities_and_the_place_of_the_package() -> None:
    """UN 1219: E2, 30 and 500 mL (49 CFR 173.4a); by air 0.5 L and 1 L (173.27(f)(3)); 1 L (ADR 2017 Table A, 7a);
    5 L and 60 L (49 CFR 172.101 columns 9A and 9B)."""
    (package,) = compared(ISOPROPANOL).packages
    (ladder,) = package.ladders
    rungs = {(rung.label, rung.per): rung.value for rung in ladder.rungs}
    assert rungs["excepted quantity E2", "inner"] == Decimal("0.03")
    assert rungs["excepted quantity E2", "package"] == Decimal("0.5")
    assert rungs["limited quantity by air", "inner"] == Decimal("0.5")
    assert rungs["limited quantity by air", "package"] == 1
    assert rungs["limited quantity, road and sea", "inner"] == 1
    assert rungs["passenger aircraft", "package"] == 5
    assert rungs["cargo aircraft", "package"] == 60
    assert (ladder.inner, ladder.package) == (1, 6)
    assert [rung.value for rung in ladder.rungs] == sorted(rung.value for rung in ladder.rungs)
    lines = ladder_lines(ladder)
    here = next(i for i, line in enumerate(lines) if "whole package" in line)
    assert any("passenger aircraft" in line for line in lines[:here])
    assert any("cargo aircraft" in line for line in lines[here:])


def test_a_refused_mode_is_compared_too() -> None:
    goods = {"un": "1131", "inner": {"count": 1, "holds": "100 mL", "of": "glass bottle"}}
    (package,) = compared(goods).packages
    assert package.verdicts[Mode.AIR] is VerdictWord.REFUSE and package.verdicts[Mode.SEA] is VerdictWord.SHIP
