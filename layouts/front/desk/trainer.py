"""The trainer's page: one package under every mode side by side, turned until an answer changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from layouts.artwork.catalogue import forms
from layouts.errors import LayoutError
from layouts.front.desk.answer import MODE_NAMES, VERDICTS, spoken_mark
from layouts.front.desk.drawing import ladder_drawings, mark_drawing
from layouts.front.desk.fields import Field
from layouts.front.desk.folder import Folder, FolderError
from layouts.front.desk.options import options_of
from layouts.front.desk.quantities import nearest, stops
from layouts.front.desk.reply import Asked, Draw, Reply, elsewhere, page
from layouts.front.desk.tree import Tree, to_text
from layouts.front.desk.trials import CONTROLS, Trial, trial
from marks.compare import Comparison, Ladder, PackageComparison, Row, compare
from marks.errors import EditionNotHeld, Fault, RecordError, SixfaceError, Unreadable
from marks.goods.show import CAUTION
from marks.outside import MARK_NAMES
from marks.quantity import is_volume, read_quantity, to
from marks.reading import NOTATIONS, read_text
from marks.requirement import Requirement
from marks.source import parse
from marks.terms import Level, Mode

CODES = options_of(Field("packaging", "", "code"), None, "")


@dataclass(frozen=True)
class Cell:
    """What one mode says of a mark. asked: it must be there; None: the mode is silent. change: new, gone or ""."""

    mode: str
    asked: bool | None
    why: str
    cite: str
    change: str = ""
    key: str = ""


@dataclass(frozen=True)
class Line:
    """A mark under every mode."""

    name: str
    words: str
    picture: str
    cells: tuple[Cell, ...]
    differs: bool

    @property
    def quiet(self) -> bool:
        """No mode asks for it, nor did a moment ago."""
        return not any(cell.asked or cell.change for cell in self.cells)


@dataclass(frozen=True)
class Slider:
    """stops: the words at each place; at: the place now."""

    stops: tuple[str, ...]
    at: int


def show(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """GET /trainer, POST /trainer/answer: the package as it is turned now. ``before``: what was asked for a moment ago."""
    looked_at = opened(folder, asked)
    if looked_at is None:
        return elsewhere("/")
    tree, record, number, line = looked_at
    wanted = {key: value for key, value in asked.form if key in (*CONTROLS, "gross_follows")}
    if asked.form and "gross_follows" not in wanted:
        wanted["gross_follows"] = "no"
    if asked.one("do").startswith("set "):  # a rung of the ladder was pressed
        _, name, value = asked.one("do").split(" ", 2)
        wanted[name] = value if name in CONTROLS else ""
    tried = trial(tree, number, line, wanted)
    comparison, faults = compared(to_text(tried.tree))
    before = frozenset(asked.one("before").split("|")) if asked.form else frozenset()
    shown = comparison.packages[0] if comparison else None
    now = frozenset(_keys(shown)) if shown else before
    lines = tuple(_lines(shown, before, now, bool(asked.form))) if shown else ()
    return page(
        draw(
            "trainer.html",
            record=record, tree=tree, number=number, line=line, tried=tried, faults=faults, shown=shown,
            modes=[(MODE_NAMES[m], v.value, VERDICTS[v]) for m, v in shown.verdicts.items()] if shown else (),
            lines=[one for one in lines if not one.quiet], others=[one for one in lines if one.quiet],
            changing=bool(asked.form), changes=_changes(shown, lines, before, now) if asked.form and shown else (),
            before="|".join(sorted(now)), reasons=_reasons(shown) if shown else (),
            ladders=_ladders(shown, line) if shown else (), sliders=_sliders(shown, tried, line),
            inner="inner" in tried.tree["packages"][0]["goods"][line], follows=wanted.get("gross_follows", "yes") == "yes",
            codes=CODES, known=[code for code, _ in CODES], caution=CAUTION, text=to_text(tried.tree),
        ),
        200 if shown else 422,
    )  # fmt: skip


def opened(folder: Folder, asked: Asked) -> tuple[Tree, str, int, int] | None:
    """The record's tree, its name, which package and which line of goods is looked at."""
    record = asked.one("record")
    if not record:
        return None
    root, told = parse(folder.read(record), NOTATIONS["." + record.rsplit(".", 1)[1].lower()])
    tree = root.plain() if root is not None and isinstance(root.value, dict) and not told else None
    try:
        packages = tree["packages"]  # type: ignore[index]
        names = [one["package"] for one in packages]
        number = names.index(asked.one("package")) if asked.one("package") in names else 0
        lines = packages[number]["goods"]
        wanted = asked.one("line", "1")
        line = min(max(int(wanted), 1), len(lines)) - 1 if wanted.isdigit() and len(wanted) < 5 else 0
        fine = all(isinstance(one, dict) for one in lines) and all(isinstance(one, str) for one in names)
        fine = fine and isinstance(lines[line].get("inner", {}), dict)
    except (KeyError, TypeError, IndexError, AttributeError):
        fine = False
    if not fine:
        raise FolderError(f"{record} can't be read as it stands; the clerk's page says what is wrong with it")
    return tree, record, number, line


