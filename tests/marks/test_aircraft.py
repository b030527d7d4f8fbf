"""The columns of the aircraft limits as they are written, and the arithmetic of mixed packages."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from marks.aircraft import as_text, over_lowest, read_limit, sum_of_parts
from marks.goods.lookup import every
from marks.reliefs import Amount

LITRES = Decimal(1), Amount(Decimal(3), "L", "3 L")


@pytest.mark.parametrize(
    ("text", "kind", "amounts", "strict"),
    [
        ("5 L", "amount", [("5", "L")], False),
        ("0.5 kg", "amount", [("0.5", "kg")], False),
        ("30 kg gross", "gross", [("30", "kg")], False),
        ("50 mL or 50 g", "amount", [("0.050", "L"), ("0.050", "kg")], False),
        ("less than 0.1 kg", "amount", [("0.1", "kg")], True),
        ("No limit", "unlimited", [], False),
        ("Forbidden", "forbidden", [], False),
        ("See A105", "unclear", [], False),
        ("", "unclear", [], False),
    ],
)
def test_every_way_the_table_writes_a_limit(text: str, kind: str, amounts: list[tuple[str, str]], strict: bool) -> None:
    """49 CFR 172.101 columns 9A and 9B: its own ways of writing."""
    limit = read_limit(text)
    assert (limit.kind, limit.strict) == (kind, strict)
    assert [(one.value, one.unit) for one in limit.amounts] == [(Decimal(value), unit) for value, unit in amounts]


def test_no_limit_of_the_list_is_unclear_but_those_known() -> None:
    written = {text for entry in every() for text in (entry.passenger, entry.cargo)}
    assert {text for text in written if read_limit(text).kind == "unclear"} == {"", "See A105"}


def test_parts_are_summed_exactly() -> None:
    """ICAO TI 4;1.1.9, from memory: three thirds are one."""
    assert sum_of_parts([LITRES] * 3) == 1
    assert sum_of_parts([LITRES] * 3 + [(Decimal("0.001"), LITRES[1])]) > 1


@pytest.mark.parametrize(
    ("q", "text"), [(Fraction(1), "1.00"), (Fraction(10001, 10000), "1.01"), (Fraction(1, 3), "0.34")]
)
def test_a_sum_over_one_reads_as_over_one(q: Fraction, text: str) -> None:
    assert as_text(q) == text


def test_the_lowest_limit_speaks_of_several_goods_in_one_unit_alone() -> None:
    """49 CFR 173.24a(c)(1)(iv)."""
    small, large = Amount(Decimal(1), "L", "1 L"), Amount(Decimal(5), "L", "5 L")
    mass = Amount(Decimal(5), "kg", "5 kg")
    half = Decimal("0.5")
    assert over_lowest([(half, small), (Decimal(2), large)]) == "1 L"
    assert over_lowest([(half, small), (half, large)]) == ""
    assert over_lowest([(half, small), (Decimal(2), mass)]) == ""
    assert over_lowest([(Decimal(2), small)]) == ""
