"""A stock file: label sheets that are cut already, described in YAML; read as strictly as a record, every fault at once.

stock: sixface/1
name: two to the sheet
sheet: A4                                   # or {width: 210 mm, height: 297 mm}
columns: 1
rows: 2
label: {width: 190 mm, height: 138 mm}
pitch: {down: 142 mm}                       # from one label's edge to the next one's; across too where columns > 1
margins: {left: 10 mm, top: 8.5 mm}         # from the sheet's edges to the first label
corner: 3 mm                                # left out: square corners
"""

# No annotations from __future__: pydantic reads them, and would have to make types of their texts first.
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ValidationError

from layouts.errors import StockError
from layouts.stock import LARGEST, LEAST, Places, Stock, read_stock
from marks.errors import Fault, RecordError, Unreadable
from marks.fields import Count, Line, Model, kind_of
from marks.quantity import Length, Offset, plain, quoted, to
from marks.source import MOST_BYTES, Node, parse

NOTATIONS = {".yaml": "yaml", ".yml": "yaml", ".json": "json"}
_MOST = 100  # columns, and rows


def stock_of(text: str) -> Stock:
    """A stock by name or size, or as a file describes it. StockError, or RecordError with every fault of the file."""
    return read_stock_file(text) if Path(text).suffix.lower() in NOTATIONS else read_stock(text)


def read_stock_file(path: str | Path) -> Stock:
    """Die-cut sheets as a file describes them. RecordError with every fault, each with its line."""
    file = Path(path)
    try:
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        why = f"the file can't be read: {error.strerror or error}"
        raise RecordError([Fault(str(path), 0, "stock", "no stock file", why, "check its name and place")]) from None
    return read_stock_text(data, str(path), NOTATIONS[file.suffix.lower()])


def read_stock_text(text: str | bytes, name: str = "stock", notation: str = "yaml") -> Stock:
    """The same from its text. RecordError."""
    if not text.strip():
        raise RecordError(
            [Fault(name, 1, "stock", "an empty file", "it holds no stock", "begin with stock: sixface/1")]
        )
    root, told = parse(text, notation)
    faults = [Fault(name, line, _path(loc), one.read, one.why, one.write) for line, loc, one in told]
    if root is None or not isinstance(root.value, dict):
        more = [] if root is None else [_fault(name, root, (), _no_group(root))]
        raise RecordError([*faults, *more])
    try:
        held = _File.model_validate(root.plain())
    except ValidationError as error:
        found = (one for one in error.errors(include_url=False) if not _is_told(root, one["loc"]))
        faults += [_fault(name, root, one["loc"], _told(one)) for one in found]
        raise RecordError(faults) from None
    faults += [_fault(name, root, loc, one) for loc, one in _misfits(held)]
    if faults:
        raise RecordError(faults)
    return _stock(held)


# --- what may stand in it --------------------------------------------------------------------------------------------


class _Size(Model):
    width: Length
    height: Length


class _Pitch(Model):
    across: Length | None = None
    down: Length | None = None


class _Margins(Model):
    left: Offset
    top: Offset


def _named(value: object) -> object:
    """A sheet by its name becomes its width and height."""
    if not isinstance(value, str):
        return value
    try:
        sheet = read_stock(value)
    except StockError:
        sheet = None
    if sheet is None or sheet.places is not None:
        why, write = "no sheet is called so", "write A4, Letter or {width: 210 mm, height: 297 mm}"
        raise Unreadable(quoted(value), why, write)
    return {"width": f"{sheet.width:g} mm", "height": f"{sheet.height:g} mm"}


class _File(Model):
    stock: Literal["sixface/1"]
    name: Line
    sheet: Annotated[_Size, BeforeValidator(_named)]
    columns: Count
    rows: Count
    label: _Size
    pitch: _Pitch = _Pitch()
    margins: _Margins
    corner: Offset | None = None


_EXAMPLES = {
    "stock": "sixface/1", "name": "two to the sheet", "sheet": "A4", "columns": "1", "rows": "2",
    "label": "{width: 190 mm, height: 138 mm}", "width": "190 mm", "height": "138 mm", "pitch": "{down: 142 mm}",
    "margins": "{left: 10 mm, top: 8.5 mm}", "left": "10 mm", "top": "8.5 mm", "corner": "3 mm",
}  # fmt: skip
_MODELS: dict[str, type[Model]] = {"sheet": _Size, "label": _Size, "pitch": _Pitch, "margins": _Margins}


