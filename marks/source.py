"""YAML and JSON as they stand on the page: every scalar is its text, every value knows its line.

Both give one kind of tree. What a shipment record has no use for, and what hides errors, is refused with its line: a
key given twice, tags, anchors and aliases, a second document, nothing behind a key, too much, too deep. YAML is read
event by event, not built by its library, so that no value is guessed: ``0336``, ``NO``, ``1:30`` stay as written.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from json.decoder import scanstring  # type: ignore[attr-defined]
from typing import Any

from msgspec import Struct

from marks.errors import Unreadable
from marks.fields import Loc, strange
from marks.quantity import quoted

MOST_BYTES = 8 * 1024 * 1024  # a record of ten thousand packages has about half of it
DEEPEST = 12  # a record's own depth is 6

Told = tuple[int, Loc, Unreadable]


class Node(Struct, eq=False):
    """A value, the line it begins on and its key's. ``broken``: its fault is told already, what it says is void."""

    line: int
    value: str | list[Node] | dict[str, Node]
    key_line: int = 0
    broken: bool = False

    def plain(self) -> Any:
        """Text, lists and dicts, without what is broken."""
        if isinstance(self.value, dict):
            return {key: node.plain() for key, node in self.value.items() if not node.broken}
        if isinstance(self.value, list):
            return [node.plain() for node in self.value if not node.broken]
        return self.value


class _Open(Struct, eq=False):
    """A list or mapping that is being filled: its place, and the key that waits for its value, with its line."""

    node: Node
    loc: Loc
    key: str | None = None
    key_line: int = 0

    @property
    def step(self) -> Loc:
        """Where in it the next value will stand."""
        if isinstance(self.node.value, list):
            return (len(self.node.value),)
        return () if self.key is None else (self.key,)


class _Tree:
    """Grows a tree value by value, and gathers the faults of its growth."""

    def __init__(self) -> None:
        self.root: Node | None = None
        self.open: list[_Open] = []
        self.told: list[Told] = []

    @property
    def loc(self) -> Loc:
        """Where the next value will stand."""
        return self.open[-1].loc + self.open[-1].step if self.open else ()

    def tell(self, line: int, read: str, why: str, write: str) -> None:
        self.told.append((line, self.loc, Unreadable(read, why, write)))

    @property
    def wants_key(self) -> bool:
        return bool(self.open) and isinstance(self.open[-1].node.value, dict) and self.open[-1].key is None

    def key(self, text: str, line: int) -> None:
        self.open[-1].key, self.open[-1].key_line = text, line

    def add(self, node: Node) -> None:
        """Put a value where it belongs."""
        if not self.open:
            self.root = node
            return
        parent = self.open[-1]
        if isinstance(parent.node.value, list):
            node.key_line = node.line
            parent.node.value.append(node)
            return
        assert isinstance(parent.node.value, dict) and parent.key is not None
        node.key_line = parent.key_line
        if first := parent.node.value.get(parent.key):
            why = f"line {first.key_line} has that key already"
            self.tell(parent.key_line, quoted(parent.key), why, "keep one of them")
        else:
            parent.node.value[parent.key] = node
        parent.key = None

    def enter(self, node: Node) -> None:
        """Go inside a list or mapping; it is put in its place first, so that faults inside it have one."""
        loc = self.loc
        self.add(node)
        self.open.append(_Open(node, loc))
        if len(self.open) > DEEPEST:
            raise _Stop(
                node.line, loc, f"{DEEPEST} levels of lists and keys", "no record is so deep", "take levels away"
            )

    def leave(self) -> None:
        self.open.pop()

    def empty(self, line: int) -> Node:
        """A value that says nothing."""
        write = "write it after the colon, or leave the key out"
        self.tell(line, "nothing", "an empty value says neither yes nor no", write)
        return Node(line, "", broken=True)


class _Stop(Exception):
    """A fault after which no more of the file can be understood."""

    def __init__(self, line: int, loc: Loc, read: str, why: str, write: str) -> None:
        self.told: Told = (line, loc, Unreadable(read, why, write))


