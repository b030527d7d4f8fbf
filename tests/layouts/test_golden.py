"""The golden diagrams: each form of package, each mix of modes. They look as when they were last looked at; the figures
printed on the finished page are the distances that a ruler finds on it; no word stands on another."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

import pytest

from layouts import letters
from layouts.draw import to_svg
from layouts.probe import Begin, End, Text
from layouts.sheet import Sheet
from tests.draw.measure import Paint, read_svg
from tests.layouts.golden.make import DPI, FOLDER, pages, picture, planned, records

NAMES = tuple(records())
Rect = tuple[float, float, float, float]


def test_there_are_twelve_of_every_form_and_every_picture_has_its_record() -> None:
    assert len(NAMES) == 12
    assert {path.stem for path in FOLDER.glob("*.png")} == set(NAMES)
    forms = {one.solid.form.value for name in NAMES for one in planned(name).placements}
    assert forms == {"box", "drum", "jerrican", "bag", "cylinder", "ibc", "irregular"}
    mixes = {frozenset(planned(name).record.modes) for name in NAMES}
    assert len(mixes) >= 8
    assert all(f"## {name}\n" in (FOLDER / "STRANGER.md").read_text("utf-8") for name in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_it_looks_as_when_it_was_last_looked_at(name: str) -> None:
    """At 72 dpi: mean difference under 2 of 255, under 0.3 % of pixels off by more than 96; the pictures are kept in 32
    colours. After a change that is meant: ``python -m tests.layouts.golden.make``, look, commit them by themselves."""
    import numpy as np
    from PIL import Image

    held = np.asarray(Image.open(FOLDER / f"{name}.png").convert("RGB")).astype(int)
    drawn = np.asarray(picture(name)).astype(int)
    assert held.shape == drawn.shape and DPI == 72
    off = np.abs(held - drawn).max(axis=2)
    assert off.mean() < 2 and (off > 96).mean() < 0.003, (
        f"{off.mean():.2f}, {(off > 96).mean():.4f}: make anew and look"
    )


# --- distances, by ruler ---------------------------------------------------------------------------------------------


class Face(NamedTuple):
    """A drawn face as a reader finds it on paper, mm: its outline's box; scale and height as they are printed beside it;
    marks: their boxes by number."""

    name: str
    box: Rect
    scale: float
    height: float
    marks: dict[int, Rect]


def around(paints: list[Paint]) -> Rect:
    x0, y0, x1, y1 = zip(*(paint.box for paint in paints), strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def marks_in(paints: list[Paint], depth: int) -> dict[int, Rect]:
    found: dict[int, list[Paint]] = {}
    for paint in paints:
        if len(paint.where) > depth and (number := re.match(r"(\d+): ", paint.where[depth])):
            found.setdefault(int(number[1]), []).append(paint)
    return {number: around(mine) for number, mine in found.items()}


def faces_of(sheet: Sheet, printed: list[tuple[str, Rect]]) -> Iterator[Face]:
    """The faces drawn large, from the finished SVG; edges are the middle of strokes 0.5 mm wide."""
    paper = read_svg(to_svg(sheet))
    for title in dict.fromkeys(w for paint in paper.paints for w in paint.where if re.match(r"Face \w+, scale", w)):
        mine = [paint for paint in paper.paints if title in paint.where]
        depth = mine[0].where.index(title) + 1
        lines = [p for p in mine if len(p.where) == depth and not p.text and p.colour == "#000000" and _is_edge(p.box)]
        x0, y0, x1, y1 = around(lines)
        box = (x0 + 0.25, y0 + 0.25, x1 - 0.25, y1 - 0.25)
        name = title.split()[1].rstrip(",")
        above = [text for text, (x, y, _, _) in printed if 0 < y - box[3] < 3.5 and box[0] - 1 < x < box[2] + 60]
        read = re.search(r"[\d.]+×([\d.]+),1:([\d.]+)", " ".join(above))
        assert read, above
        yield Face(name, box, float(read[2]), float(read[1]), marks_in(mine, depth))


def _is_edge(box: Rect) -> bool:
    wide, high = box[2] - box[0], box[3] - box[1]
    return max(wide, high) > 8 and (0.49 < min(wide, high) < 0.51 or min(wide, high) > 8)


def printed_on(sheet: Sheet) -> list[tuple[str, Rect]]:
    """Every text of the finished SVG, without its spaces, and where its letters stand."""
    return [(paint.text, paint.box) for paint in read_svg(to_svg(sheet)).paints if paint.text]


@pytest.mark.parametrize("name", NAMES)
def test_the_figures_of_every_large_view_are_its_distances_within_half_a_millimetre_of_the_package(name: str) -> None:
    sheet = pages(name)[0]
    printed = printed_on(sheet)
    faces = list(faces_of(sheet, printed))
    assert faces
    figures = [(float(text), box) for text, box in printed if re.fullmatch(r"\d+(\.\d)?", text)]
    for face in faces:
        x0, y0, _, y1 = face.box
        below = {
            v: (b[0] + b[2]) / 2 for v, b in figures if 2 < y0 - b[3] < 6 and b[2] > x0 - 8 and b[0] < face.box[2] + 8
        }
        beside = [v for v, b in figures if 2 < x0 - b[2] < 4 and y0 - 6 < b[1] < y1 + 6]
        assert face.marks
        for x, y, _, _ in face.marks.values():
            across, up = (x - x0) * face.scale, face.height - (y1 - y) * face.scale
            assert min(abs(value - across) for value in below) <= 0.5, (face.name, across, below)
            assert min(abs(value - up) for value in beside) <= 0.5, (face.name, up, beside)
        for value in below:  # and no figure without its mark
            assert min(abs((x - x0) * face.scale - value) for x, _, _, _ in face.marks.values()) <= 0.5
        for value in beside:
            ups = [face.height - (y1 - y) * face.scale for _, y, _, _ in face.marks.values()]
            assert min(abs(up - value) for up in ups) <= 0.5


@pytest.mark.parametrize("name", NAMES)
def test_the_figures_of_the_net_are_its_distances_within_half_a_millimetre_of_the_package(name: str) -> None:
    """Of the faces that are drawn in the net alone. A net's faces are outlined by the first line of their group."""
    sheet = pages(name)[0]
    paper, printed = read_svg(to_svg(sheet)), printed_on(sheet)
    large = {face.name for face in faces_of(sheet, printed)}
    large |= {w.lower() for text, _ in printed if "thesame" in text for w in re.findall(r"[A-Z]{3,}", text)}
    nets = [w for paint in paper.paints for w in paint.where if w.startswith("Net of ")]
    for net in dict.fromkeys(nets):
        mine = [paint for paint in paper.paints if net in paint.where]
        depth = mine[0].where.index(net) + 1
        scale = float(net.rpartition("1 : ")[2])
        boxes = {}
        for title in dict.fromkeys(
            w for paint in mine for w in paint.where[depth:] if re.match(r"Face \w+, (ISO|no)", w)
        ):
            x0, y0, x1, y1 = around([paint for paint in mine if title in paint.where])
            boxes[title.split()[1].rstrip(",")] = (x0, y0, x1, y1)
        rim = {
            i.number: 0.65 for i in planned(name).placements[-1].items if i.there
        }  # drawn round what is there already
        for number, found in marks_in(mine, depth).items():
            by = rim.get(number, 0.0)
            mark = (found[0] + by, found[1] + by, found[2] - by, found[3] - by)
            (face,) = [
                f
                for f, b in boxes.items()
                if b[0] < (mark[0] + mark[2]) / 2 < b[2] and b[1] < (mark[1] + mark[3]) / 2 < b[3]
            ]
            if face in large:
                continue
            x0, y0, _, y1 = boxes[face]
            line = 0.125  # half of what the edge of a face is wide on paper
            across, up = (mark[0] - x0 - line) * scale, (mark[1] - y0 - line) * scale
            below = [
                float(t)
                for t, b in printed
                if re.fullmatch(r"[\d.]+", t) and 2 < y0 - b[3] < 6 and abs(b[0] - mark[0]) < 8
            ]
            beside = [
                float(t) for t, b in printed if re.fullmatch(r"[\d.]+", t) and 2 < x0 - b[2] < 5 and y0 - 6 < b[1] < y1
            ]
            slack = 0.5 + 0.06 * scale  # a mark's hairline runs 0.06 mm of paper beyond it
            assert min(abs(value - across) for value in below) <= slack, (face, across, below)
            assert min(abs(value - up) for value in beside) <= slack, (face, up, beside)


