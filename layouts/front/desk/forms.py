"""The form as it is shown: of all fields those that are asked, hold something, or are at fault."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from layouts.front.desk import fields as table
from layouts.front.desk.asks import asked_by
from layouts.front.desk.consider import Considered, modes_of
from layouts.front.desk.entries import Goods, goods_entry
from layouts.front.desk.fields import WHOLE, Field, Group, Part
from layouts.front.desk.options import options_of
from layouts.front.desk.tree import Steps, Tree, name_of, steps_of, value_at
from marks.errors import Fault, Unreadable
from marks.packaging import Packaging, read_code
from marks.terms import Mode, PackageForm, State


@dataclass(frozen=True)
class Line:
    """A field on the page. value: a text, or several for boxes to tick; options: value and words; wants: it has to be
    said and is not; faults: in the words of the command line; note: what was understood."""

    name: str
    field: Field
    value: Any = ""
    options: tuple[tuple[str, str], ...] = ()
    faults: tuple[str, ...] = ()
    wants: str = ""
    note: str = ""
    goods: Goods | None = None

    @property
    def id(self) -> str:
        return f"f-{self.name.replace('.', '-')}"


@dataclass(frozen=True)
class Boxed:
    """A group on the page. name: of it or of its row. more: details that can be added; row: it is one of several."""

    name: str
    title: str
    children: tuple[Line | Boxed, ...] = ()
    more: tuple[tuple[str, str], ...] = ()
    faults: tuple[str, ...] = ()
    wants: str = ""
    row: bool = False
    may_go: bool = False
    add: str = ""
    level: int = 2

    @property
    def id(self) -> str:
        return f"f-{self.name.replace('.', '-')}" if self.name else "f-record"


@dataclass
class Form:
    """What is shown of a record, and the faults that have no field on the page."""

    top: Boxed
    lost: tuple[Fault, ...] = ()
    faulty: list[tuple[str, str, str]] = field(default_factory=list)
    wanting: int = 0


def form_of(tree: Tree, considered: Considered, opened: Iterable[str] = (), focus: str = "") -> Form:
    """tree: as ``for_form`` gives it. opened: names that somebody added. focus: the field the cursor is in."""
    return _Maker(tree, considered, frozenset(opened), focus).form()


def name_of_path(path: str) -> str:
    """``packages[1].goods[2].net`` as the name of its field."""
    return re.sub(r"\[(\d+)\]", lambda m: f".{int(m[1]) - 1}", "" if path == "record" else path)


class _Maker:
    def __init__(self, tree: Tree, considered: Considered, opened: frozenset[str], focus: str) -> None:
        self.tree, self.opened, self.focus = tree, opened, focus
        self.faults: dict[str, list[Fault]] = defaultdict(list)
        for fault in considered.faults:
            self.faults[_on_page(name_of_path(fault.path), tree)].append(fault)
        self.asked = asked_by(considered.planned) if considered.planned else set()
        self.modes = modes_of(tree)
        self.told: set[str] = set()
        self.faulty: list[tuple[str, str, str]] = []
        self.wanting = 0

    def form(self) -> Form:
        top = self._group(WHOLE, (), 1)
        lost = tuple(one for name, faults in self.faults.items() if name not in self.told for one in faults)
        return Form(top, lost, self.faulty, self.wanting)

    # --- fields and groups ------------------------------------------------------------------------------------------

    def _group(self, group: Group, steps: Steps, level: int, title: str = "", row: bool = False) -> Boxed:
        facts = _Facts(self.tree, steps, self.modes)
        children: list[Line | Boxed] = []
        more: list[tuple[str, str]] = []
        for part in group.parts:
            at = (*steps, part.key)
            if not self._shown(part, at, facts):
                if part.asked == table.DETAIL or (part.key == "inner" and facts.code):
                    more.append((name_of(at), part.label))
                continue
            if isinstance(part, Field):
                children.append(self._line(part, at, facts))
            elif part.many:
                children.append(self._rows(part, at, level + 1))
            else:
                children.append(self._group(part, at, level + 1))
        name = name_of(steps)
        faults, wants = self._told(name, steps, title or group.label)
        return Boxed(
            name, title or group.label, tuple(children), tuple(more), faults, wants, row, row and self._may_go(steps),
            level=level,
        )  # fmt: skip

    def _rows(self, group: Group, steps: Steps, level: int) -> Boxed:
        members = value_at(self.tree, steps) or []
        rows = []
        for i, member in enumerate(members):
            said = member.get(group.key.removesuffix("s")) if isinstance(member, dict) else None
            title = f"{group.one} {said}" if said else f"{group.one} {i + 1}" if len(members) > 1 else group.one
            rows.append(self._group(group, (*steps, i), level, title, row=True))
        name = name_of(steps)
        faults, wants = self._told(name, steps, group.label)
        return Boxed(name, group.label, tuple(rows), (), faults, wants, add=f"Another {group.one.lower()}", level=level)

    def _may_go(self, steps: Steps) -> bool:
        members = value_at(self.tree, steps[:-1]) or []
        return len(members) > 1 or steps[-2] not in ("packages", "goods")

    def _line(self, part: Field, steps: Steps, facts: _Facts) -> Line:
        name = name_of(steps)
        value = value_at(self.tree, steps)
        if part.kind == "lines":
            value = "\n".join(value or ())
        elif part.kind == "words":
            value = ", ".join(value) if isinstance(value, list) else value
        faults, wants = self._told(name, steps, part.label)
        goods = facts.goods if part.kind == "un" else None
        return Line(name, part, value or ("" if part.kind != "many" else []),
                    options_of(part, facts.goods, value if isinstance(value, str) else ""),
                    faults, wants, facts.understood(part.kind), goods)  # fmt: skip

    def _told(self, name: str, steps: Steps, label: str) -> tuple[tuple[str, ...], str]:
        """What is said beside a field: faults of what is written, or what is still to be written."""
        self.told.add(name)
        found = self.faults.get(name, [])
        empty = value_at(self.tree, steps) in (None, "", {}, []) and steps
        if empty and found:
            self.wanting += 1
            return (), found[0].write if found[0].read.startswith("no ") else f"{found[0].why}; {found[0].write}"
        texts = tuple(f"{one.read}; {one.why}; {one.write}" for one in found)
        self.faulty += [(f"f-{name.replace('.', '-')}" if name else "f-record", label, text) for text in texts]
        return texts, ""

    def _shown(self, part: Part, steps: Steps, facts: _Facts) -> bool:
        name = name_of(steps)
        value = value_at(self.tree, steps)
        if value not in (None, {}, []) or name in self.asked or name in self.opened or name == self.focus:
            return True
        inside = f"{name}."
        if any(one == name or one.startswith(inside) for one in (*self.faults, *self.asked, self.focus)):
            return True
        return facts.ask(part)


class _Facts:
    """What the rest of the record says of the group a field stands in, as far as it decides whether the field is asked."""

    def __init__(self, tree: Tree, steps: Steps, modes: tuple[Mode, ...]) -> None:
        self.tree, self.steps, self.modes = tree, steps, modes
        package = value_at(tree, steps[:2]) if steps[:1] == ("packages",) and len(steps) > 1 else None
        self.package = package if isinstance(package, dict) else {}
        self.code = self._read_code()
        line = value_at(tree, steps[:4]) if len(steps) >= 4 and steps[2] == "goods" else None
        self.line = line if isinstance(line, dict) else {}
        self.goods = goods_entry(self.line) if len(steps) >= 4 else None

    def _read_code(self) -> Packaging | None:
        try:
            return read_code(str(self.package["packaging"])) if "packaging" in self.package else None
        except Unreadable:
            return None

    @property
    def round(self) -> bool:
        form = str(self.package.get("form") or (self.code.form if self.code and self.code.form else ""))
        size = self.package.get("size")
        if form == PackageForm.JERRICAN:
            return isinstance(size, dict) and "diameter" in size
        return form in (PackageForm.DRUM, PackageForm.CYLINDER)

    @property
    def liquid(self) -> bool:
        entry = self.goods.entry if self.goods else None
        return str(self.line.get("state") or (entry.state if entry else "") or "") in ("", State.LIQUID)

    def ask(self, part: Part) -> bool:
        """Whether the part is asked though it says nothing yet."""
        if part.key == "inner":
            return self.code is None or self.code.kind in ("box", "large")
        if part.key == "net" and self.line:
            inner = self.line.get("inner")
            return not (isinstance(inner, dict) and inner.get("count") and inner.get("holds"))
        if part.key in ("name", "packing_group", "line") and len(self.steps) == 4:
            return bool(self.goods and part.key in self.goods.asks)
        if part.key == "ship_as_by":
            return self.line.get("ship_as") == "by mode"
        return {
            table.ALWAYS: True, table.DETAIL: False, table.AIR: Mode.AIR in self.modes, table.LIQUID: self.liquid,
            table.BOX: not self.round, table.ROUND: self.round,
            table.PACKED: self.code is None or self.code.kind not in ("none", "cylinder"),
            table.OPEN_FORM: self.code is not None and self.code.form is None,
        }[part.asked]  # fmt: skip

    def understood(self, kind: str) -> str:
        return self.code.text if kind == "code" and self.code else ""


def _on_page(name: str, tree: Tree) -> str:
    """The name of the field that shows a fault: of a key that is shown otherwise, or of the list that holds the value."""
    steps = steps_of(name) if name else ()
    if not steps:
        return name
    part: Part | None = table.part_at(steps)
    while isinstance(part, Field) and isinstance(steps[-1], int):  # modes.1: the boxes of modes
        steps = steps[:-1]
    goods_line = len(steps) == 4 and steps[2] == "goods"
    if goods_line:  # the entry is open: beside its number
        line = value_at(tree, steps)
        if isinstance(line, dict) and line.get("un"):
            return name_of((*steps, "un"))
    while steps and table.part_at(steps) is None:
        steps = steps[:-1]
    return name_of(steps)


def lines_of(box: Boxed) -> Iterator[Line]:
    """Every field shown."""
    for child in box.children:
        if isinstance(child, Line):
            yield child
        else:
            yield from lines_of(child)