def parse(data: bytes | str, notation: str) -> tuple[Node | None, list[Told]]:
    """The tree of a text in ``yaml`` or ``json``, and every fault of its notation. No tree: it can't be understood."""
    if isinstance(data, str):
        data = data.encode("utf-8", "surrogatepass")
    if len(data) > MOST_BYTES:
        return None, [
            _stop(1, f"{len(data)} bytes", f"a record has at most {MOST_BYTES}", "split it into several records")
        ]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        line = data[: bad.start].count(b"\n") + 1
        why = "a record is a text in UTF-8"
        return None, [_stop(line, f"the byte 0x{data[bad.start]:02X}", why, "save the file as UTF-8 text")]
    if faults := _unprintable(text):
        return None, faults
    tree = _Tree()
    try:
        (_grow_from_json if notation == "json" else _grow_from_yaml)(tree, text)
    except _Stop as stop:
        return None, [*tree.told, stop.told]
    if tree.root is None:
        write = "begin with record: sixface/1" if notation == "yaml" else 'begin with {"record": "sixface/1"'
        return None, [*tree.told, _stop(1, "an empty file", "it holds no record", write)]
    return tree.root, tree.told


def _stop(line: int, read: str, why: str, write: str) -> Told:
    return line, (), Unreadable(read, why, write)


def _unprintable(text: str) -> list[Told]:
    """Controls and invisible characters in the file itself, one fault a line, at most ten."""
    faults = []
    for number, line in enumerate(text.split("\n"), 1):
        if bad := strange(line.removesuffix("\r"), but="\t"):
            faults.append(
                _stop(number, f"a line with {bad}", "it can't be seen, and may hide what is written", "take it out")
            )
        if len(faults) == 10:
            break
    return faults


# --- YAML -----------------------------------------------------------------------------------------

# What the YAML library finds, by a piece of its message; then why it can't stand, and what to write, in our words.
_TROUBLES = (
    ("mapping values are not allowed", "a second colon on the line begins a key where none may stand",
     'put a text that contains ": " in quotation marks, and check the indentation'),
    ("cannot start any token", "no value begins with a tab or with this sign",
     "indent with spaces, not tabs, and put a text that begins with a sign in quotation marks"),
    ("',' or ']'", "a list is not closed, or its values are not parted by commas", "close the list with ]"),
    ("',' or '}'", "a group is not closed, or its keys are not parted by commas", "close the group with }"),
    ("indicator", "a dash or key is not under the one before", "give the members of one list the same indentation"),
    ("block end", "a key or dash is not under the one before", "give the keys of one group the same indentation"),
    ("expected ':'", "a key has no colon", "put a colon and a space after the key, here or on the line above"),
    ("expected key", "a text in quotation marks, a list or a group above is not closed", "close it on its own line"),
    ("quoted scalar", "a text in quotation marks does not end", "close the quotation marks"),
)  # fmt: skip


def _grow_from_yaml(tree: _Tree, text: str) -> None:
    import yaml

    documents = 0
    try:
        for event in yaml.parse(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader)):
            assert event.start_mark is not None  # events of a text know their place
            line = event.start_mark.line + 1
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise _Stop(line, (), "a second document", "a file holds one record", "put it in a file of its own")
            elif isinstance(event, yaml.CollectionEndEvent):
                tree.leave()
            elif isinstance(event, yaml.NodeEvent):
                _yaml_value(tree, event, line, yaml)
    except yaml.MarkedYAMLError as error:
        raise _not_yaml(error, tree.loc, text.splitlines()) from None


def _not_yaml(error: Any, loc: Loc, lines: list[str]) -> _Stop:
    mark = error.problem_mark or error.context_mark
    line = mark.line + 1 if mark else 1
    read = quoted(lines[min(line, len(lines)) - 1].strip()) if lines else "nothing"
    found = f"{error.problem or ''} {error.context or ''}"
    for sign, why, write in _TROUBLES:
        if sign in found:
            return _Stop(line, loc, read, f"not YAML: {why}", write)
    return _Stop(line, loc, read, f"not YAML: {error.problem}", "mend this line or the one above")


def _yaml_value(tree: _Tree, event: Any, line: int, yaml: Any) -> None:
    if tree.wants_key:
        if isinstance(event, yaml.ScalarEvent) and not event.anchor and not event.tag:
            return tree.key(event.value, line)
        why = "keys are the words of the record"
        raise _Stop(line, tree.loc, "a key that is no plain word", why, "write a word and a colon")
    oddity = _oddity(event)
    if oddity:
        write = "write the value itself; a text that begins with &, * or ! goes in quotation marks"
        tree.tell(line, oddity, "every value is written out where it stands", write)
    broken = oddity is not None
    if isinstance(event, yaml.AliasEvent):
        tree.add(Node(line, "", broken=True))
    elif isinstance(event, yaml.ScalarEvent):
        says_nothing = not broken and not event.style and event.value in ("", "~", "null")
        tree.add(tree.empty(line) if says_nothing else Node(line, event.value, broken=broken))
    else:
        tree.enter(Node(line, [] if isinstance(event, yaml.SequenceStartEvent) else {}, broken=broken))


