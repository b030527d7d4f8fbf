"""A record between the page and the file: names and values of a form, a tree of texts, the text of the file.

A name is the way to a value, ``packages.0.goods.1.net``. The tree holds texts, lists and dicts as the file does; three keys
look otherwise on the page: ``ship_as`` by mode, ``hazardous_substance: none``, and a preprinted mark as one word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from layouts.front.desk.fields import WHOLE, Field, Group, Part, part_at

Tree = Any  # str, list of trees, or dict of trees: as it stands in a file
Steps = tuple[str | int, ...]

#: The most members a list has at the desk, and the longest value of a field.
MOST, LONGEST = 200, 4000
#: A name that ends so says that the row or group is there, though nothing is written in it.
HERE = "+"


class Unfit(Exception):
    """What cannot stand in the form: it can only be mended as text."""


def steps_of(name: str) -> Steps | None:
    """``packages.0.un`` as steps; None where it is no way into a record."""
    if len(name) > 150 or not re.fullmatch(r"[a-z][a-z_0-9]*(\.[a-z_0-9-]+)*", name):
        return None
    steps = tuple(int(one) if one.isdigit() else one for one in name.split("."))
    return steps if all(not isinstance(one, int) or one < MOST for one in steps) else None


def name_of(steps: Iterable[str | int]) -> str:
    """Steps as the name of a field: ``packages.0.un``."""
    return ".".join(map(str, steps))


def from_form(pairs: Iterable[tuple[str, str]]) -> Tree:
    """The tree a form stands for: empty fields are left out, rows that are only begun stay as empty groups."""
    root: dict[Any, Any] = {}
    for name, value in pairs:
        here = name.endswith(f".{HERE}")
        steps = steps_of(name.removesuffix(f".{HERE}"))
        part = part_at(steps) if steps else None
        if steps is None or part is None or len(value) > LONGEST:
            continue
        text = value.replace("\r\n", "\n")
        if here and isinstance(part, Group):
            _put(root, steps, None)
        elif isinstance(part, Field) and text.strip():
            _put(root, steps, _read(part, text, _at(root, steps)))
    return _file_form(_dense(root))


def _read(field: Field, text: str, before: Any) -> Tree:
    if field.kind == "many":
        return [*(before or []), text]
    if field.kind == "lines":
        return [line.strip() for line in text.split("\n") if line.strip()]
    if field.kind == "words":
        return [word.strip() for word in text.split(",") if word.strip()] or text
    return text.strip()


def _at(root: dict[Any, Any], steps: Steps) -> Any:
    here: Any = root
    for step in steps:
        here = here.get(step) if isinstance(here, dict) else None
    return here


def _put(root: dict[Any, Any], steps: Steps, value: Tree) -> None:
    """None: only make the way."""
    here = root
    for step in steps[:-1]:
        here = here.setdefault(step, {})
        if not isinstance(here, dict):
            return
    if value is None:
        here.setdefault(steps[-1], {})
    else:
        here[steps[-1]] = value


def _dense(tree: Any) -> Tree:
    """Members of a list, kept by their numbers so far, as a list."""
    if not isinstance(tree, dict):
        return tree
    if tree and all(isinstance(key, int) for key in tree):
        return [_dense(tree[key]) for key in sorted(tree)]
    return {key: _dense(value) for key, value in tree.items()}


# --- the three keys that look otherwise -----------------------------------------------------------------------------


def _goods_of(tree: Tree) -> Iterator[dict[str, Any]]:
    for package in _dicts(tree.get("packages")):
        yield from _dicts(package.get("goods"))


def _dicts(value: Any) -> list[dict[str, Any]]:
    return [one for one in value if isinstance(one, dict)] if isinstance(value, list) else []


def _file_form(tree: Tree) -> Tree:
    """As the form has it to as the file has it."""
    for goods in _goods_of(tree):
        by_mode = goods.pop("ship_as_by", None)
        if goods.get("ship_as") == "by mode":
            goods["ship_as"] = by_mode if isinstance(by_mode, dict) and by_mode else {}
        elif goods.get("ship_as") == "full":
            del goods["ship_as"]  # as it is unsaid
        substance = goods.get("hazardous_substance")
        if isinstance(substance, dict) and substance.pop("none", None) == "true" and not substance:
            goods["hazardous_substance"] = "none"
    for package in _dicts(tree.get("packages")):
        marks = package.get("preprinted")
        if isinstance(marks, list):
            package["preprinted"] = [_as_word(one) for one in marks]
    return tree


def _as_word(mark: Any) -> Tree:
    if isinstance(mark, dict) and mark.get("mark") and set(mark) <= {"mark", "variant"}:
        return " ".join(filter(None, (mark["mark"], mark.get("variant"))))
    return mark


def _page_form(tree: Tree) -> Tree:
    """As the file has it to as the form has it; the tree given is changed."""
    for goods in _goods_of(tree):
        if isinstance(goods.get("ship_as"), dict):
            goods["ship_as_by"], goods["ship_as"] = goods["ship_as"], "by mode"
        if goods.get("hazardous_substance") == "none":
            goods["hazardous_substance"] = {"none": "true"}
    for package in _dicts(tree.get("packages")):
        marks = package.get("preprinted")
        if isinstance(marks, list):
            package["preprinted"] = [_as_group(one) for one in marks]
    return tree


def _as_group(mark: Any) -> Tree:
    if isinstance(mark, str):
        name, _, variant = mark.strip().partition(" ")
        return {"mark": name, "variant": variant} if variant else {"mark": name}
    return mark


# --- from a file to the form ----------------------------------------------------------------------------------------


def for_form(tree: Tree) -> dict[str, Any]:
    """A file's tree as the form holds it. Raises Unfit where it says something the form has no field for."""
    if not isinstance(tree, dict):
        raise Unfit("a record is a group of keys")
    form: dict[str, Any] = _page_form(_copied(tree))
    form.pop("record", None)
    _fits(WHOLE, form, ())
    return form


