"""Months are counted by the calendar: where a month has no such day, its last day is meant."""

from __future__ import annotations

from datetime import date

import pytest

from marks.dates import later


@pytest.mark.parametrize(
    "day, months, then",
    [
        ("2021-11-25", 60, "2026-11-25"), ("2026-08-31", 1, "2026-09-30"), ("2023-08-31", 6, "2024-02-29"),
        ("2024-08-31", 6, "2025-02-28"), ("2026-12-31", 12, "2027-12-31"), ("2026-11-30", 2, "2027-01-30"),
    ],
)  # fmt: skip
def test_so_many_months_on(day: str, months: int, then: str) -> None:
    """Proleptic Gregorian calendar, ISO 8601: 30 days have September, April, June and November, February 28 or 29."""
    assert later(date.fromisoformat(day), months) == date.fromisoformat(then)
