"""Reads a finished PDF page into ``measure.Paper``: its content stream operator by operator, with forms and fonts."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, replace
from typing import Any

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from pypdf import PdfReader
from pypdf.generic import ContentStream, PdfObject

from tests.draw.measure import MM, XY, Paint, Paper, Ring, chords, lay, pieces

Matrix = tuple[float, float, float, float, float, float]
_CAPS, _JOINS = ("butt", "round", "square"), ("miter", "round", "bevel")


def times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    A, B, C, D, E, F = then
    return a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F


def at(m: Matrix, x: float, y: float) -> XY:
    return (m[0] * x + m[2] * y + m[4]) * MM, (m[1] * x + m[3] * y + m[5]) * MM


@dataclass(frozen=True)
class State:
    ctm: Matrix = (1, 0, 0, 1, 0, 0)
    fill: str = "g:0"
    stroke: str = "g:0"
    fill_space: str = ""
    stroke_space: str = ""
    width: float = 1.0
    cap: int = 0
    join: int = 0
    dash: tuple[float, ...] = ()
    font: str = ""
    size: float = 0.0


class Font:
    """An embedded TrueType subset: code to outline, code to advance, code to character."""

    def __init__(self, given: Any) -> None:
        self.first, self.widths = int(given["/FirstChar"]), [float(w) for w in given["/Widths"]]
        self.ttf = TTFont(io.BytesIO(given["/FontDescriptor"]["/FontFile2"].get_data()))
        self.names = next(t for t in self.ttf["cmap"].tables if (t.platformID, t.platEncID) in ((1, 0), (3, 0))).cmap
        self.glyphs, self.em = self.ttf.getGlyphSet(), self.ttf["head"].unitsPerEm
        self.characters = _unicode(given["/ToUnicode"].get_data().decode("latin1"))

    def advance(self, code: int) -> float:
        return self.widths[code - self.first] / 1000

    def outline(self, code: int) -> list[tuple[str, tuple[XY, ...]]]:
        pen = DecomposingRecordingPen(self.glyphs)
        self.glyphs[self.names[code]].draw(pen)
        return [(op, tuple((x / self.em, y / self.em) for x, y in pts)) for op, pts in pen.value]


def _unicode(cmap: str) -> dict[int, str]:
    """The codes and characters of a ToUnicode map that lists them one by one."""
    pairs = re.findall(r"^<(\w\w)> <(\w{4,})>$", cmap, re.MULTILINE)
    return {int(code, 16): bytes.fromhex(value).decode("utf-16-be") for code, value in pairs}


class Reader:
    """``paper``: what the page shows. ``operators``: every operator met and in which form ("" on the page itself)."""

    def __init__(self, pdf: PdfReader, page: int = 0) -> None:
        self._pdf = pdf
        self._fonts: dict[int, Font] = {}
        self.operators: list[tuple[str, str]] = []
        given = pdf.pages[page]
        box = [float(v) for v in given.mediabox]
        if box[:2] != [0, 0]:
            raise ValueError("the media box does not begin at 0, 0")
        self.paper = Paper(box[2] * MM, box[3] * MM)
        contents = given.get_contents()
        if contents is None:
            raise ValueError("an empty page")
        self._run(contents, given["/Resources"], State(), "")

    def _run(self, contents: PdfObject, resources: Any, state: State, where: str) -> None:
        stack: list[State] = []
        subpaths: list[tuple[Ring, bool]] = []
        ring: Ring = []
        text_matrix: Matrix = (1, 0, 0, 1, 0, 0)
        said: list[str] = []
        letters: list[Ring] = []
        for given, operator in ContentStream(contents, self._pdf).operations:
            op = operator.decode()
            self.operators.append((op, where))
            if op in (
                "cm",
                "w",
                "d",
                "J",
                "j",
                "k",
                "K",
                "rg",
                "RG",
                "g",
                "G",
                "m",
                "l",
                "c",
                "re",
                "Tm",
                "scn",
                "SCN",
            ):
                n = [float(v) for v in given if isinstance(v, int | float)]
            if op == "q":
                stack.append(state)
            elif op == "Q":
                state = stack.pop()
            elif op == "cm":
                state = replace(state, ctm=times((n[0], n[1], n[2], n[3], n[4], n[5]), state.ctm))
            elif op == "w":
                state = replace(state, width=n[0])
            elif op == "J":
                state = replace(state, cap=int(n[0]))
            elif op == "j":
                state = replace(state, join=int(n[0]))
            elif op == "d":
                state = replace(state, dash=tuple(float(v) for v in given[0]))
            elif op in ("rg", "k", "g"):
                state = replace(state, fill=_colour(op, n))
            elif op in ("RG", "K", "G"):
                state = replace(state, stroke=_colour(op.lower(), n))
            elif op == "cs":
                state = replace(state, fill_space=self._spot(resources, given[0]))
            elif op == "CS":
                state = replace(state, stroke_space=self._spot(resources, given[0]))
            elif op == "scn":
                state = replace(state, fill=state.fill_space if n == [1.0] else f"{state.fill_space} {n}")
            elif op == "SCN":
                state = replace(state, stroke=state.stroke_space if n == [1.0] else f"{state.stroke_space} {n}")
            elif op == "m":
                if ring:
                    subpaths.append((ring, False))
                ring = [at(state.ctm, *n)]
            elif op == "l":
                ring.append(at(state.ctm, *n))
            elif op == "c":
                ring += chords(ring[-1], *(at(state.ctm, n[i], n[i + 1]) for i in (0, 2, 4)))
            elif op == "re":
                x, y, w, h = n
                subpaths.append(([at(state.ctm, *p) for p in ((x, y), (x + w, y), (x + w, y + h), (x, y + h))], True))
            elif op == "h":
                subpaths.append((ring, True))
                ring = ring[:0]
            elif op in ("f", "S", "n"):
                if ring:
                    subpaths.append((ring, False))
                if op == "f":
                    self.paper.paints.append(Paint([p for p, _ in subpaths], state.fill, (where,)))
                elif op == "S":
                    k = (abs(state.ctm[0] * state.ctm[3] - state.ctm[1] * state.ctm[2])) ** 0.5 * MM
                    dash = [v * k for v in state.dash]
                    lay(
                        self.paper,
                        subpaths,
                        state.width * k,
                        state.stroke,
                        _CAPS[state.cap],
                        _JOINS[state.join],
                        dash,
                        (where,),
                    )
                subpaths, ring = [], []
            elif op == "BT":
                said, letters = [], []
            elif op == "Tm":
                text_matrix = (n[0], n[1], n[2], n[3], n[4], n[5])
            elif op == "Tf":
                state = replace(state, font=str(given[0]), size=float(given[1]))
            elif op == "Tj":
                text_matrix = self._letters(resources, state, text_matrix, given[0], said, letters)
            elif op == "ET":
                if said:
                    self.paper.paints.append(Paint(letters, state.fill, (where,), "".join(said)))
            elif op == "Do":
                form = resources["/XObject"][given[0]]
                matrix: Any = tuple(float(v) for v in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
                inside, before = times(matrix, state.ctm), len(self.paper.paints)
                self._run(form, form["/Resources"], replace(state, ctm=inside), str(given[0]))
                box = [float(v) for v in form["/BBox"]]
                if any(_clips(box, inside, paint) for paint in self.paper.paints[before:]):
                    raise ValueError(f"the box of {given[0]} cuts off part of its drawing")
            elif op not in ("TL", "T*", "Td"):
                raise ValueError(f"the operator {op} was not expected")

    def _letters(
        self, resources: Any, state: State, matrix: Matrix, shown: Any, said: list[str], letters: list[Ring]
    ) -> Matrix:
        given = resources["/Font"][state.font].get_object()
        font = (
            self._fonts.setdefault(id(given), Font(given)) if id(given) not in self._fonts else self._fonts[id(given)]
        )
        raw = shown.original_bytes
        for code in raw:
            here = times((state.size, 0, 0, state.size, 0, 0), times(matrix, state.ctm))
            ring: Ring = []
            for op, pts in font.outline(code):
                if op == "moveTo":
                    ring = [at(here, *pts[0])]
                elif op == "lineTo":
                    ring.append(at(here, *pts[0]))
                elif op == "qCurveTo":
                    ring += _quadratics(ring[-1], [at(here, *p) for p in pts])
                else:
                    letters.append(ring)
            said.append(font.characters[code])
            matrix = times((1, 0, 0, 1, font.advance(code) * state.size, 0), matrix)
        return matrix

    def _spot(self, resources: Any, name: Any) -> str:
        space = resources["/ColorSpace"][name].get_object()
        if space[0] != "/Separation":
            raise ValueError(f"a colour space {space[0]} was not expected")
        return f"spot:{str(space[1]).removeprefix('/')}"


def _clips(box: list[float], m: Matrix, paint: Paint) -> bool:
    """Whether a form's box, which clips, leaves out part of what the form paints."""
    a, b, c, d, e, f = m
    under = a * d - b * c
    for ring in paint.rings:
        for x, y in ring:
            px, py = x / MM - e, y / MM - f
            u, v = (d * px - c * py) / under, (a * py - b * px) / under
            if not (box[0] - 1e-3 <= u <= box[2] + 1e-3 and box[1] - 1e-3 <= v <= box[3] + 1e-3):
                return True
    return False


def _colour(op: str, n: list[float]) -> str:
    if op == "rg":
        return "#" + "".join(f"{round(v * 255):02x}" for v in n)
    return ("k:" if op == "k" else "g:") + ",".join(f"{v:g}" for v in n)


def _quadratics(start: XY, points: list[XY]) -> Ring:
    """TrueType's run of off-curve points and one on-curve end."""
    out: Ring = []
    *controls, end = points
    for i, c in enumerate(controls):
        last = i == len(controls) - 1
        p = end if last else ((c[0] + controls[i + 1][0]) / 2, (c[1] + controls[i + 1][1]) / 2)
        n = pieces(start, c, p)
        for j in range(1, n + 1):
            t = j / n
            u = 1 - t
            out.append(
                (u * u * start[0] + 2 * u * t * c[0] + t * t * p[0], u * u * start[1] + 2 * u * t * c[1] + t * t * p[1])
            )
        start = p
    return out