def _copied(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: _copied(value) for key, value in tree.items()}
    return [_copied(one) for one in tree] if isinstance(tree, list) else tree


def _fits(part: Part, value: Any, at: Steps) -> None:
    where = name_of(at) or "the record"
    if isinstance(part, Field):
        if part.kind in ("lines", "words", "many"):
            fine = isinstance(value, list) and all(isinstance(one, str) for one in value) and len(value) <= MOST
            fine = fine and not (part.kind == "words" and any("," in one for one in value))
        else:
            fine = isinstance(value, str)
        if not fine:
            raise Unfit(f"{where} is of another kind than its field")
        return
    if part.many and at and not isinstance(at[-1], int):
        if not isinstance(value, list):
            raise Unfit(f"{where} is no list")
        if len(value) > MOST:
            raise Unfit(f"{where}: the form holds {MOST}, there are {len(value)}")
        for i, one in enumerate(value):
            _fits(part, one, (*at, i))
        return
    if not isinstance(value, dict):
        raise Unfit(f"{where} is no group of keys")
    for key, one in value.items():
        inner = next((p for p in part.parts if p.key == key), None)
        if inner is None:
            raise Unfit(f"{where} has the key {key}, which no record has")
        _fits(inner, one, (*at, key))


def value_at(tree: Tree, steps: Steps) -> Any:
    """What stands there, or None."""
    here = tree
    for step in steps:
        if isinstance(here, dict) and isinstance(step, str):
            here = here.get(step)
        elif isinstance(here, list) and isinstance(step, int) and step < len(here):
            here = here[step]
        else:
            return None
    return here


# --- the text of the file -------------------------------------------------------------------------------------------

_ORDER = tuple(part.key for part in WHOLE.parts)


def to_text(tree: Tree) -> str:
    """The record as YAML: a group of single values on one line, all else on lines of its own. Every value is its text."""
    return _yaml({"record": "sixface/1", **{key: tree[key] for key in _ORDER if key in tree}})


def part_text(package: Tree, tree: Tree) -> str:
    """What a package's marks hang on, as YAML: the day, what is booked, the package."""
    return _yaml({key: tree[key] for key in ("date", "aircraft") if key in tree} | package)


def _yaml(value: Tree) -> str:
    import yaml

    class Dumper(yaml.BaseDumper):
        def ignore_aliases(self, data: object) -> bool:
            return True

    def text(dumper: yaml.BaseDumper, value: str) -> yaml.ScalarNode:
        says_nothing = value in ("", "~") or value.casefold() == "null"
        return dumper.represent_scalar("tag:yaml.org,2002:str", value, '"' if says_nothing else None)

    Dumper.add_representer(str, text)
    Dumper.add_representer(dict, lambda d, v: d.represent_mapping("tag:yaml.org,2002:map", v.items()))
    Dumper.add_representer(list, lambda d, v: d.represent_sequence("tag:yaml.org,2002:seq", v))
    made: str = yaml.dump(
        value, Dumper=Dumper, allow_unicode=True, sort_keys=False, width=10_000, default_flow_style=None
    )
    return made
