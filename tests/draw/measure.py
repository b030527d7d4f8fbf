"""Measures finished files, PDF and SVG, the way a person with a ruler would. It shares nothing with what draws them.

A file is read into ``Paint``: flat polygons in the order they were laid down, each with its colour, in mm, y up. Curves
are cut into chords of some 0.002 mm error, strokes into the polygons they cover, letters into the outlines of the font
that is embedded in the file. ``Paper`` answers what colour lies where, and where it changes along a line.
"""

from __future__ import annotations

import io
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

MM = 25.4 / 72
XY = tuple[float, float]
Ring = list[XY]
CHORDS = 64


@dataclass
class Paint:
    """rings: closed polygons filled together by the non-zero rule; colour: "#rrggbb", "k:c,m,y,k" or "spot:Name";
    where: the SVG titles it lies under, or the PDF form's name; text: the characters it stands for."""

    rings: list[Ring]
    colour: str
    where: tuple[str, ...] = ()
    text: str = ""
    box: tuple[float, float, float, float] = field(init=False)

    def __post_init__(self) -> None:
        xs = [x for ring in self.rings for x, _ in ring] or [0.0]
        ys = [y for ring in self.rings for _, y in ring] or [0.0]
        self.box = min(xs), min(ys), max(xs), max(ys)

    def covers(self, x: float, y: float) -> bool:
        if not (self.box[0] <= x <= self.box[2] and self.box[1] <= y <= self.box[3]):
            return False
        turns = 0
        for ring in self.rings:
            for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
                if (y0 <= y) != (y1 <= y):
                    cross = x0 + (y - y0) / (y1 - y0) * (x1 - x0)
                    if cross > x:
                        turns += 1 if y1 > y0 else -1
        return turns != 0

    def crossings(self, a: XY, b: XY) -> Iterator[float]:
        """Where the line from a to b (as 0..1) meets the outline."""
        dx, dy = b[0] - a[0], b[1] - a[1]
        x0, y0, x1, y1 = self.box
        if max(a[0], b[0]) < x0 or min(a[0], b[0]) > x1 or max(a[1], b[1]) < y0 or min(a[1], b[1]) > y1:
            return
        for ring in self.rings:
            for p, q in zip(ring, ring[1:] + ring[:1], strict=True):
                ex, ey = q[0] - p[0], q[1] - p[1]
                under = dx * ey - dy * ex
                if abs(under) < 1e-12:
                    continue
                t = ((p[0] - a[0]) * ey - (p[1] - a[1]) * ex) / under
                s = ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / under
                if 0 <= t <= 1 and -1e-9 <= s <= 1 + 1e-9:
                    yield t


@dataclass
class Paper:
    """One finished page. strokes: every stroke as it was drawn, (points, width, colour), for cut marks and rulers."""

    width: float
    height: float
    paints: list[Paint] = field(default_factory=list)
    strokes: list[tuple[Ring, float, str]] = field(default_factory=list)

    def colour_at(self, x: float, y: float) -> str | None:
        """The colour on top; None where nothing was laid down."""
        for paint in reversed(self.paints):
            if paint.covers(x, y):
                return paint.colour
        return None

    def along(self, a: XY, b: XY) -> list[tuple[float, float, str | None]]:
        """The stretches of colour met from a to b: (from, to, colour), in mm from a."""
        long = math.dist(a, b)
        cuts = sorted({0.0, 1.0, *(t for paint in self.paints for t in paint.crossings(a, b))})
        out: list[tuple[float, float, str | None]] = []
        for t0, t1 in pairwise(cuts):
            if (t1 - t0) * long < 0.002:  # less than the files' own rounding
                continue
            m = (t0 + t1) / 2
            colour = self.colour_at(a[0] + (b[0] - a[0]) * m, a[1] + (b[1] - a[1]) * m)
            if out and out[-1][2] == colour:
                out[-1] = (out[-1][0], t1 * long, colour)
            else:
                out.append((t0 * long, t1 * long, colour))
        return out

    def cut(self, weight: float = 0.1) -> list[XY]:
        """The corners that the cut marks of a single piece point to, where the lines of a pair meet. Anticlockwise from
        the lowest, of equals the leftmost."""
        marks = [
            s for s, w, _ in self.strokes if abs(w - weight) < 0.005 and len(s) == 2 and abs(math.dist(*s) - 4) < 0.01
        ]
        corners: list[XY] = []
        for i, (a, b) in enumerate(marks):
            for c, d in marks[i + 1 :]:
                if p := _meet(a, b, c, d):
                    near = [min(math.dist(p, s), math.dist(p, t)) for s, t in ((a, b), (c, d))]
                    if abs(near[0] - near[1]) < 0.02 and 1.0 < near[0] < 4.5:
                        corners.append(p)
        middle = sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)
        corners.sort(key=lambda p: math.atan2(p[1] - middle[1], p[0] - middle[0]))
        low = min(range(len(corners)), key=lambda i: (round(corners[i][1], 3), corners[i][0]))
        return corners[low:] + corners[:low]

    def texts(self) -> dict[str, tuple[float, float, float, float]]:
        """Every piece of text with the box of its letters' black."""
        return {p.text: p.box for p in self.paints if p.text}


