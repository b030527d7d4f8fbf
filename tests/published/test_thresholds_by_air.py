"""Each figure of Table 3 (limited quantities by air), from below, at it and from above, through the whole decision.

The figures are those transcribed in test_limits.py from 49 CFR 173.27(f)(3); here each gets goods of its class, packing
group, state and subsidiary hazard, and the answer must turn where the figure stands.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import pytest

from marks.requirement import ModeDecision
from marks.terms import Level, Mode
from tests.law_cases import LawCase, told
from tests.published.test_limits import TABLE_3

#: Goods of each row: class, group, state, subsidiary hazard. No entry of 4.3 III has 3 alone beside it.
GOODS: dict[tuple[str, str, str | None, str | None], dict[str, Any]] = {
    ("3", "II", None, None): {"un": 1090},
    ("3", "II", None, "8"): {"un": 1125},
    ("3", "III", None, None): {"un": 1104},
    ("3", "III", None, "8"): {"un": 1198},
    ("3", "III", None, "6.1"): {"un": 2310},
    ("4.1", "II", None, None): {"un": 1323},
    ("4.1", "II", None, "6.1"): {"un": 2926, "packing_group": "II", "technical_name": "nitroaniline"},
    ("4.1", "III", None, None): {"un": 1312},
    ("4.1", "III", None, "8"): {"un": 2925, "packing_group": "III", "technical_name": "camphoric acid"},
    ("4.3", "II", "solid", None): {"un": 1390},
    ("4.3", "II", "solid", "6.1"): {"un": 3134, "packing_group": "II", "technical_name": "zinc ash"},
    ("4.3", "III", "solid", None): {"un": 1398},
    ("4.3", "III", "solid", "8"): {"un": 3131, "packing_group": "III", "technical_name": "zinc ash"},
    ("4.3", "III", "solid", "4.1"): {"un": 3132, "packing_group": "III", "technical_name": "zinc ash"},
    ("5.1", "II", "liquid", None): {"un": 2428, "packing_group": "II"},
    ("5.1", "III", "liquid", None): {"un": 2984},
    ("5.1", "II", "solid", None): {"un": 1439},
    ("5.1", "II", "solid", "6.1"): {"un": 1446},
    ("5.1", "III", "solid", None): {"un": 1438},
    ("5.1", "III", "solid", "8"): {"un": 1511},
    ("6.1", "II", "liquid", None): {"un": 1547},
    ("6.1", "II", "liquid", "8"): {"un": 2022},
    ("6.1", "III", "liquid", None): {"un": 1593},
    ("6.1", "II", "solid", None): {"un": 1554},
    ("6.1", "III", "solid", None): {"un": 1550},
    ("8", "II", "liquid", None): {"un": 1730},
    ("8", "III", "liquid", None): {"un": 1805},
    ("8", "II", "solid", None): {"un": 1727},
    ("8", "III", "solid", None): {"un": 1907},
}  # fmt: skip
NO_ENTRY = {("4.3", "III", "solid", "3")}
SIDES = (("below", Decimal("0.999"), False), ("at", Decimal(1), False), ("above", Decimal("1.001"), True))
Row = tuple[str, str, str | None, str | None]


def _rows() -> Iterator[tuple[Row, dict[str, str]]]:
    for hazard, group, state, glass, other, outer, lower in TABLE_3:
        held = {"glass": glass, "other": other, "outer": outer}
        yield (hazard, group, state, None), held
        for subsidiary, figures in lower.items():
            yield (hazard, group, state, subsidiary), held | figures


ROWS = dict(_rows())
WITH_GOODS = sorted(set(ROWS) - NO_ENTRY, key=str)


def decided(goods: dict[str, Any], **package: Any) -> ModeDecision:
    """The goods in a plain box by air."""
    given = {"goods": goods, "packed": "bare", "package": package, "air": {"must": ["x"]}}
    return LawCase("air", "", "", given).decision().modes[Mode.AIR]


def refusals(one: ModeDecision) -> set[str]:
    return {finding.code for finding in one.findings if finding.level is Level.REFUSE}


def test_every_row_of_table_3_has_goods() -> None:
    assert set(GOODS) == set(WITH_GOODS)


@pytest.mark.parametrize("row", WITH_GOODS, ids=str)
@pytest.mark.parametrize(("kind", "of"), [("glass", "glass bottle"), ("other", "plastic bottle")])
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_one_inner_packaging(row: Row, kind: str, of: str, side: str, factor: Decimal, over: bool) -> None:
    """49 CFR 173.27(f)(3), Table 3: the most one inner packaging may hold."""
    value, unit = ROWS[row][kind].split()
    inner = {"count": 1, "holds": f"{Decimal(value) * factor} {unit}", "of": of}
    one = decided(GOODS[row] | {"ship_as": "limited", "inner": inner})
    found = refusals(one)
    assert ("limited-inner-over" in found) is over, told(one)
    assert bool(found) is over, told(one)


@pytest.mark.parametrize("row", WITH_GOODS, ids=str)
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_one_package(row: Row, side: str, factor: Decimal, over: bool) -> None:
    """49 CFR 173.27(f)(3), Table 3: the most one package may hold, here in twenty parts."""
    value, unit = ROWS[row]["outer"].split()
    inner = {"count": 20, "holds": f"{Decimal(value) * factor / 20} {unit}", "of": "plastic bottle"}
    one = decided(GOODS[row] | {"ship_as": "limited", "inner": inner})
    assert refusals(one) == ({"limited-outer-over"} if over else set()), told(one)


#: Rows for single numbers: goods, figure of one inner packaging, of one package. UN 2071 is left out: the list has no limited
#: quantity for it, so it is refused whatever the quantity.
NUMBERS = (
    ({"un": 2430, "packing_group": "II", "technical_name": "nonylphenol"}, "0.5 kg", "1 kg"),
    ({"un": 1941}, "5 L", None),
    ({"un": 1990}, "5 L", None),
    ({"un": 3082, "technical_name": "permethrin"}, "5 L", None),
    ({"un": 3077, "technical_name": "zinc oxide"}, "5 kg", None),
)


@pytest.mark.parametrize(("goods", "inner", "outer"), NUMBERS, ids=lambda part: str(part))
@pytest.mark.parametrize(("side", "factor", "over"), SIDES)
def test_numbers_with_a_row_of_their_own(
    goods: dict[str, Any], inner: str, outer: str | None, side: str, factor: Decimal, over: bool
) -> None:
    """49 CFR 173.27(f)(3), Table 3: the inner packaging; the package by its net, or 30 kg gross."""
    value, unit = inner.split()
    shipped = goods | {"ship_as": "limited"}
    held = {"count": 1, "holds": f"{Decimal(value) * factor} {unit}", "of": "plastic bottle"}
    one = decided(shipped | {"inner": held})
    assert ("limited-inner-over" in refusals(one)) is over, told(one)
    if outer is None:
        held = {"count": 5, "holds": inner, "of": "plastic bottle"}
        one = decided(shipped | {"inner": held}, gross_mass=f"{30 * factor} kg")
        assert bool(refusals(one)) is over, told(one)
    else:
        total, unit = outer.split()
        held = {"count": 10, "holds": f"{Decimal(total) * factor / 10} {unit}", "of": "plastic bottle"}
        one = decided(shipped | {"inner": held})
        assert ("limited-outer-over" in refusals(one)) is over, told(one)
