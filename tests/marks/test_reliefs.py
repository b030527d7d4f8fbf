"""What limited and excepted quantities read: limits as text, and the material of an inner packaging."""

from __future__ import annotations

from decimal import Decimal

import pytest

from marks.reliefs import amounts, breakable


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("1 L", [("1", "L")]),
        ("500 mL or 500 g", [("0.500", "L"), ("0.500", "kg")]),
        ("0.5 kg", [("0.5", "kg")]),
        ("0", []),
        ("See SP 251", []),
        ("", []),
    ],
)
def test_limits_are_read_in_litres_and_kilograms(text: str, read: list[tuple[str, str]]) -> None:
    assert [(one.value, one.unit) for one in amounts(text)] == [(Decimal(value), unit) for value, unit in read]


@pytest.mark.parametrize(
    "of",
    ["metal tin", "plastic bottle", "plastics bottle", "aluminium can", "HDPE bottle", "steel flask", "aerosol can",
     "PE bag"],
)  # fmt: skip
def test_metal_and_plastics_are_not_breakable(of: str) -> None:
    """49 CFR 173.27(f)(3): the column for metal and plastic; which words say so is our own choice."""
    assert not breakable(of)


@pytest.mark.parametrize(
    "of",
    ["glass bottle", "bottle", "vial", "earthenware jar", "fibre box", "glass bottle in a plastic bag",
     "canister of glass", "Satin flask", "scanned box", "paper bag", "porcelain jar in a tin"],
)  # fmt: skip
def test_what_is_not_plainly_metal_or_plastics_is_breakable(of: str) -> None:
    """The stricter column: 49 CFR 173.27(f)(3), glass, earthenware or fiber."""
    assert breakable(of)