@lru_cache(maxsize=64)
def compared(text: str) -> tuple[Comparison | None, tuple[str, ...]]:
    """A record's text under every mode that is held, or the faults that stand against it."""
    try:
        return compare(read_text(text, "record")), ()
    except RecordError as error:
        return None, tuple(_told(fault) for fault in error.faults)
    except (SixfaceError, EditionNotHeld) as error:
        return None, (str(error),)


def _told(fault: Fault) -> str:
    return f"{fault.path}: {fault.read}; {fault.why}; {fault.write}"


# --- marks by mode --------------------------------------------------------------------------------------------------


def _keys(shown: PackageComparison) -> Iterator[str]:
    """What is asked for, and every verdict: one text each, to see what changes."""
    for row in shown.rows:
        yield from (_key(row, mode) for mode, cell in row.cells.items() if cell.asked)
    yield from (f"{mode}={verdict}" for mode, verdict in shown.verdicts.items())


def _key(row: Row, mode: Mode) -> str:
    return f"{mode} {row.mark} {row.variant or ''}".strip()


def _lines(shown: PackageComparison, before: frozenset[str], now: frozenset[str], changing: bool) -> Iterator[Line]:
    """Every mark in an order that stays the same whatever is asked."""
    drawn = {one.key: one for mode in shown.decision.modes.values() for one in mode.marks}
    order = {name: place for place, name in enumerate(MARK_NAMES)}
    for row in sorted(shown.rows, key=lambda row: (order.get(row.mark, 99), row.variant or "", row.words)):
        cells = []
        for mode in shown.verdicts:
            cell, key = row.cells.get(mode), _key(row, mode)
            asked = cell.asked if cell else None
            change = "" if not changing or (key in before) == (key in now) else "new" if key in now else "gone"
            cells.append(Cell(MODE_NAMES[mode], asked, cell.why if cell else "", "; ".join(cell.cite) if cell else "",
                              change, key))  # fmt: skip
        wanted = drawn.get((row.mark, row.variant, row.words))
        words = ", ".join(row.words) if row.mark not in ("hazard-label", "shipper", "consignee") else ""
        yield Line(spoken_mark(row.mark, row.variant), words, picture(wanted), tuple(cells), row.differs)


def picture(wanted: Requirement | None) -> str:
    """A mark alone, not placed."""
    if wanted is None:
        return ""
    try:
        return mark_drawing(forms(wanted)[0])
    except (LayoutError, KeyError, IndexError):
        return ""


