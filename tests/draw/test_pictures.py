"""README's pictures; the contact sheets of labels and symbols are golden pictures, held to a threshold."""

from __future__ import annotations

import numpy as np
import pytest

from tests.desk.screenshots import VIEWS
from tests.pictures import FOLDER, PICTURES, ROOT

#: Every picture has the command that makes it: ``python -m tests.pictures`` or ``python -m tests.desk.screenshots``.
MADE = {*PICTURES, *(f"desk-{view}" for view in VIEWS)}


@pytest.mark.parametrize("name", ("labels", "symbols"))
def test_labels_and_symbols_look_as_when_they_were_last_looked_at(name: str) -> None:
    """Mean difference under 1 of 255, under 0.1 % of pixels off by more than 64. After a change that is meant: run
    ``python -m tests.pictures``, look at the pictures, commit them by themselves."""
    from PIL import Image

    held = np.asarray(Image.open(FOLDER / f"{name}.png").convert("RGB")).astype(int)
    drawn = np.asarray(PICTURES[name]()).astype(int)
    assert held.shape == drawn.shape, "run python -m tests.pictures and look"
    off = np.abs(held - drawn).max(axis=2)
    assert off.mean() < 1 and (off > 64).mean() < 0.001, "run python -m tests.pictures and look"


@pytest.mark.parametrize("name", sorted(MADE))
def test_every_picture_is_small_and_stands_in_readme(name: str) -> None:
    assert (FOLDER / f"{name}.png").stat().st_size < 300_000
    assert f"](examples/pictures/{name}.png)" in (ROOT / "README.md").read_text("utf-8")


def test_no_picture_is_left_over() -> None:
    assert {path.stem for path in FOLDER.iterdir()} == MADE
