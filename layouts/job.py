"""The whole road as one call: read, decide, place, impose, draw, write. The command line and the page call nothing else.

from layouts.job import plan
planned = plan(record)
planned.verdict, planned.placements[0].items
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from layouts.place import place_overpack, place_package
from layouts.placement import Placed, Placement
from layouts.planned import Planned
from marks.decide import decide
from marks.errors import RecordError
from marks.reading import NOTATIONS, digest, read_record
from marks.requirement import Finding, PackageDecision, Requirement
from marks.resolve import with_lines
from marks.terms import Mode

if TYPE_CHECKING:
    from marks.compare import Comparison
    from marks.decide import Decided
    from marks.record import Record


def plan(record: Record, modes: tuple[Mode, ...] | None = None) -> Planned:
    """Steps 2 and 3. Raises RecordError where the goods list or the editions leave the record open."""
    decided = decide(record, modes)
    placements = tuple(
        place_package(package, decision.marks, tuple(decision.modes))
        for package, decision in zip(record.packages, decided.packages, strict=True)
    )
    overpacks = tuple(
        place_overpack(overpack, decision.marks, tuple(decision.modes))
        for overpack, decision in zip(record.overpacks, decided.overpacks, strict=True)
    )
    return Planned(decided, digest(record), placements, overpacks)


def plan_file(path: str | Path, modes: tuple[Mode, ...] | None = None) -> Planned:
    """Steps 1 to 3 of a file; every fault names the file and its line."""
    with _lines_of(path):
        return plan(read_record(path), modes)


def compare_file(path: str | Path) -> Comparison:
    """The record of a file under every mode that is held; faults as plan_file tells them."""
    from marks.compare import compare

    with _lines_of(path):
        return compare(read_record(path))


def decide_file(path: str | Path) -> Decided:
    """Steps 1 and 2 of a file, nothing placed; faults as plan_file tells them."""
    with _lines_of(path):
        return decide(read_record(path))


@contextmanager
def _lines_of(path: str | Path) -> Iterator[None]:
    """Faults found after reading get the file's name and their lines."""
    try:
        yield
    except RecordError as error:
        file = Path(path)
        if any(fault.line for fault in error.faults) or not file.is_file():
            raise
        raise with_lines(error, file.read_bytes(), str(path), NOTATIONS[file.suffix.lower()]) from None


# --- the plan as JSON ---------------------------------------------------------------------------------------------------


def plan_json(planned: Planned) -> dict[str, Any]:
    """The plan in the published form (``sixface schema plan``)."""
    return {
        "plan": "sixface/1",
        "reference": planned.record.reference,
        "digest": planned.digest,
        "editions": {mode.value: name for mode, name in planned.decided.editions.items()},
        "packages": [_package_json(planned, *pair) for pair in planned.pairs()],
        "overpacks": [
            {
                "overpack": overpack.overpack,
                "packages": list(overpack.packages),
                "marks_visible": overpack.marks_visible,
            }
            | _answers_json(planned, *pair)
            for overpack, pair in zip(planned.record.overpacks, planned.overpack_pairs(), strict=True)
        ],
    }


def _package_json(planned: Planned, package: PackageDecision, placement: Placement) -> dict[str, Any]:
    return {"package": package.package, "count": package.count} | _answers_json(planned, package, placement)


def _answers_json(planned: Planned, package: PackageDecision, placement: Placement) -> dict[str, Any]:
    return {
        "modes": {
            mode.value: {
                "verdict": decision.verdict.value,
                "marks": [_mark_json(one, placement) for one in decision.marks],
                "waived": [
                    {"mark": one.mark, "variant": one.variant, "why": one.why, "cite": list(one.cite)}
                    for one in decision.waived
                ],
                "findings": [_finding_json(one) for one in decision.findings],
                "description": "; ".join(decision.descriptions),
            }
            for mode, decision in package.modes.items()
        },
        "journey": {
            "verdict": planned.verdict_of(package, placement).value,
            "marks": [
                _mark_json(one, placement) | {"modes": [mode.value for mode in one.modes]} for one in package.marks
            ],
            "placement": [_placed_json(one) for one in placement.items],
            "findings": [_finding_json(one) for one in placement.findings],
        },
    }


def faces_of(requirement: Requirement, placement: Placement) -> tuple[str, ...]:
    """On which faces a mark stands, in the order of the placement; none where nothing could be placed."""
    keys = {requirement.key}
    if requirement.mark == "limited-quantity":  # on a journey by air too the form with the Y stands for it
        keys.add(("limited-quantity-air", requirement.variant, requirement.words))
    return tuple(dict.fromkeys(one.face.value for one in placement.items if one.requirement.key in keys))


def _mark_json(one: Requirement, placement: Placement) -> dict[str, Any]:
    return {
        "mark": one.mark,
        "variant": one.variant,
        "words": list(one.words),
        "faces": list(faces_of(one, placement)),
        "size_mm": None if one.size_mm is None else list(one.size_mm),
        "min_text_mm": one.min_text_mm,
        "preprinted": one.preprinted,
        "why": one.why,
        "cite": list(one.cite),
    }


def _placed_json(one: Placed) -> dict[str, Any]:
    return {
        "mark": one.requirement.mark,
        "variant": one.requirement.variant,
        "words": list(one.requirement.words),
        "face": one.face.value,
        "x_mm": round(one.x, 3),
        "y_mm": round(one.y, 3),
        "width_mm": round(one.width, 3),
        "height_mm": round(one.height, 3),
        "turn_deg": one.turn,
    }


def _finding_json(one: Finding) -> dict[str, Any]:
    return {"level": one.level.value, "code": one.code, "text": one.text, "cite": list(one.cite)}