def _meet(a: XY, b: XY, c: XY, d: XY) -> XY | None:
    """Where two lines at a right angle meet."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    under = ux * vy - uy * vx
    if abs(ux * vx + uy * vy) > 0.01 * abs(under) or abs(under) < 1e-9:
        return None
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / under
    return a[0] + ux * t, a[1] + uy * t


def edges(corners: list[XY]) -> list[float]:
    """The lengths of a polygon's edges."""
    return [math.dist(p, q) for p, q in zip(corners, corners[1:] + corners[:1], strict=True)]


# --- strokes and curves into polygons --------------------------------------------------------------------------------


def pieces(*points: XY) -> int:
    """How many chords a curve takes, by the length of its hull: the error stays near 0.002 mm."""
    return max(4, min(CHORDS, math.ceil(8 * math.sqrt(sum(math.dist(p, q) for p, q in pairwise(points))))))


def chords(p0: XY, p1: XY, p2: XY, p3: XY) -> Iterator[XY]:
    n = pieces(p0, p1, p2, p3)
    for i in range(1, n + 1):
        t = i / n
        u = 1 - t
        yield tuple(  # type: ignore[misc]
            u**3 * p0[k] + 3 * u * u * t * p1[k] + 3 * u * t * t * p2[k] + t**3 * p3[k] for k in (0, 1)
        )


def dashed(points: Ring, dash: list[float]) -> Iterator[Ring]:
    """A line cut into its dashes."""
    if not dash:
        yield points
        return
    dash = dash * 2 if len(dash) % 2 else dash
    left, index, piece = dash[0], 0, [points[0]]
    for p, q in pairwise(points):
        long, done = math.dist(p, q), 0.0
        while long - done > left + 1e-12:
            done += left
            at = (p[0] + (q[0] - p[0]) * done / long, p[1] + (q[1] - p[1]) * done / long)
            if index % 2 == 0:
                yield [*piece, at]
            index += 1
            left, piece = dash[index % len(dash)], [at]
        left -= long - done
        piece.append(q)
    if index % 2 == 0 and len(piece) > 1:
        yield piece


