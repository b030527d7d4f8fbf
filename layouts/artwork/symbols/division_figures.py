"""The large figures 1, 4, 5, 6 of divisions 1.4, 1.5 and 1.6, one stroke wide throughout.

Grid: 30 units high, the stroke given (5 by law, UN Model Regulations 5.2.2.2.1.3, from memory). Flat strokes, square ends;
bowls are half circles. Figures stand 3 units apart; the point is a square of the stroke.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol, Trace, hole, plate, solid
from layouts.geometry import Path, Transform

HEIGHT = 30.0
GAP = 3.6


def one(s: float) -> tuple[Path, float]:
    """A stem with a flag."""
    flag = 5.2
    return plate(
        [(flag, 0), (flag + s, 0), (flag + s, 30), (flag, 30), (0, 26.4), (0, 26.4 - 1.2 * s), (flag, 30 - 1.2 * s)]
    ), flag + s


def four(s: float) -> tuple[Path, float]:
    """An open triangle on a stem."""
    w, stem, bar = 21.0, 16.2 - s / 2, 6.5
    outer = plate(
        [
            (stem, 0),
            (stem + s, 0),
            (stem + s, bar),
            (w, bar),
            (w, bar + s),
            (stem + s, bar + s),
            (stem + s, 30),
            (stem - 1.6, 30),
            (0, bar + s),
            (0, bar),
            (stem, bar),
        ]
    )
    reach = 6.6
    inner = hole(plate([(reach, bar + s), (stem, bar + s), (stem, 30 - 7.4)]))
    return outer + inner, w


def five(s: float) -> tuple[Path, float]:
    r = 9.7
    w = 19.6
    cx = w - r
    t = (
        Trace(0, 4.2)
        .curve(2.6, 1.4, 6, 0, cx, 0)
        .around(cx, r, 90)
        .curve(8.4, 2 * r, 7, 19, 5.4, 18.2)
        .line((6, 30 - s), (18, 30 - s), (18, 30), (1.4, 30), (0.2, 13.4), (3.6, 12.2))
        .curve(5, 13.8, 7, 2 * r - s, cx, 2 * r - s)
        .around(cx, r, -90)
        .curve(6.6, s, 4.6, s + 0.9, 3, s + 2.8)
    )
    return solid(t.close()), w


def six(s: float) -> tuple[Path, float]:
    r = 9.9
    outer = (
        Trace(0, r)
        .around(r, r, 360 + 150)
        .curve(3.2, 22, 9, 26.4, 17.2, 30 - s)
        .line((17.2, 30))
        .curve(6, 30, 0, 22, 0, r)
    )
    body = (
        Trace(2 * r, r)
        .around(r, r, 90)
        .curve(7.6, 2 * r, 5.9, 19.2, 4.6, 18.2)
        .curve(6, 22.4, 10.4, 25, 17.4, 25.2)
        .line((17.4, 30))
        .curve(6.6, 30, 0, 21.6, 0, r)
        .around(r, r, 360)
    )
    del outer
    inner = Trace(2 * r - s, r).around(r, r, 360)
    return solid(body.close()) + hole(inner.close()), 2 * r


def point(s: float) -> tuple[Path, float]:
    return plate([(0, 0), (s, 0), (s, s), (0, s)]), s


_GLYPHS = {"1": one, ".": point, "4": four, "5": five, "6": six}


def division_figure(text: str, stroke: float) -> Symbol:
    """``1.4`` and its like, their foot at y 0."""
    x, path = 0.0, Path()
    for ch in text:
        glyph, width = _GLYPHS[ch](stroke)
        path += glyph.transformed(Transform.moved(x, 0))
        x += width + GAP
    return Symbol(text, path)


def division_figures() -> Symbol:
    """All of them, for the contact sheet."""
    return division_figure("1.456", 5.0)
