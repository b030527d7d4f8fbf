"""The figures of special goods against the published text, transcribed by hand a second time; and what is made of them.

Lines of special.toml that are from memory are marked so there and have no counterpart here; every other line must.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marks.radioactive import category, written_index
from marks.tables import limit, table

DAY = date(2026, 11, 25)

#: subject, name, value, unit, paragraph.
FIGURES = (
    ("radioactive", "index_nought", "0.05", "of transport index", "49 CFR 172.403(c): measured 0.05 or less"),
    ("radioactive", "index_yellow_two", "1", "of transport index", "49 CFR 172.403(c)"),
    ("radioactive", "index_yellow_three", "10", "of transport index", "49 CFR 172.403(c)"),
    ("radioactive", "dose_white", "0.005", "mSv/h", "49 CFR 172.403(c): 0.5 mrem/h"),
    ("radioactive", "dose_yellow_two", "0.5", "mSv/h", "49 CFR 172.403(c): 50 mrem/h"),
    ("radioactive", "dose_yellow_three", "2", "mSv/h", "49 CFR 172.403(c): 200 mrem/h"),
    ("radioactive", "dose_most", "10", "mSv/h", "49 CFR 172.403(c): 1,000 mrem/h"),
    ("radioactive", "gross", "50", "kg", "49 CFR 172.310(a): 110 lb"),
    ("batteries", "cell_energy", "20", "Wh", "49 CFR 173.185(c)(1)(i)"),
    ("batteries", "battery_energy", "100", "Wh", "49 CFR 173.185(c)(1)(i)"),
    ("batteries", "cell_lithium", "1", "g", "49 CFR 173.185(c)(1)(ii)"),
    ("batteries", "battery_lithium", "2", "g", "49 CFR 173.185(c)(1)(ii)"),
    ("batteries", "gross", "30", "kg", "49 CFR 173.185(c)(1)(vii)"),
    ("batteries", "free_cells", "4", "cells", "49 CFR 173.185(c)(3)"),
    ("batteries", "free_batteries", "2", "batteries", "49 CFR 173.185(c)(3)"),
    ("batteries", "free_packages", "2", "packages", "49 CFR 173.185(c)(3)"),
    ("batteries", "with_equipment_net", "5", "kg", "49 CFR 173.185(c)(4)(vi)"),
    ("batteries", "alone_net_ion", "10", "kg", "49 CFR 173.185(c)(5)"),
    ("batteries", "alone_net_metal", "2.5", "kg", "49 CFR 173.185(c)(5)"),
    ("infectious", "package_air", "4", "L", "49 CFR 172.101 columns 9A and 9B of UN 3373"),
    ("infectious", "package_air_solid", "4", "kg", "49 CFR 172.101 columns 9A and 9B of UN 3373"),
    ("gases", "metal", "1000", "mL", "49 CFR 173.306(a)(3)(i): 1 L"),
)  # fmt: skip
#: 49 CFR 172.403(c), row by row: transport index and dose rate (mSv/h) at the row's upper ends, category.
ROWS = (("0", "0.005", "7-I"), ("1", "0.5", "7-II"), ("10", "2", "7-III"))
ORDER = ("7-I", "7-II", "7-III")


@pytest.mark.parametrize(("subject", "name", "value", "unit", "source"), FIGURES)
def test_a_figure_is_the_published_one(subject: str, name: str, value: str, unit: str, source: str) -> None:
    figure = limit(subject, name, DAY, "special")
    assert (figure.value, figure.unit) == (Decimal(value), unit), source


def test_every_line_that_is_not_from_memory_is_transcribed_here() -> None:
    there = {
        (subject, name)
        for subject, lines in table("special").items()
        if isinstance(lines, dict)
        for name, history in lines.items()
        if not history[0].get("memory")
    }
    assert there == {(subject, name) for subject, name, *_ in FIGURES}


def test_rows_of_days_say_that_they_are_from_memory() -> None:
    """No published text was read for them: each says so and names what it remembers."""
    rows = [row for lines in table("special").values() if isinstance(lines, list) for row in lines]
    assert rows and all(row["memory"] and "memory" in row["source"] for row in rows)


@pytest.mark.parametrize(("index", "dose", "label"), ROWS)
def test_the_rows_of_172_403(index: str, dose: str, label: str) -> None:
    assert category(Decimal(index), Decimal(dose), DAY).label == label
    assert not category(Decimal(index), Decimal(dose), DAY).exclusive


def test_the_worked_case_of_172_403_b() -> None:
    """An index of 0.8 with 0.6 mSv/h is III-YELLOW."""
    assert category(Decimal("0.8"), Decimal("0.6"), DAY).label == "7-III"


@pytest.mark.parametrize(("measured", "written"), [("1.13", "1.2"), ("0.05", "0"), ("0.051", "0.1"), ("3", "3.0")])
def test_an_index_is_rounded_up_to_one_decimal(measured: str, written: str) -> None:
    """ADR 5.1.5.3.1 (c), from memory, whose own case is 1.13 rounded up to 1.2."""
    assert written_index(Decimal(measured), DAY) == Decimal(written)


numbers = st.decimals(min_value=0, max_value=20, places=3)


@given(numbers, numbers, numbers, numbers)
def test_more_radiation_never_lowers_the_category(index: Decimal, dose: Decimal, more: Decimal, other: Decimal) -> None:
    """Sense of the rule, no source: the higher of two steps."""
    low, high = category(index, dose, DAY), category(index + more, dose + other, DAY)
    assert (ORDER.index(low.label), low.exclusive) <= (ORDER.index(high.label), high.exclusive)