def _oddity(event: Any) -> str | None:
    """What YAML offers and a record does without: a tag, an anchor, an alias."""
    if tag := getattr(event, "tag", None):
        return f"the tag {quoted(tag.replace('tag:yaml.org,2002:', '!!'))}"
    return f"the anchor or alias {quoted(event.anchor)}" if event.anchor else None


# --- JSON -----------------------------------------------------------------------------------------

_SPACE = r"[ \t\r\n]*"
_PLAIN = r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?(?![0-9A-Za-z_.])|(?:true|false|null)(?![0-9A-Za-z_])"


def _grow_from_json(tree: _Tree, text: str) -> None:
    if text.strip(" \t\r\n"):
        _Json(tree, text).whole()


class _Json:
    """A reader of JSON (RFC 8259) that keeps the text of numbers, the lines, and keys given twice."""

    def __init__(self, tree: _Tree, text: str) -> None:
        self.tree, self.text, self.at = tree, text, 0
        self.space, self.plain = re.compile(_SPACE), re.compile(_PLAIN)  # here, as most records are YAML
        self.breaks = [i for i, c in enumerate(text) if c == "\n"]

    @property
    def line(self) -> int:
        return bisect_right(self.breaks, self.at - 1) + 1

    def whole(self) -> None:
        self.value(self.next())
        if self.next():
            raise self.stop("something after the record", "a file holds one record", "take it out")

    def next(self) -> str:
        """The next character that is no space, or nothing at the end."""
        self.at = self.space.match(self.text, self.at).end()  # type: ignore[union-attr]
        return self.text[self.at : self.at + 1]

    def stop(self, read: str, why: str, write: str) -> _Stop:
        return _Stop(self.line, self.tree.loc, read, why, write)

    def expect(self, sign: str, write: str) -> None:
        found = self.next()
        if found != sign:
            raise self.stop(
                quoted(found) if found else "the end of the file", f'not JSON: "{sign}" belongs here', write
            )
        self.at += 1

    def string(self) -> str:
        text: str
        try:
            text, self.at = scanstring(self.text, self.at + 1, True)
        except json.JSONDecodeError as error:
            self.at = error.pos
            raise self.stop(
                "a text in quotation marks",
                f"not JSON: {error.msg.removesuffix(' at').lower()}",
                "close it on its line, and mend its \\ signs",
            ) from None
        return text

    def value(self, sign: str) -> None:
        line = self.line
        if sign == '"':
            self.tree.add(Node(line, self.string()))
        elif sign == "{":
            self.group(line)
        elif sign == "[":
            self.list(line)
        elif found := self.plain.match(self.text, self.at):
            self.tree.add(self.tree.empty(line) if found[0] == "null" else Node(line, found[0]))
            self.at = found.end()
        else:
            word = re.match(r"[^\s,\]}]{0,30}", self.text[self.at :])[0]  # type: ignore[index]
            write = "put a text in quotation marks (a number with noughts in front is a text)"
            raise self.stop(quoted(word) if word else "no value", "not JSON: a value belongs here", write)

    def list(self, line: int) -> None:
        self.tree.enter(Node(line, []))
        self.at += 1
        sign = self.next()
        while sign != "]":
            self.value(sign)
            if (sign := self.next()) != "]":
                self.expect(",", "part the values with commas, and close the list with ]")
                sign = self.next()
                if sign == "]":
                    raise self.stop("a comma before ]", "not JSON: a value belongs after it", "take the comma out")
        self.at += 1
        self.tree.leave()

    def group(self, line: int) -> None:
        self.tree.enter(Node(line, {}))
        self.at += 1
        sign = self.next()
        while sign != "}":
            if sign != '"':
                raise self.stop(
                    quoted(sign) if sign else "the end of the file",
                    "not JSON: a key belongs here",
                    'write "key": value',
                )
            key_line = self.line
            key = self.string()
            self.expect(":", "put a colon after the key")
            self.tree.key(key, key_line)
            self.value(self.next())
            if (sign := self.next()) != "}":
                self.expect(",", "part the keys with commas, and close the group with }")
                if (sign := self.next()) == "}":
                    raise self.stop("a comma before }", "not JSON: a key belongs after it", "take the comma out")
        self.at += 1
        self.tree.leave()
