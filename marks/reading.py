"""Step 1, reading: a record's file or text to a Record, or every fault of it at once, each with its line and its cure.

>>> read_record("examples/isopropanol-three-modes.yaml").packages[0].goods[0].un
'1219'
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from marks import inner, outside
from marks import record as models
from marks.errors import Fault, RecordError, Unreadable
from marks.fields import Loc, kind_of
from marks.quantity import canonical, plain, quoted
from marks.record import Record
from marks.source import MOST_BYTES, Node, parse

NOTATIONS = {".yaml": "yaml", ".yml": "yaml", ".json": "json"}


def read_record(path: str | Path) -> Record:
    """Read a record from a .yaml, .yml or .json file. Raises RecordError with all its faults."""
    file = Path(path)
    notation = NOTATIONS.get(file.suffix.lower())
    if notation is None:
        raise _no_file(
            file, f"a name that ends in {quoted(file.suffix)}", "it does not say YAML or JSON", "name it .yaml or .json"
        )
    try:
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise _no_file(
            file, "no record", f"the file can't be read: {error.strerror or error}", "check its name and place"
        ) from None
    return read_text(data, str(path), notation)


def read_text(text: str | bytes, name: str = "record", notation: str = "yaml") -> Record:
    """Read a record from its text in ``yaml`` or ``json``; ``name`` stands for the file. Raises RecordError."""
    root, told = parse(text, notation)
    faults = [Fault(name, line, path_of(loc), error.read, error.why, error.write) for line, loc, error in told]
    if root is None:
        raise RecordError(faults)
    if not isinstance(root.value, dict):
        write = "begin with record: sixface/1, and one key on each line"
        raise RecordError(
            [*faults, Fault(name, root.line, "record", kind_of(root.plain()), "a record is a group of keys", write)]
        )
    try:
        record = Record.model_validate(root.plain())
    except ValidationError as error:
        raise RecordError([*faults, *_faults(error, name, root)]) from None
    if faults:
        raise RecordError(faults)
    return record


def record_from(data: Mapping[str, Any], name: str = "record") -> Record:
    """Make a record from keys and values in Python. Raises RecordError; its faults have no lines."""
    try:
        return Record.model_validate(data)
    except ValidationError as error:
        raise RecordError(_faults(error, name, None)) from None


def digest(record: Record) -> str:
    """SHA-256 of what the record says, whatever the notation, the order of keys and the units (1 L is 1000 mL)."""
    text = json.dumps(_normal(record), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def path_of(loc: Loc) -> str:
    """The way to a place in the record, counting from 1: ``packages[1].goods[2].net``; ``record`` for the whole."""
    path = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in loc).lstrip(".")
    return quoted(path, 150)[1:-1] if path else "record"


def _no_file(file: Path, read: str, why: str, write: str) -> RecordError:
    return RecordError([Fault(str(file), 0, "record", read, why, write)])


def _same(value: Any, default: Any) -> bool:
    return type(value) is type(default) and value == default


def _normal(value: Any) -> Any:
    """A value as text, lists and dicts in which equal things are equal."""
    if isinstance(value, BaseModel):
        fields = type(value).model_fields  # what is as it would be unsaid is left out: new keys change no old digest
        return {key: _normal(v) for key, v in value if not _same(v, fields[key].default)}
    if isinstance(value, Mapping):
        return {str(key): _normal(v) for key, v in value.items()}
    if isinstance(value, tuple):
        return [_normal(v) for v in value]
    if isinstance(value, bool | int | str):
        return value if isinstance(value, bool | int) else str(value)
    if isinstance(value, Decimal):
        return plain(value)
    if isinstance(value, date):
        return value.isoformat()
    return canonical(value)


# --- pydantic's errors in our words ---------------------------------------------------------------

# The model behind a key, and how a missing key is written.
_MODELS: dict[str, type[BaseModel]] = {
    "": models.Record, "shipper": models.Party, "consignee": models.Party, "responsible_person": models.Person,
    "packages": models.Package, "preprinted": outside.Preprinted, "keep_clear": outside.KeepClear,
    "goods": models.Goods, "inner": inner.Inner, "batteries": models.Batteries, "coolant": models.Coolant,
    "overpacks": models.Overpack, "box": outside.BoxSize, "drum": outside.DrumSize,
    "inside": inner.InsideSize, "filling": inner.Filling, "certificate": inner.Certificate,
    "distances": inner.Distances, "vapour_pressure": inner.VapourPressure,
    "hazardous_substance": models.HazardousSubstance,
}  # fmt: skip
_EXAMPLES = {
    "record": "sixface/1", "reference": "HR-20458", "date": "2026-11-25", "modes": "[road, sea]",
    "shipper": "{name: Example Ltd, address: [1 Example Street, 5003 Bergen], country: NO}",
    "consignee": "{name: Example Ltd, address: [1 Example Street, 20095 Hamburg], country: DE}",
    "responsible_person": '{name: A. Example, phone: "+47 00 00 00 01"}', "name": "Example Ltd",
    "address": "[1 Example Street, 5003 Bergen]", "country": "NO", "phone": '"+47 00 00 00 01"',
    "packages": "[{package: A, ...}]", "package": "A", "packaging": "4G", "gross_mass": "11.6 kg",
    "size": "{length: 380 mm, width: 285 mm, height: 310 mm}", "length": "380 mm", "width": "285 mm",
    "height": "310 mm", "diameter": "380 mm", "coolant": "{un: 1845, mass: 6 kg}", "mass": "6 kg",
    "preprinted": "[{mark: orientation-arrows, face: left}]", "mark": "orientation-arrows",
    "keep_clear": "[{face: front, x: 0 mm, y: 0 mm, width: 120 mm, height: 60 mm}]", "face": "front",
    "x": "0 mm", "y": "0 mm", "goods": "[{un: 1219, net: 4 L}]", "un": "1219",
    "inner": "{count: 4, holds: 1 L, of: glass bottle}", "count": "4", "holds": "1 L", "of": "glass bottle",
    "packing_instruction": '{air: "364"}', "kind": "cells", "arrangement": "alone",
    "batteries": "{kind: cells, count: 8, arrangement: alone}", "overpacks": "[{overpack: P1, packages: [A, A]}]",
    "overpack": "P1", "filling": "{of: vermiculite, litre_takes: 250 mL}", "bottom": "20 mm", "sides": "20 mm",
    "between": "20 mm", "top": "20 mm", "distances": "{bottom: 20 mm, sides: 20 mm, between: 20 mm, top: 20 mm}",
    "certificate": "{inner_gross_mass: 4 kg}", "vapour_pressure": "{at_50: 25 kPa}", "rq": "100 lb",
    "inside": "{length: 370 mm, width: 275 mm, height: 300 mm}",
}  # fmt: skip
_TAGS = {"box", "drum", "one", "by-mode", "[key]"}


def _faults(error: ValidationError, name: str, root: Node | None) -> Iterator[Fault]:
    for e in error.errors(include_url=False):
        loc, line, broken = _place(e["loc"], root)
        if not broken:
            told = _told(e)
            yield Fault(name, line, path_of(loc), told.read, told.why, told.write)


def _place(loc: Loc, root: Node | None) -> tuple[Loc, int, bool]:
    """The place without pydantic's own steps, its line, and whether its fault is told already."""
    if root is None:
        return tuple(step for step in loc if step not in _TAGS), 0, False
    node, line = root, root.line
    steps: list[str | int] = []
    for step in loc:
        inside = node.value
        if isinstance(inside, dict) and step in inside:
            node = inside[str(step)]
        elif isinstance(inside, list) and isinstance(step, int):
            node = [n for n in inside if not n.broken][step]
            step = inside.index(node)
        elif step in _TAGS:
            continue
        else:  # a key that is missing: its group's line must do
            return (*steps, step), line, False
        steps.append(step)
        line = node.key_line
        if node.broken:
            return tuple(steps), line, True
    return tuple(steps), node.key_line if isinstance(node.value, dict | list) else node.line, False


