"""Specimens: every mark there is artwork for has its page, and the arrows on it say what is really there."""

from __future__ import annotations

import io
import re
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from layouts.artwork.catalogue import FAMILIES
from layouts.draw import to_pdf
from layouts.probe import BoundsPen, RecordingPen
from layouts.sheet import Sheet
from layouts.specimens import LABELS, last_day, make_specimens, specimen_sheets, specimens
from tests.draw.measure import read_pdf

HAZARD = "Hazard label "


@cache
def pages() -> tuple[Sheet, ...]:
    return specimen_sheets()[0]


def test_every_mark_has_a_specimen_and_none_is_shown_twice() -> None:
    shown = [s.mark for s in specimens(last_day())]
    assert set(shown) == set(FAMILIES)
    assert len(shown) - shown.count("hazard-label") == len(FAMILIES) - 1
    assert len(set(LABELS)) == len(LABELS)


def test_the_21_hazard_label_designs_are_among_them() -> None:
    """The designs of UN Model Regulations 5.2.2.2.2 (from memory): 1.1 to 1.3 and the plain 1 share one."""
    designs = {"1" if v[:3] in ("1", "1.1", "1.2", "1.3") else v[:3] if v[0] == "1" else v for v in LABELS}
    # 21, fissile material beside the three categories, and US law's two for what is poisonous by inhalation
    assert len(designs) == 24


def test_everything_on_a_page_stays_on_the_paper_and_off_the_foot() -> None:
    for sheet in pages():
        pen = BoundsPen()
        for call in sheet.around:
            call.onto(pen)
        assert sheet.page.area.grown(0.5).contains(pen.box), sheet.page.title


@pytest.mark.parametrize("title", ("Hazard label 3", "Hazard label 7-III", "Cargo aircraft only", "Battery"))
def test_arrows_say_what_a_ruler_finds(title: str) -> None:
    """The length between the heads of a long arrow, measured in the finished PDF, is the figure written beside it."""
    number = next(n for n, sheet in enumerate(pages()) if sheet.page.title == title)
    paper = read_pdf(to_pdf(pages(), title="t"), number)
    said = {
        float(m[2]): m[1]
        for text in paper.texts()
        if (m := re.fullmatch(r"(side|width|height) (\d+(?:\.\d+)?) mm", text))
    }
    assert said
    thin = [s for s, w, _ in paper.strokes if w == pytest.approx(0.2, abs=0.005) and len(s) == 2]
    lengths = [((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in thin]
    for value in said:
        assert any(length == pytest.approx(value, abs=0.05) for length in lengths), (title, value)


def test_every_page_names_its_paragraph_and_its_inks() -> None:
    for sheet in pages():
        pen = RecordingPen()
        for call in sheet.around:
            call.onto(pen)
        said = " ".join(pen.texts)
        assert re.search(r"ADR|IMDG|ICAO|CFR|no rule held", said), sheet.page.title
        assert "inks" in pen.texts


def test_files_are_written_and_read_again(tmp_path: Path) -> None:
    seen: list[tuple[int, int, str]] = []
    written = list(make_specimens(tmp_path / "new", progress=lambda *told: seen.append(told)))
    assert {p.name for p in written} == {p.name for p in (tmp_path / "new").iterdir()}
    assert len(PdfReader(io.BytesIO((tmp_path / "new" / "specimens.pdf").read_bytes())).pages) == len(pages())
    assert [done for done, _, _ in seen] == sorted(done for done, _, _ in seen)
    assert seen[-1][0] == seen[-1][1]
