"""Counting in months."""

from __future__ import annotations

from datetime import date
from decimal import Decimal


def later(day: date, months: Decimal | int) -> date:
    """The same day of the month so many months on; the month's last day where it has no such day.

    >>> later(date(2024, 8, 31), 6)
    datetime.date(2025, 2, 28)
    """
    year, month = divmod(day.year * 12 + day.month - 1 + int(months), 12)
    for last in (day.day, 30, 29, 28):
        try:
            return date(year, month + 1, last)
        except ValueError:
            continue
    raise AssertionError("every month has 28 days")
