"""The table of ``figures``: every length the law fixes, in the finished SVG and PDF, to 0.05 mm."""

from __future__ import annotations

import pytest

from tests.draw.figures import Figure, table
from tests.draw.printed import PAPERS

TABLE = tuple(table())


def test_the_table_is_long_and_says_nothing_twice() -> None:
    """At least 80 figures, each with its paragraph."""
    assert len(TABLE) >= 80
    assert len({(one.mark, one.what, one.measures) for one in TABLE}) == len(TABLE)
    assert all(one.law for one in TABLE)


@pytest.mark.parametrize("made", PAPERS)
@pytest.mark.parametrize("one", TABLE, ids=lambda one: f"{one.mark}: {one.what}")
def test_finished_files_keep_to_the_law(one: Figure, made: str) -> None:
    value = one.measured(made)
    assert one.holds(value), f"{one.mark}, {one.what}: {value:.3f}; by {one.law} {one.least} to {one.most}"