def _told(e: Any) -> Unreadable:
    """What pydantic found, as what was read, why it can't stand and what to write."""
    context = e.get("ctx", {})
    if isinstance(own := context.get("error"), Unreadable):
        return own
    words = [step for step in e["loc"] if isinstance(step, str) and step not in _TAGS]
    key = words[-1] if words else "record"
    read, example = kind_of(e["input"]), _EXAMPLES.get(key, "...")
    match e["type"]:
        case "missing":
            return Unreadable(f"no {key}", "it can't be left out", f"write {key}: {example}")
        case "extra_forbidden":
            from difflib import get_close_matches

            known = list(_MODELS[_model_key(e["loc"])].model_fields)
            near = get_close_matches(key, known, 1, 0.5)
            write = f"write {near[0]} if that is meant" if near else f"write one of {', '.join(known)}"
            return Unreadable(f"the key {quoted(key)}", "there is no such key here", write)
        case "enum" | "literal_error":
            known_words = context["expected"].replace("'", "")
            return Unreadable(read, "it is none of the words known here", f"write {known_words}")
        case "model_type" | "dict_type":
            return Unreadable(read, "a group of keys belongs here", f"write it as in {key}: {example}")
    return Unreadable(read, e["msg"][0].lower() + e["msg"][1:], "write it as the schema of the record shows")


def _model_key(loc: Loc) -> str:
    return next((str(step) for step in reversed(loc[:-1]) if step in _MODELS), "")
