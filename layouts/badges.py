"""Numbers on a drawing: a black disc for each mark, set where it hides nothing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from layouts import letters
from layouts.furniture import line
from layouts.geometry import Box, Point, circle, polyline
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen
from layouts.placement import Placed

BADGE = 2.7  # radius, mm: figures of 2.8 mm, which are read at arm's length
RIM = 0.3  # white round the disc, mm
#: A square on its point so many times as wide as the radius has room for a disc beside it in the corner of its box.
ROOMY = 2 * (2 + math.sqrt(2))


def badge(pen: Pen, number: int, x: float, y: float, radius: float = BADGE) -> None:
    """A number on a black disc."""
    pen.fill(circle(x, y, radius + RIM), WHITE)
    pen.fill(circle(x, y, radius), BLACK)
    text, size, font = str(number), radius * 1.5, "bold" if number < 10 else "condensed"
    wide = letters.width(text, font, size)
    line(pen, x - wide / 2, y - size * letters.cap_height(font) / 2, text, size, font, WHITE)


#: Paper at the right of a face that its numbers may take where they find no room on it, mm.
BEYOND = 2 * (BADGE + RIM) + 1.2


def draw_badges(
    pen: Pen,
    items: Sequence[Placed],
    box: Box,
    scale: float,
    radius: float = BADGE,
    every: bool = True,
    beyond: float = 0,
) -> None:
    """The number of every mark on a face at ``box`` on paper: in a free corner of a square on its point; else beside the
    mark, in one column with its neighbours, a hairline leading to it. Not ``every``: only where a corner is free. beyond:
    paper at the right of the face, for those that find no room on it."""
    marks = {i.number: Box(box.x + i.x / scale, box.y + i.y / scale, i.width / scale, i.height / scale) for i in items}
    ground = _Ground(box, marks, {i.number for i in items if i.artwork.side is not None}, radius + RIM, beyond)
    loose = []
    for number, mark in marks.items():
        corner = ground.corner(number) if number in ground.on_point and mark.width > ROOMY * ground.r else None
        if corner is not None:
            ground.discs.append(corner)
            badge(pen, number, *corner, radius)
        elif every:
            loose.append(number)
    found = [spot for column in _columns(loose, marks) for spot in ground.beside(column)]
    for _, start, at, _ in found:
        if math.dist(start, at) > ground.r + 1.0:
            pen.stroke(polyline([start, at]), BLACK, 0.12)
    for number, _, at, size in found:
        badge(pen, number, at.x, at.y, radius * size)


class _Ground(Struct):
    """A face on paper while numbers are set on it. r: radius of a disc with its rim; discs: those that stand."""

    box: Box
    marks: dict[int, Box]
    on_point: set[int]
    r: float
    beyond: float = 0.0
    discs: list[Point] = []

    def free(self, at: Point, but: Sequence[int], r: float) -> bool:
        """Whether a disc there lies inside the face, on no mark (save those of ``but``) and on no other disc."""
        if not self.box.contains(Box(at.x - r, at.y - r, 2 * r, 2 * r)):
            return False
        if any(math.dist(at, disc) < r + self.r for disc in self.discs):
            return False
        return not any(self._on(at, r, number) for number in self.marks if number not in but)

    def corner(self, number: int) -> Point | None:
        """The first corner of the box round a square on its point that no other mark reaches into."""
        mark, r = self.marks[number].grown(-self.r), self.r
        corners = [Point(x, y) for y in (mark.top, mark.y) for x in (mark.x, mark.right)]
        return next((at for at in corners if self.free(at, (number,), r)), None)

    def _on(self, at: Point, r: float, number: int) -> bool:
        """The corners of the box round a square on its point are free."""
        mark = self.marks[number]
        dx, dy = abs(at.x - mark.centre.x), abs(at.y - mark.centre.y)
        if number in self.on_point:
            return dx + dy < mark.width / 2 + r * math.sqrt(2)
        return dx < mark.width / 2 + r and dy < mark.height / 2 + r

    def beside(self, column: Sequence[int]) -> Iterator[tuple[int, Point, Point, float]]:
        """Each mark of a column: its number, where its hairline starts, the centre of its disc, and its size (1:
        full)."""
        column = sorted(column, key=lambda n: self.marks[n].centre.y)
        boxes = [self.marks[n] for n in column]
        right, left = max(m.right for m in boxes) + self.r + 0.5, min(m.x for m in boxes) - self.r - 0.5
        for lanes in (
            1,
            2,
            3,
        ):  # where the column is longer than the face is high, discs stand in turn in several lanes
            ys = spread([(mark.centre.y, (2 * self.r + 0.1) / lanes) for mark in boxes])
            drop = min(0.0, self.box.top - self.r - ys[-1]) or max(0.0, self.box.y + self.r - ys[0])
            for x, outwards in ((right, 1), (left, -1)):
                out = outwards * (2 * self.r + 0.3)
                spots = [Point(x + out * (n % lanes), y + drop) for n, y in enumerate(ys)]
                if all(self.free(spot, column, self.r) for spot in spots):
                    yield from self._set(column, spots, x == right)
                    return
            outside = [Point(self.box.right + self.r + 0.8, y + drop) for y in ys]
            if lanes == 1 and self.beyond and not self._meet(outside) and not self._crossed(column):
                yield from self._set(column, outside, True)
                return
        for n in column:
            yield self._alone(n)

    def _set(
        self, column: Sequence[int], spots: Sequence[Point], right: bool
    ) -> Iterator[tuple[int, Point, Point, float]]:
        self.discs += spots
        for n, spot in zip(column, spots, strict=True):
            mark = self.marks[n]
            yield n, Point(mark.right if right else mark.x, mark.centre.y), spot, 1.0

    def _meet(self, spots: Sequence[Point]) -> bool:
        """Whether discs there would lie on others."""
        return any(math.dist(at, disc) < 2 * self.r for at in spots for disc in self.discs)

    def _crossed(self, column: Sequence[int]) -> bool:
        """Whether hairlines to the right edge of the face would run over other marks."""
        return any(
            other.x > self.marks[n].right and other.y - 0.5 < self.marks[n].centre.y < other.top + 0.5
            for n in column
            for m, other in self.marks.items()
            if m not in column
        )

    def _alone(self, number: int) -> tuple[int, Point, Point, float]:
        """One mark in a crowd: beside it, above or below it, smaller if need be, on its corner if nothing is free."""
        mark = self.marks[number]
        for size in (1.0, 0.7):
            r = self.r * size
            around = (
                Point(mark.right + r + 0.3, mark.centre.y), Point(mark.x - r - 0.3, mark.centre.y),
                Point(mark.x + r, mark.top + r + 0.2), Point(mark.right - r, mark.top + r + 0.2),
                Point(mark.x + r, mark.y - r - 0.2), Point(mark.right - r, mark.y - r - 0.2),
            )  # fmt: skip
            for at in around:
                if self.free(at, (), r):
                    self.discs.append(at)
                    return number, at, at, size
        at = Point(mark.right - 0.7 * self.r, mark.top)
        self.discs.append(at)
        return number, at, at, 0.7


def _columns(numbers: Sequence[int], marks: dict[int, Box]) -> list[list[int]]:
    """Marks that stand over one another with their left edges nearly level, together."""
    found: list[list[int]] = []
    for n in numbers:
        for column in found:
            if abs(marks[column[0]].x - marks[n].x) < 1.0:
                column.append(n)
                break
        else:
            found.append([n])
    return found


def spread(wanted: Sequence[tuple[float, float]]) -> list[float]:
    """Centres along a line, as near as may be to where they are wanted, each with its own room, none on another."""
    groups: list[tuple[list[float], list[float], float]] = []  # wanted, rooms, centre of the group
    for at, room in wanted:
        group_ = ([at], [room], at)
        while groups and groups[-1][2] + math.fsum(groups[-1][1]) / 2 > group_[2] - math.fsum(group_[1]) / 2:
            before = groups.pop()
            ats, rooms = before[0] + group_[0], before[1] + group_[1]
            group_ = (ats, rooms, math.fsum(ats) / len(ats))
        groups.append(group_)
    found = []
    for _, rooms, centre in groups:
        edge = centre - math.fsum(rooms) / 2
        for room in rooms:
            found.append(edge + room / 2)
            edge += room
    return found