def _changes(
    shown: PackageComparison, lines: Iterable[Line], before: frozenset[str], now: frozenset[str]
) -> tuple[tuple[str, str], ...]:
    """What has just appeared and vanished, as sentences with their paragraphs."""
    found = []
    for mode, verdict in shown.verdicts.items():
        if f"{mode}={verdict}" not in before:
            found.append((f"{MODE_NAMES[mode]}: {VERDICTS[verdict]}", _first_reason(shown, mode)))
    there = set()
    for line in lines:
        by_why: dict[tuple[str, str], list[Cell]] = {}
        for cell in line.cells:
            there.add(cell.key)
            if cell.change:
                by_why.setdefault((cell.change, cell.why), []).append(cell)
        for (change, why), cells in by_why.items():
            modes = ", ".join(cell.mode for cell in cells)
            cite = "; ".join(dict.fromkeys(cell.cite for cell in cells if cell.cite))
            word = "appears" if change == "new" else "vanishes"
            found.append((f"{line.name} {word}: {modes}", f"{why}{f' ({cite})' if cite else ''}"))
    for key in sorted(before - now - there):  # a mark of which no mode speaks any more
        if key and "=" not in key:
            leg, _, rest = key.partition(" ")
            mark, _, variant = rest.partition(" ")
            if leg in tuple(Mode):
                found.append((f"{spoken_mark(mark, variant or None)} vanishes: {MODE_NAMES[Mode(leg)]}", ""))
    return tuple(found)


def _first_reason(shown: PackageComparison, mode: Mode) -> str:
    decision = shown.decision.modes[mode]
    grave = [one for one in decision.findings if one.level is Level.REFUSE]
    return f"{grave[0].text} ({'; '.join(grave[0].cite)})" if grave else ""


def _reasons(shown: PackageComparison) -> tuple[tuple[str, str, str], ...]:
    """Why a mode refuses: mode, text, paragraph."""
    return tuple(
        (MODE_NAMES[mode], one.text, "; ".join(one.cite))
        for mode, decision in shown.decision.modes.items()
        for one in decision.findings
        if one.level is Level.REFUSE
    )


# --- quantities -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Rung:
    """A limit, or this package. control: what it would be set to, where it can be; "" otherwise."""

    text: str
    label: str
    per: str
    cite: str
    control: str = ""
    here: bool = False


def _ladders(shown: PackageComparison, line: int) -> tuple[tuple[str, tuple[str, str], tuple[Rung, ...]], ...]:
    """Each material's drawings and rungs, lowest first."""
    found = []
    for i, ladder in enumerate(shown.ladders):
        rungs: list[tuple[Decimal, bool, Rung]] = []
        single = ladder.inner is None
        for one in ladder.rungs:
            control = "holds" if one.per == "inner" and not single else "net" if one.per == "package" and single else ""
            rungs.append((one.value, False, Rung(one.text, one.label, one.per, one.cite, control if i == line else "")))
        for value, per in ((ladder.inner, "inner"), (ladder.package, "package")):
            if value is not None:
                rungs.append(
                    (value, True, Rung(f"{value.normalize():f} {ladder.unit}", "this package", per, "", here=True))
                )
        ordered = tuple(rung for _, _, rung in sorted(rungs, key=lambda one: one[:2]))
        found.append((ladder.name, ladder_drawings(ladder), ordered))
    return tuple(found)


def _sliders(shown: PackageComparison | None, tried: Trial, line: int) -> dict[str, Slider]:
    """For the quantity and the inner size: the places they can be moved to."""
    ladder = shown.ladders[line] if shown and line < len(shown.ladders) else None
    found = {}
    for name, per in (("net", "package"), ("holds", "inner")):
        limits = [rung.value for rung in ladder.rungs if rung.per == per] if ladder else []
        slider = _slider(tried.values[name], limits, ladder)
        if slider:
            found[name] = slider
    count = tried.values["count"]
    if count.isdigit() and 0 < int(count[:4]) <= 100:
        found["count"] = Slider(tuple(str(n) for n in range(1, 101)), int(count) - 1)
    return found


def _slider(text: str, limits: list[Decimal], ladder: Ladder | None) -> Slider | None:
    try:
        read = read_quantity(text)
    except Unreadable:
        return None
    unit = "L" if is_volume(read) else "kg"
    here = to(read, unit)
    found = stops(limits if ladder and ladder.unit == unit else (), here, unit)
    return Slider(tuple(words for words, _ in found), nearest(found, here)) if found else None
