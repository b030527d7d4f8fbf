"""A batch as a table: CSV or XLSX with one row per package content, to records. Step 1 for shops that keep their orders so.

Rows of one reference are one record, rows of one package letter in it one package, and every row one line of goods. What
belongs to the record or the package stands in its first row; below, the cell is empty or says the same. ``COLUMNS`` is the
whole form; ``template()`` prints it (``sixface schema csv``).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from marks.errors import Fault, RecordError
from marks.quantity import quoted

if TYPE_CHECKING:
    from marks.record import Record

#: column -> (where it goes, what it holds). The first word of the place says whose it is: record, package or goods.
COLUMNS: dict[str, tuple[str, str]] = {
    "reference": ("record.reference", "the shipper's own number; rows of one reference are one record"),
    "date": ("record.date", "the day the shipment is offered, 2026-11-25"),
    "modes": ("record.modes", "legs, parted by spaces: road sea air us-ground"),
    "aircraft": ("record.aircraft", "passenger or cargo, if booked"),
    "shipper": ("record.shipper.name", "name"),
    "shipper_address": ("record.shipper.address", "lines of the address, parted by |"),
    "shipper_country": ("record.shipper.country", "two capital letters, NO"),
    "shipper_phone": ("record.shipper.phone", "telephone"),
    "consignee": ("record.consignee.name", "name"),
    "consignee_address": ("record.consignee.address", "lines of the address, parted by |"),
    "consignee_country": ("record.consignee.country", "two capital letters"),
    "emergency_phone": ("record.emergency_phone", "telephone"),
    "responsible_person": ("record.responsible_person.name", "name, where the goods ask for one"),
    "responsible_phone": ("record.responsible_person.phone", "telephone"),
    "package": ("package.package", "the shipper's letter; rows of one letter are one package"),
    "count": ("package.count", "identical packages"),
    "packaging": ("package.packaging", "code: 4G, 1A1, ... or none, cylinder"),
    "form": ("package.form", "box, drum, ... where the code does not say"),
    "spec_mark": ("package.spec_mark", "the UN specification mark as it stands there"),
    "length": ("package.size.length", "with unit, 380 mm"),
    "width": ("package.size.width", "with unit"),
    "diameter": ("package.size.diameter", "with unit, of what is round"),
    "height": ("package.size.height", "with unit"),
    "gross_mass": ("package.gross_mass", "with unit, 11.6 kg"),
    "capacity": ("package.capacity", "with unit, what the packaging may hold"),
    "max_net": ("package.max_net", "with unit, the largest net mass"),
    "preprinted": ("package.preprinted", "marks the packaging bears, parted by spaces"),
    "un": ("goods.un", "number, four figures"),
    "name": ("goods.name", "proper shipping name, where the entry offers several"),
    "packing_group": ("goods.packing_group", "I, II or III, where the entry offers several"),
    "line": ("goods.line", "the list's line, where several are left"),
    "technical_name": ("goods.technical_name", "where the entry asks for one"),
    "state": ("goods.state", "liquid, solid, gas, article, where it can't be derived"),
    "inner_count": ("goods.inner.count", "inner packagings in one package"),
    "inner_holds": ("goods.inner.holds", "with unit, what one of them holds"),
    "inner_of": ("goods.inner.of", "glass bottle, plastic can, ..."),
    "absorbent": ("goods.inner.absorbent", "none, some or full"),
    "gas_tight": ("goods.inner.gas_tight", "true or false"),
    "net": ("goods.net", "with unit, in one package"),
    "ship_as": ("goods.ship_as", "full, limited, excepted; or by leg: road=limited air=full"),
    "environmentally_hazardous": ("goods.environmentally_hazardous", "true or false"),
}  # fmt: skip
_LISTS = {"modes": " ", "preprinted": " ", "shipper_address": "|", "consignee_address": "|"}
#: A spreadsheet turns these into numbers; they are text here, and leading noughts may be gone.
_FOUR_FIGURES = "un"
MOST_ROWS = 200_000
_Row = tuple[int, tuple[str, ...]]
_Cells = tuple[list[str], Iterator[_Row], tuple[str, ...]]


class Batched(Struct, frozen=True):
    """One record of a table: its reference and first row, and the record or its faults."""

    reference: str
    row: int
    record: Record | None
    error: RecordError | None
    notes: tuple[str, ...] = ()


class Gathered(Struct, frozen=True):
    """The rows of one reference as they stand in a table, to be read when their turn comes: a batch is long, and cells take
    a hundredth of the room that a record takes. rows: number and cells, below ``head``."""

    table: str
    reference: str
    head: tuple[str, ...]
    rows: list[tuple[int, tuple[str, ...]]]
    notes: tuple[str, ...] = ()

    @property
    def first(self) -> int:
        """The number of the first row, as a spreadsheet counts."""
        return self.rows[0][0]

    def read(self) -> Batched:
        """The record, or its faults, each naming its row."""
        members = [(number, _said(self.head, cells)) for number, cells in self.rows]
        return _batched(self.table, self.reference, members, self.notes)


def template() -> str:
    """The head of the table, and below it one example row of an invented firm, as CSV."""
    example = {
        "reference": "HD-26-0201", "date": "2026-11-25", "modes": "road sea", "shipper": "Havskar & Datter Kjemiske Verk AS",
        "shipper_address": "Oppdiktetveien 7 | 5999 Fiktvik", "shipper_country": "NO", "consignee": "Labor Quittenhof GmbH",
        "consignee_address": "Erfundene Straße 12 | 20999 Hamburg", "consignee_country": "DE", "package": "A", "count": "2",
        "packaging": "4G", "spec_mark": "4G/Y24/S/26/N/NP-2207", "length": "400 mm", "width": "300 mm", "height": "330 mm",
        "gross_mass": "9.4 kg", "un": "1219", "name": "ISOPROPANOL", "inner_count": "4", "inner_holds": "1 L",
        "inner_of": "glass bottle", "absorbent": "full", "ship_as": "full",
    }  # fmt: skip
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerow([example.get(column, "") for column in COLUMNS])
    return out.getvalue().rstrip("\n")


def read_table(path: str | Path) -> Iterator[Batched]:
    """The records of a .csv or .xlsx file, one after the other, in the order of their first rows.

    Raises RecordError as ``gathered``; faults of one record come with that record, each naming its row.
    """
    return (one.read() for one in gathered(path))


def gathered(path: str | Path) -> list[Gathered]:
    """The rows of a .csv or .xlsx file by their reference, in the order of their first rows.

    Raises RecordError where the table itself can't be read (no such file, a column that is not known, no rows).
    """
    file = Path(path)
    head, rows, notes = _cells(file)
    _check_head(str(path), head)
    groups: dict[str, list[tuple[int, tuple[str, ...]]]] = {}
    for number, cells in rows:
        if said := _said(head, cells):
            groups.setdefault(said.get("reference", ""), []).append((number, cells))
    if not groups:
        raise _fault(
            str(path),
            1,
            "rows",
            "no row below the head",
            "there is nothing to make",
            "write one row per package content",
        )
    columns = tuple(head)
    return [Gathered(str(path), reference, columns, members, notes) for reference, members in groups.items()]


def _said(head: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    return {column: cell for column, cell in zip(head, cells, strict=False) if cell}


def _shared(rows: Iterable[Iterable[str]]) -> list[tuple[str, ...]]:
    """The cells, each text held once: most columns say the same in row after row."""
    held: dict[str, str] = {}
    return [tuple([held.setdefault(cell, cell) for cell in row]) for row in rows]


def _batched(
    name: str, reference: str, members: Sequence[tuple[int, dict[str, str]]], notes: tuple[str, ...]
) -> Batched:
    from marks.reading import record_from

    first = members[0][0]
    data, where, faults = _assembled(name, members)
    if not reference:
        faults.append(
            Fault(name, first, "reference", "nothing", "rows are gathered by it", "write reference in every row")
        )
    try:
        record = record_from(data, name)
    except RecordError as error:
        faults += [replace(fault, line=_row_of(fault.path, where, first)) for fault in error.faults]
        record = None
    return Batched(reference, first, None if faults else record, RecordError(faults) if faults else None, notes)


def _assembled(
    name: str, members: Sequence[tuple[int, dict[str, str]]]
) -> tuple[dict[str, Any], dict[str, int], list[Fault]]:
    """The record's keys and values, the row of every package and goods line by its path, and what contradicts itself."""
    data: dict[str, Any] = {"record": "sixface/1"}
    packages: dict[str, dict[str, Any]] = {}
    where: dict[str, int] = {}
    faults: list[Fault] = []
    for number, said in members:
        letter = said.get("package", "")
        package = packages.setdefault(letter, {"goods": []})
        index = list(packages).index(letter) + 1
        goods: dict[str, Any] = {}
        where.setdefault(f"packages[{index}]", number)
        where[f"packages[{index}].goods[{len(package['goods']) + 1}]"] = number
        for column, cell in said.items():
            owner, *steps = COLUMNS[column][0].split(".")
            target = {"record": data, "package": package, "goods": goods}[owner]
            for step in steps[:-1]:
                target = target.setdefault(step, {})
            value = _value(column, cell)
            had = target.setdefault(steps[-1], value)
            if had != value:
                faults.append(
                    Fault(
                        name,
                        number,
                        column,
                        quoted(cell),
                        f"an earlier row of the same {owner} says {quoted(str(had))}",
                        "say the same, or leave the cell empty",
                    )
                )
        package["goods"].append(goods)
    data["packages"] = list(packages.values())
    return data, where, faults


