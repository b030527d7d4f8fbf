"""Specification marks of IBCs and large packagings: the worked examples of the published text, and what can't be one."""

from __future__ import annotations

from decimal import Decimal

import pytest

from marks.bulk_mark import BulkMark
from marks.errors import Unreadable

# The examples of UN Model Regulations 6.5.2.1.3 and 6.6.3.2, from memory:
# text, code, performance, month, year, state, maker, stacking load, gross mass.
PUBLISHED = [
    ("11A/Y/02 99/NL/Mulder 007/5500/1500", "11A", "Y", 2, 99, "NL", "Mulder 007", 5500, 1500),
    ("13H3/Z/03 01/F/Meunier 1713/0/1500", "13H3", "Z", 3, 1, "F", "Meunier 1713", 0, 1500),
    ("31H1/Y/04 99/GB/9099/10800/1200", "31H1", "Y", 4, 99, "GB", "9099", 10800, 1200),
    ("31HA1/Y/05 01/D/Muller 1683/10800/1200", "31HA1", "Y", 5, 1, "D", "Muller 1683", 10800, 1200),
    ("11C/X/01 02/S/Aurigny 9876/3000/910", "11C", "X", 1, 2, "S", "Aurigny 9876", 3000, 910),
    ("50A/X/05 01/N/PQRS 2500/1000", "50A", "X", 5, 1, "N", "PQRS", 2500, 1000),
    ("50AT/Y/05/01/B/PQRS 2500/1000", "50AT", "Y", 5, 1, "B", "PQRS", 2500, 1000),
    ("50H/Y04 02/D/ABCD 987 0/800", "50H", "Y", 4, 2, "D", "ABCD 987", 0, 800),
    ("51H/Z/06/01/S/1999 0/500", "51H", "Z", 6, 1, "S", "1999", 0, 500),
]  # fmt: skip


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row[0])
def test_published_marks(row: tuple) -> None:
    text, code, performance, month, year, state, maker, stacking, gross = row
    mark = BulkMark.parse(text)
    assert (mark.code, mark.performance, mark.month, mark.year) == (code, performance, month, year)
    assert (mark.state, mark.maker) == (state, maker)
    assert (mark.stacking_kg, mark.gross_kg) == (Decimal(stacking), Decimal(gross))
    assert BulkMark.parse(f"UN {text}").code == code


def test_groups_covered() -> None:
    """X covers I, II and III; Y covers II and III; Z covers III (UN Model Regulations 6.5.2.1.1 (c), from memory)."""
    covered = {
        letter: [g for g in ("I", "II", "III") if BulkMark.parse(f"11A/{letter}/02 26/N/M/0/900").allows_group(g)]
        for letter in "XYZ"
    }
    assert covered == {"X": ["I", "II", "III"], "Y": ["II", "III"], "Z": ["III"]}


@pytest.mark.parametrize(
    ("text", "element"),
    [
        ("4G/Y/02 26/N/M/0/900", "packaging code"),
        ("99A/Y/02 26/N/M/0/900", "packaging code"),
        ("31A/Q/02 26/N/M/0/900", "performance"),
        ("31A/Y1.4/02 26/N/M/0/900", "date of making"),
        ("31A/Y/13 26/N/M/0/900", "date of making"),
        ("31A/Y/2026/N/M/0/900", "date of making"),
        ("31A/Y/02 26/Norway/M/0/900", "state"),
        ("31A/Y/02 26/N/M/900", "masses"),
        ("31A/Y/02 26/N/M/900/0", "masses"),
        ("31A/Y/02 26/N/0/900", "masses"),
        ("31A/Y/02 26/N/ /0/900", "masses"),
        ("31A", "performance"),
    ],
)
def test_what_can_not_stand_is_named(text: str, element: str) -> None:
    with pytest.raises(Unreadable) as refused:
        BulkMark.parse(text)
    assert element in refused.value.read and refused.value.write