# --- what can be read ------------------------------------------------------------------------------------------------


class Line(NamedTuple):
    """A line of text of a drawing: its box and the height of its capitals, mm; within: the groups it lies in."""

    words: str
    box: Rect
    cap: float
    within: tuple[str, ...]

    def lies_in(self, *starts: str) -> bool:
        return any(one.startswith(starts) for one in self.within)


def lines_of(sheet: Sheet) -> Iterator[Line]:
    within: list[str] = []
    for call in sheet.around:
        if isinstance(call, Begin):
            within.append(call.ident)
        elif isinstance(call, End):
            within.pop()
        elif isinstance(call, Text) and call.text.strip():
            cap = call.size * letters.cap_height(call.font)
            wide = letters.width(call.text, call.font, call.size)
            yield Line(call.text.strip(), (call.x, call.y, call.x + wide, call.y + cap), cap, tuple(within))


@pytest.mark.parametrize("name", NAMES)
def test_no_word_stands_on_another_and_none_leaves_the_page(name: str) -> None:
    """Words of marks in miniature, of the packaging's own mark and of the standing view apart."""
    for sheet in pages(name):
        area = sheet.page.inner
        told = [one for one in lines_of(sheet) if not one.lies_in("mark-", "already-there", "standing")]
        assert len(told) > 10
        for one in told:
            assert one.box[0] >= area.x - 0.5 and one.box[2] <= area.right + 0.5, one.words
        for one, other in combinations(told, 2):
            a, b = one.box, other.box
            across, up = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
            assert across <= 0.1 or up <= 0.1, (sheet.page.kind, one.words, other.words)