def _value(column: str, cell: str) -> Any:
    if column in _LISTS:
        return [part for part in (piece.strip() for piece in cell.split(_LISTS[column])) if part]
    if column == "ship_as" and "=" in cell:
        return dict(pair.split("=", 1) for pair in cell.split() if "=" in pair)
    return cell


def _row_of(path: str, where: dict[str, int], first: int) -> int:
    """The row a path of the record comes from: that of its goods line, else of its package, else the record's first."""
    known = [key for key in where if path.startswith(key)]
    return where[max(known, key=len)] if known else first


def _check_head(name: str, head: Sequence[str]) -> None:
    faults = []
    for column in head:
        if column not in COLUMNS:
            faults.append(
                Fault(
                    name, 1, "columns", quoted(column), "there is no such column", f"write one of {', '.join(COLUMNS)}"
                )
            )
    for column in dict.fromkeys(head):
        if head.count(column) > 1:
            faults.append(
                Fault(name, 1, "columns", quoted(column), "the column stands there twice", "keep one of them")
            )
    if faults:
        raise RecordError(faults)


def _cells(file: Path) -> _Cells:
    """Head and rows as text, counted from 1 as a spreadsheet counts them; notes on what was mended."""
    try:
        if file.suffix.lower() == ".xlsx":
            return _xlsx(file)
        text = file.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise _fault(
            str(file),
            0,
            "table",
            "no table",
            f"the file can't be read: {error.strerror or error}",
            "check its name and place",
        ) from None
    except UnicodeDecodeError:
        raise _fault(
            str(file), 0, "table", "bytes that are no UTF-8", "names could be wrong", "save the table as CSV in UTF-8"
        ) from None
    delimiter = ";" if text.partition("\n")[0].count(";") > text.partition("\n")[0].count(",") else ","
    try:
        reader = csv.reader(io.StringIO(text), delimiter=delimiter, strict=True)
        rows = _shared([cell.strip() for cell in row] for row in reader)
    except csv.Error as error:
        raise _fault(str(file), 0, "table", "no CSV", str(error), "save the table anew") from None
    return _split(str(file), rows, ())


