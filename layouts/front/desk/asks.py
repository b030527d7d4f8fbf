"""Which keys a plan still asks for. The rules say so themselves: every finding that can be mended ends in "write KEY"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from layouts.front.desk.fields import RECORD, Field, Group, Part, part_at
from layouts.front.desk.tree import Steps, name_of
from layouts.planned import Planned
from marks.requirement import Finding
from marks.terms import Level


def asked_by(planned: Planned) -> set[str]:
    """The names of all fields that a refusal or caution of the plan asks for."""
    found: set[str] = set()
    for i, (package, decision) in enumerate(zip(planned.record.packages, planned.decided.packages, strict=True)):
        findings = dict.fromkeys(one for mode in decision.modes.values() for one in mode.findings)
        for finding in findings:
            if finding.level is Level.NOTE:
                continue
            keys = set(written(finding))
            numbers = [goods.un for goods in package.goods]
            named = [j for j, un in enumerate(numbers) if un[-4:] in finding.text]
            for j in named or range(len(numbers)):
                found |= _names(keys, ("packages", i, "goods", j))
            found |= _names(keys, ("packages", i)) | _names(keys, ())
    return found


def written(finding: Finding) -> Iterator[str]:
    """The keys after "write" in a finding's words."""
    for part in re.findall(r"\bwrite\b(.*?)(?:;|$)", finding.text):
        yield from (word for word in re.findall(r"[a-z][a-z_0-9]+", part) if word in _keys())


@cache
def _keys() -> frozenset[str]:
    def inside(parts: Iterable[Part]) -> Iterator[str]:
        for part in parts:
            yield part.key
            if isinstance(part, Group):
                yield from inside(part.parts)

    return frozenset(inside(RECORD)) - {"of", "name", "count", "kind", "none", "size", "top", "sides"}


def _names(keys: set[str], steps: Steps) -> set[str]:
    """Fields of the group at ``steps``, and of the groups in it that are no lists, that bear one of the keys."""
    group = part_at(steps)
    assert isinstance(group, Group)
    found = set()
    for part in group.parts:
        if part.key in keys:
            found.add(name_of((*steps, part.key)))
        if isinstance(part, Group) and not part.many and part.key != "ship_as_by":
            inside = {one.key for one in part.parts if isinstance(one, Field)} & keys
            found |= {name_of((*steps, part.key, key)) for key in inside}
    return found