def stroked(points: Ring, closed: bool, width: float, cap: str, join: str) -> list[Ring]:
    """The polygons a stroke covers: a quad for each piece, its corners, its ends."""
    h = width / 2
    points = [p for i, p in enumerate(points) if i == 0 or math.dist(p, points[i - 1]) > 1e-9]
    if closed and len(points) > 1 and math.dist(points[0], points[-1]) <= 1e-9:
        points.pop()
    pieces = list(zip(points, points[1:] + points[:1] if closed else points[1:], strict=False))
    out: list[Ring] = []
    ways = [((q[0] - p[0]) / math.dist(p, q), (q[1] - p[1]) / math.dist(p, q)) for p, q in pieces]
    for n, ((p, q), (ux, uy)) in enumerate(zip(pieces, ways, strict=True)):
        back = h if cap == "square" and not closed and n == 0 else 0.0
        fore = h if cap == "square" and not closed and n == len(pieces) - 1 else 0.0
        a, b = (p[0] - ux * back, p[1] - uy * back), (q[0] + ux * fore, q[1] + uy * fore)
        out.append(
            [
                (a[0] - uy * h, a[1] + ux * h),
                (b[0] - uy * h, b[1] + ux * h),
                (b[0] + uy * h, b[1] - ux * h),
                (a[0] + uy * h, a[1] - ux * h),
            ]
        )
    for n in range(len(pieces) if closed else len(pieces) - 1):
        m = (n + 1) % len(pieces)
        (ux, uy), (vx, vy), c = ways[n], ways[m], pieces[m][0]
        turn = ux * vy - uy * vx
        if join == "round":
            out.append(_disc(c, h))
        elif abs(turn) > 1e-9:
            s = -h if turn > 0 else h  # the outer side
            a, b = (c[0] - uy * s, c[1] + ux * s), (c[0] - vy * s, c[1] + vx * s)
            half = math.sqrt(max(0.0, (1 + ux * vx + uy * vy) / 2))
            if join == "miter" and half > 0.1:
                mid = (a[0] + b[0] - 2 * c[0], a[1] + b[1] - 2 * c[1])
                k = h / half / math.hypot(*mid)
                out.append([c, a, (c[0] + mid[0] * k, c[1] + mid[1] * k), b])
            else:
                out.append([c, a, b])
    if cap == "round" and not closed:
        out += [_disc(points[0], h), _disc(points[-1], h)]
    return [ring if _area(ring) > 0 else ring[::-1] for ring in out]


def _disc(c: XY, r: float) -> Ring:
    return [(c[0] + r * math.cos(i * math.pi / 24), c[1] + r * math.sin(i * math.pi / 24)) for i in range(48)]


def _area(ring: Ring) -> float:
    return sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(ring, ring[1:] + ring[:1], strict=True)) / 2


def lay(
    paper: Paper,
    subpaths: list[tuple[Ring, bool]],
    width: float,
    colour: str,
    cap: str,
    join: str,
    dash: list[float],
    where: tuple[str, ...],
) -> None:
    """Lay a stroke on the paper."""
    rings: list[Ring] = []
    for points, closed in subpaths:
        paper.strokes.append((points, width, colour))
        if dash:
            for piece in dashed([*points, points[0]] if closed else points, dash):
                rings += stroked(piece, False, width, cap, join)
        else:
            rings += stroked(points, closed, width, cap, join)
    paper.paints.append(Paint(rings, colour, where))


# --- SVG -------------------------------------------------------------------------------------------------------------

_SVG, _LINK = "{http://www.w3.org/2000/svg}", "{http://www.w3.org/1999/xlink}href"
_TOKEN = re.compile(r"([MLHVCQZmlhvcqz])|(-?\d*\.?\d+)")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "Q": 4, "C": 6}
Matrix = tuple[float, float, float, float, float, float]


def times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    A, B, C, D, E, F = then
    return a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F


def _matrix(node: ET.Element) -> Matrix:
    """A node's own transform: a matrix, and for a reference the x and y it stands at."""
    given = node.attrib.get("transform", "matrix(1 0 0 1 0 0)")
    if not (found := re.fullmatch(r"matrix\(([-\d. ]+)\)", given)) or "style" in node.attrib:
        raise ValueError(f"a transform or style was not expected: {node.attrib}")
    a, b, c, d, e, f = map(float, found[1].split())
    moved = float(node.attrib.get("x", 0)), float(node.attrib.get("y", 0))
    return times((1, 0, 0, 1, *moved), (a, b, c, d, e, f)) if node.tag == f"{_SVG}use" else (a, b, c, d, e, f)