@pytest.mark.parametrize("name", NAMES)
def test_what_the_packer_acts_on_has_capitals_of_2_8_mm_and_the_list_never_under_2_4(name: str) -> None:
    """16 minutes of arc at 600 mm and at 510 mm: ISO 9241-303, from memory."""
    diagram = pages(name)[0]
    checklist = next(sheet for sheet in pages(name) if sheet.page.kind == "packing checklist")
    drawn = [one for one in lines_of(diagram) if one.lies_in("close-up", "net") and not one.lies_in("mark-", "already")]
    figures = [one for one in drawn if re.fullmatch(r"\d{2,}(\.\d)?", one.words)]
    assert figures and min(one.cap for one in figures) >= 2.8
    assert max(one.cap for one in lines_of(diagram) if one.words in ("FRONT", "SHOULDER", "TAG")) >= 2.8
    done = re.compile(r"Hazard label \S+$|UN number$|Closed as|[→↑]$")
    rows = [one for one in lines_of(checklist) if done.match(one.words)]
    assert len(rows) >= 4 and min(one.cap for one in rows) >= 2.4


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_told_by_colour_alone(name: str) -> None:
    """In greys as one printer ink leaves them: each mark still has its number in the drawing and its name in words."""
    for sheet in pages(name)[:1]:
        words = [one.words for one in lines_of(sheet)]
        for item in (
            planned(name).overpack_placements[-1].items if "overpack" in name else planned(name).placements[0].items
        ):
            assert words.count(str(item.number)) >= 2 or "the same" in " ".join(words), item.number
