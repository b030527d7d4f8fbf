"""A package as the trainer turns it: the record's own, with a quantity, an inner size or a packaging changed.

Nothing is saved. What has to follow a change, follows and is said: the gross mass, the code in the specification mark, the
measures of another shape.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from layouts.front.desk.tree import Tree, value_at
from marks.errors import Unreadable
from marks.packaging import read_code
from marks.quantity import is_mass, is_volume, plain, read_quantity, to
from marks.terms import PackageForm

#: The controls: name and the way to their value in a package's tree, {} being the line of goods.
CONTROLS: dict[str, tuple[str | int, ...]] = {
    "net": ("goods", -1, "net"),
    "holds": ("goods", -1, "inner", "holds"),
    "count": ("goods", -1, "inner", "count"),
    "absorbent": ("goods", -1, "inner", "absorbent"),
    "ship_as": ("goods", -1, "ship_as"),
    "packaging": ("packaging",),
    "spec_mark": ("spec_mark",),
    "gross_mass": ("gross_mass",),
}


@dataclass
class Trial:
    """tree: the record with this one package, changed. values: what the controls show. followed: what followed, said."""

    tree: Tree
    values: dict[str, str]
    followed: list[str] = field(default_factory=list)


def trial(tree: Tree, package: int, line: int, wanted: Mapping[str, str]) -> Trial:
    """The package's record with the controls' values. tree: of the file; line: which of its goods; wanted: by control;
    ``gross_follows``: yes where the gross mass goes with the quantity."""
    tree = _alone(tree, package)
    one = tree["packages"][0]
    before = {name: _text(value_at(one, _way(way, line))) for name, way in CONTROLS.items()}
    found = Trial(tree, dict(before))
    for name, way in CONTROLS.items():
        said = wanted.get(name)
        if said is None or name == "gross_mass":
            continue
        found.values[name] = said
        _set(one, _way(way, line), said)
    if "inner" in one["goods"][line]:
        one["goods"][line].pop("net", None)  # it follows from the inner packagings
    _packaging_follows(found, before, one, wanted)
    _gross_follows(found, before, one, line, wanted)
    return found


def _alone(tree: Tree, package: int) -> Tree:
    packages = [_copied(tree["packages"][package])]
    packages[0].pop("count", None)
    return {key: value for key, value in tree.items() if key not in ("packages", "overpacks")} | {"packages": packages}


def _copied(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: _copied(value) for key, value in tree.items()}
    return [_copied(one) for one in tree] if isinstance(tree, list) else tree


def _way(way: tuple[str | int, ...], line: int) -> tuple[str | int, ...]:
    return tuple(line if step == -1 else step for step in way)


def _text(value: Any) -> str:
    return value if isinstance(value, str) else "by mode" if isinstance(value, dict) else ""


def _set(tree: Any, way: tuple[str | int, ...], said: str) -> None:
    here = tree
    for step in way[:-1]:
        here = here.get(step, {}) if isinstance(here, dict) else here[step]
    if said == "by mode" or not isinstance(here, dict):
        return
    if said:
        here[way[-1]] = said
    else:
        here.pop(way[-1], None)


def _packaging_follows(found: Trial, before: Mapping[str, str], one: dict[str, Any], wanted: Mapping[str, str]) -> None:
    """Another code: the mark bears it too, and a round shape has a diameter."""
    code, old = found.values["packaging"], before["packaging"]
    try:
        form, old_form = read_code(code).form, read_code(old).form
    except Unreadable:
        return
    mark = one.get("spec_mark", "")
    if code != old and old and mark == before["spec_mark"] and old in mark:
        one["spec_mark"] = found.values["spec_mark"] = mark.replace(old, code, 1)
        found.followed.append(f"the specification mark is read as {one['spec_mark']}")
    size = one.get("size")
    if form is None or form is old_form or not isinstance(size, dict):
        return
    one.pop("form", None)
    is_round = form in (PackageForm.DRUM, PackageForm.CYLINDER)
    if is_round and "diameter" not in size:
        one["size"] = {"diameter": size.get("width", "300 mm"), "height": size.get("height", "400 mm")}
        found.followed.append(f"it is taken as round, {one['size']['diameter']} across")
    elif not is_round and "diameter" in size:
        across = size["diameter"]
        one["size"] = {"length": across, "width": across, "height": size.get("height", "400 mm")}
        found.followed.append(f"it is taken as a box of {across} by {across}")


def _gross_follows(
    found: Trial, before: Mapping[str, str], one: dict[str, Any], line: int, wanted: Mapping[str, str]
) -> None:
    """The gross mass grows and shrinks with the contents, at 1 kg a litre where no density is said."""
    if wanted.get("gross_follows", "yes") != "yes":
        if wanted.get("gross_mass"):
            one["gross_mass"] = found.values["gross_mass"] = wanted["gross_mass"]
        return
    goods = one["goods"][line]
    was = _kilograms(before, goods)
    now = _kilograms(found.values, goods)
    try:
        gross = to(read_quantity(before["gross_mass"]), "kg")
    except Unreadable:
        return
    if was is None or now is None or was == now:
        return
    mass = max(gross - was, Decimal("0.1")) + now
    one["gross_mass"] = found.values["gross_mass"] = f"{plain(mass.quantize(Decimal('0.001')).normalize())} kg"
    found.followed.append(f"the gross mass is taken as {one['gross_mass']}")


def _kilograms(values: Mapping[str, str], goods: Mapping[str, Any]) -> Decimal | None:
    """What the goods weigh, near enough to try things out."""
    inner = "inner" in goods
    try:
        amount = read_quantity(values["holds"] if inner else values["net"])
        number = Decimal(values["count"] or "1") if inner else Decimal(1)
        density = Decimal(str(goods.get("density", "1")).replace(",", "."))
        each = to(amount, "kg") if is_mass(amount) else to(amount, "L") * density if is_volume(amount) else None
    except (Unreadable, ArithmeticError, ValueError):
        return None
    return None if each is None or not 0 < number < 10**6 else each * number