def read_svg(text: str) -> Paper:
    """A page from an SVG whose user unit is one mm. ValueError for anything this reader would have to guess about."""
    root = ET.fromstring(text)
    width, height = (float(root.attrib[k].removesuffix("mm")) for k in ("width", "height"))
    if [float(v) for v in root.attrib["viewBox"].split()] != [0, 0, width, height]:
        raise ValueError(f"a user unit is not one mm: {root.attrib['viewBox']}")
    paper = Paper(width, height)
    kept = {node.attrib["id"]: node for defs in root.iter(f"{_SVG}defs") for node in defs}

    def referred(node: ET.Element) -> ET.Element:
        link = node.attrib[_LINK]
        if not link.startswith("#") or link[1:] not in kept:
            raise ValueError(f"a reference out of the file: {link}")
        return kept[link[1:]]

    def walk(node: ET.Element, where: tuple[str, ...], to_page: Matrix) -> None:
        to_page = times(_matrix(node), to_page)
        title = node.findtext(f"{_SVG}title")
        where = (*where, title) if title else where
        letters = node.attrib.get("fill")
        if letters is not None:  # a line of text: letters kept once, in one colour
            rings = [ring for use in node for ring in outline(use, to_page)]
            said = "".join(chr(int(use.attrib[_LINK][3:], 16)) for use in node)
            paper.paints.append(Paint(rings, letters, where, said))
            return
        for child in node:
            if child.tag == f"{_SVG}g":
                walk(child, where, to_page)
            elif child.tag == f"{_SVG}use":
                walk(referred(child), where, times(_matrix(child), to_page))
            elif child.tag == f"{_SVG}path":
                _svg_path(paper, child.attrib, to_page, where)
            elif child.tag not in (f"{_SVG}title", f"{_SVG}defs"):
                raise ValueError(f"{child.tag} was not expected")

    def outline(use: ET.Element, to_page: Matrix) -> list[Ring]:
        letter = referred(use)
        return [ring for ring, _ in _subpaths(letter.attrib["d"], times(_matrix(use), to_page))]

    walk(root, (), (1, 0, 0, -1, 0, height))
    return paper


def _subpaths(data: str, m: Matrix) -> list[tuple[Ring, bool]]:
    """Path data as chords on the page, y up, each with whether it is closed."""
    out: list[tuple[Ring, bool]] = []
    ring: Ring = []
    op, numbers, here, start = "", [], (0.0, 0.0), (0.0, 0.0)

    def on_page(p: XY) -> XY:
        return m[0] * p[0] + m[2] * p[1] + m[4], m[1] * p[0] + m[3] * p[1] + m[5]

    for command, value in _TOKEN.findall(data):
        if command:
            op = command
            if op in "Zz":
                out.append((ring, True))
                ring, here = [], start
            continue
        numbers.append(float(value))
        if len(numbers) < _TAKES[op.upper()]:
            continue
        dx, dy = here if op.islower() else (0.0, 0.0)
        if op in "Hh":
            places = [(numbers[0] + dx, here[1])]
        elif op in "Vv":
            places = [(here[0], numbers[0] + dy)]
        else:
            places = [(x + dx, y + dy) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        if op in "Qq":  # a quadratic is a cubic with handles two thirds of the way
            (qx, qy), (ex, ey) = places
            handles = [(px + (qx - px) * 2 / 3, py + (qy - py) * 2 / 3) for px, py in (here, (ex, ey))]
            places = [*handles, (ex, ey)]
        numbers = []
        points = [on_page(p) for p in places]
        if op in "Mm":
            if ring:
                out.append((ring, False))
            ring, start = [points[0]], places[0]
            op = "l" if op == "m" else "L"  # what follows without a letter is a line
        elif len(points) == 1:
            if not ring:
                ring = [on_page(start)]
            ring.append(points[0])
        else:
            ring += chords(ring[-1], *points)
        here = places[-1]
    if ring:
        out.append((ring, False))
    return out


def _svg_path(paper: Paper, given: dict[str, str], to_page: Matrix, where: tuple[str, ...]) -> None:
    subpaths = _subpaths(given["d"], to_page)
    k = abs(to_page[0] * to_page[3] - to_page[1] * to_page[2]) ** 0.5
    if given.get("fill") != "none":
        if given.get("fill-rule", "nonzero") != "nonzero":
            raise ValueError("even-odd was not expected")
        paper.paints.append(Paint([points for points, _ in subpaths], given["fill"], where))
    if "stroke" in given:
        dash = [float(d) * k for d in given.get("stroke-dasharray", "").split()]
        lay(
            paper,
            subpaths,
            float(given["stroke-width"]) * k,
            given["stroke"],
            given.get("stroke-linecap", "butt"),
            given.get("stroke-linejoin", "miter"),
            dash,
            where,
        )


# --- PDF: see measure_pdf --------------------------------------------------------------------------------------------


def read_pdf(data: bytes, page: int = 0) -> Paper:
    """A page of a PDF; see ``measure_pdf``."""
    from pypdf import PdfReader

    from tests.draw.measure_pdf import Reader

    return Reader(PdfReader(io.BytesIO(data)), page).paper
