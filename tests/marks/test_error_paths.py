"""Answers to what is seldom asked: days no figure is held for, values made in Python, files full of faults. Promises of ours."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from marks.case import amount
from marks.errors import EditionNotHeld, RecordError, Unreadable
from marks.fields import Celsius, Month, Text
from marks.quantity import quantity, read_quantity
from marks.radioactive import activity_text
from marks.reading import read_text
from marks.tables import Table, limit


class Values(BaseModel):
    text: Text = ""
    month: Month = date(2026, 1, 1)
    celsius: Celsius = Decimal(0)


def test_a_day_before_the_first_figure_is_told_and_not_guessed() -> None:
    with pytest.raises(EditionNotHeld, match="the first day held is 2017-01-01"):
        limit("arrows", "absorbed", date(2016, 12, 31))


def test_a_table_with_a_heading_that_names_nothing_is_no_table() -> None:
    with pytest.raises(ValueError, match="names nothing"):
        Table("[ ]\nvalue = 1\n")


@pytest.mark.parametrize(
    ("values", "read"),
    [
        ({"text": 12}, {"text": "12"}),
        ({"month": date(2026, 5, 31)}, {"month": date(2026, 5, 1)}),
        ({"celsius": Decimal("21.5")}, {"celsius": Decimal("21.5")}),
        ({"celsius": "−5 °C"}, {"celsius": Decimal(-5)}),
    ],
)
def test_values_made_in_python_are_read_as_texts_are(values: dict[str, Any], read: dict[str, Any]) -> None:
    made = Values(**values)
    assert {key: getattr(made, key) for key in read} == read


@pytest.mark.parametrize("values", [{"text": True}, {"text": datetime(2026, 1, 1)}, {"month": "2026"}, {"celsius": 21}])
def test_and_refused_as_texts_are(values: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        Values(**values)


def test_an_amount_is_a_volume_or_a_mass() -> None:
    assert amount(quantity(500, "mL")) == (Decimal("0.5"), "L")
    with pytest.raises(ValueError, match="neither a volume nor a mass"):
        amount(quantity(5, "mm"))


def test_a_file_full_of_invisible_characters_is_told_ten_times_and_no_more() -> None:
    with pytest.raises(RecordError, match="it can't be seen") as told:
        read_text("record: sixface/1\n" + "x: \u202ea\n" * 30)
    assert len(told.value.faults) == 10


@pytest.mark.parametrize(
    ("text", "says"), [('{"modes": ["road",]}', "a comma before ]"), ('{"modes": ["road" "sea"]}', "belongs here")]
)
def test_json_with_a_comma_too_many_or_too_few(text: str, says: str) -> None:
    with pytest.raises(RecordError) as told:
        read_text(text, notation="json")
    assert says in str(told.value)


def test_a_quantity_of_another_kind_of_thing_is_unreadable() -> None:
    with pytest.raises(Unreadable, match="no unit known here"):
        read_quantity("3 parsec", "length")


@pytest.mark.parametrize(
    ("activities", "shown"),
    [
        (("2000 TBq",), "2 PBq"), (("999 TBq",), "999 TBq"), (("0.37 TBq",), "370 GBq"), (("1 GBq", "500 MBq"), "1.5 GBq"),
        (("1500 kBq",), "1.5 MBq"), (("1000 Bq",), "1 kBq"), (("999 Bq",), "999 Bq"), (("9 Bq",), "9 Bq"),
    ],
)  # fmt: skip
def test_activities_are_summed_and_shown_with_the_prefix_that_suits(activities: tuple[str, ...], shown: str) -> None:
    """SI prefixes (BIPM, The International System of Units, table 7)."""
    contents = [SimpleNamespace(goods=SimpleNamespace(activity=read_quantity(one, "activity"))) for one in activities]
    assert activity_text(contents) == shown  # type: ignore[arg-type]


def test_an_activity_that_is_not_said_has_no_sum() -> None:
    assert activity_text([SimpleNamespace(goods=SimpleNamespace(activity=None))]) is None  # type: ignore[list-item]