def _xlsx(file: Path) -> _Cells:
    try:
        from openpyxl import load_workbook
    except ImportError:
        raise _fault(
            str(file),
            0,
            "table",
            "an XLSX file",
            "openpyxl is not installed",
            "install sixface[xlsx], or save the table as CSV",
        ) from None
    try:
        sheet = load_workbook(file, read_only=True, data_only=True).worksheets[0]
        rows = _shared([_shown(cell) for cell in row] for row in sheet.iter_rows(values_only=True))
    except OSError:
        raise
    except Exception as error:  # whatever a broken workbook raises inside its library
        raise _fault(
            str(file), 0, "table", "no workbook", f"it can't be opened ({type(error).__name__})", "save the table anew"
        ) from None
    head, below, notes = _split(str(file), rows, ())
    return (
        head,
        _numbers_mended(head, below),
        (*notes, "numbers of a spreadsheet were read as text; leading noughts of un were put back"),
    )


def _shown(cell: object) -> str:
    """A spreadsheet's value as its text: 1219.0 is 1219, a date its day."""
    if cell is None:
        return ""
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if hasattr(cell, "strftime"):
        return str(cell)[:10]
    return str(cell).strip()


def _numbers_mended(head: Sequence[str], rows: Iterator[_Row]) -> Iterator[_Row]:
    for number, cells in rows:
        yield (
            number,
            tuple(
                cell.zfill(4) if column == _FOUR_FIGURES and cell.isdigit() else cell
                for column, cell in zip(head, cells, strict=False)
            ),
        )


def _split(name: str, rows: list[tuple[str, ...]], notes: tuple[str, ...]) -> _Cells:
    if not rows:
        raise _fault(
            name, 1, "table", "nothing", "the first row holds the columns' names", "begin with sixface schema csv"
        )
    if len(rows) > MOST_ROWS:
        raise _fault(
            name, 1, "table", f"{len(rows)} rows", f"more than {MOST_ROWS} are not read at once", "part the table"
        )
    head = list(rows[0])
    while head and not head[-1]:
        head.pop()
    return head, iter(enumerate(rows[1:], 2)), notes


def _fault(name: str, line: int, path: str, read: str, why: str, write: str) -> RecordError:
    return RecordError([Fault(name, line, path, read, why, write)])