def _misfits(held: _File) -> Iterator[tuple[tuple[str, ...], Unreadable]]:
    """Where the numbers contradict each other, each with its place. All in exact decimals."""
    for side, many, step, edge in (("width", "columns", "across", "left"), ("height", "rows", "down", "top")):
        sheet, label = (to(getattr(of, side), "mm") for of in (held.sheet, held.label))
        first, pitch, count = to(getattr(held.margins, edge), "mm"), getattr(held.pitch, step), getattr(held, many)
        if not Decimal(str(LEAST)) <= sheet <= Decimal(str(LARGEST)):
            why = f"a sheet's {side} is {LEAST:.0f} to {LARGEST:.0f} mm"
            yield ("sheet", side), Unreadable(_mm(sheet), why, "write the size of the whole sheet")
        if count > _MOST:
            yield (many,), Unreadable(str(count), f"no sheet has so many {many}", f"write at most {_MOST}")
            continue
        if count > 1 and pitch is None:
            why = f"with {count} {many} it can't be left out"
            yield ("pitch", step), Unreadable(f"no {step}", why, f"write {step}: {_mm(label)} or more")
            continue
        apart = label if pitch is None else to(pitch, "mm")
        if apart < label:
            why = f"labels of {_mm(label)} would lie over each other"
            yield ("pitch", step), Unreadable(_mm(apart), why, f"write {_mm(label)} or more")
        elif (end := first + apart * (count - 1) + label) > sheet:
            why = f"{many} of it end {_mm(end)} from the {edge}, the sheet at {_mm(sheet)}"
            write = f"write fewer {many}, or a smaller margin, pitch or label"
            yield (many,), Unreadable(str(count), why, write)
    if held.corner is not None:
        most = min(to(held.label.width, "mm"), to(held.label.height, "mm")) / 2
        if (corner := to(held.corner, "mm")) > most:
            why = "a corner's radius is at most half the label's shorter side"
            yield ("corner",), Unreadable(_mm(corner), why, f"write at most {_mm(most)}")


def _stock(held: _File) -> Stock:
    def mm(length: Any, usual: Any = None) -> float:
        return float(to(length if length is not None else usual, "mm"))

    label, pitch = held.label, held.pitch
    places = Places(
        held.columns, held.rows, mm(label.width), mm(label.height),
        mm(pitch.across, label.width), mm(pitch.down, label.height), mm(held.margins.left), mm(held.margins.top),
        0.0 if held.corner is None else mm(held.corner),
    )  # fmt: skip
    return Stock(held.name, mm(held.sheet.width), mm(held.sheet.height), 6.0, False, places)


def _mm(length: Decimal) -> str:
    return f"{plain(length)} mm"


# --- its faults ------------------------------------------------------------------------------------------------------


def _fault(name: str, root: Node, loc: tuple[str | int, ...], told: Unreadable) -> Fault:
    """At the line of the place, or of the group that lacks it."""
    node, line = root, root.line
    for step in loc:
        if not isinstance(node.value, dict) or step not in node.value:
            break
        node = node.value[str(step)]
        line = node.key_line
    return Fault(name, line, _path(loc), told.read, told.why, told.write)


def _is_told(root: Node, loc: tuple[str | int, ...]) -> bool:
    """Whether the notation was at fault there already: what the place says is void then."""
    node = root
    for step in loc:
        if not isinstance(node.value, dict) or step not in node.value:
            return False
        node = node.value[str(step)]
        if node.broken:
            return True
    return False


def _path(loc: tuple[str | int, ...]) -> str:
    return ".".join(map(str, loc)) or "stock"


def _no_group(root: Node) -> Unreadable:
    write = "begin with stock: sixface/1, and one key on each line"
    return Unreadable(kind_of(root.plain()), "a stock file is a group of keys", write)


def _told(error: Any) -> Unreadable:
    """What pydantic found, as what was read, why it can't stand and what to write."""
    if isinstance(own := error.get("ctx", {}).get("error"), Unreadable):
        return own
    key = str(error["loc"][-1]) if error["loc"] else "stock"
    example = _EXAMPLES.get(key, "...")
    match error["type"]:
        case "missing":
            return Unreadable(f"no {key}", "it can't be left out", f"write {key}: {example}")
        case "extra_forbidden":
            from difflib import get_close_matches

            above = str(error["loc"][-2]) if len(error["loc"]) > 1 else ""
            known = list(_MODELS.get(above, _File).model_fields)
            near = get_close_matches(key, known, 1, 0.6)
            write = f"write {near[0]} if that is meant" if near else f"write one of {', '.join(known)}"
            return Unreadable(f"the key {quoted(key)}", "there is no such key here", write)
        case "literal_error":
            return Unreadable(kind_of(error["input"]), "that form is not held", f"write {example}")
    return Unreadable(kind_of(error["input"]), "a group of keys belongs here", f"write it as in {key}: {example}")
