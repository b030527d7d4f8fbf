"""Many records at once: a folder of them, or a table. Records are made as they come, by one process or several.

Without ``keep_going`` a batch is made whole or not at all. With it a faulty record is reported and left out and the rest is
made; started again, only what changed is made again: the folder keeps a list of the digests it was made from.
"""

from __future__ import annotations

import gc
import json
import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec import Struct, to_builtins
from msgspec.structs import asdict

from layouts.choices import USUAL, Choices
from layouts.errors import LayoutError
from layouts.files import write_whole
from layouts.output import PART_OF_BATCH, make_sheets, of_earlier_runs, settle, stem_of, sweep
from layouts.shelf import NOTHING, Shelf
from layouts.stock import Stock
from marks.errors import Fault, RecordError, SixfaceError
from marks.reading import NOTATIONS

if TYPE_CHECKING:
    from marks.rows import Gathered

TABLES = (".csv", ".xlsx")
#: The list of what a folder was made from. Its name says whose it is.
LEDGER = "sixface-batch.json"
#: While a record is made garbage is looked for once in so many new objects: strokes are many, and none of them is garbage.
_SELDOM = 50_000
Progress = Callable[[int, int, str], None]


class Source(Struct, frozen=True):
    """One record of a batch: a file of its own, or its rows of a table. It is read when its turn comes."""

    name: str
    file: str | None = None
    rows: Gathered | None = None


class Outcome(Struct, frozen=True):
    """What became of one record. verdict: ship, refuse, not-subject or faulty; pages and files: what was made, now or,
    where it is ``unchanged``, by an earlier run; said: its faults, or the legs that refuse it."""

    name: str
    reference: str = ""
    verdict: str = "faulty"
    digest: str = ""
    pages: int = 0
    files: tuple[str, ...] = ()
    said: str = ""
    unchanged: bool = False


def is_batch(path: str | Path) -> bool:
    """Whether a path names many records: a folder, or a table."""
    return Path(path).is_dir() or Path(path).suffix.lower() in TABLES


def sources(path: str | Path) -> Iterator[Source]:
    """The records of a folder by file name, or of a table by row. Raises RecordError where there is none."""
    place = Path(path)
    if place.is_dir():
        files = sorted(
            file for file in place.iterdir() if file.suffix.lower() in NOTATIONS and not file.name.startswith(".")
        )
        if not files:
            raise RecordError(
                [
                    Fault(
                        str(path),
                        0,
                        "folder",
                        "no record",
                        "it holds no .yaml, .yml or .json file",
                        "name a folder of records",
                    )
                ]
            )
        yield from (Source(file.name, str(file)) for file in files)
        return
    from marks.rows import gathered

    for one in gathered(path):
        yield Source(f"{place.name} row {one.first}", rows=one)


class Options(Struct, frozen=True):
    """How every record of a batch is made: as the words of ``sixface sheets``."""

    stock: str | Stock = "A4"
    formats: tuple[str, ...] = ("pdf", "svg")
    inks: str = "rgb"
    text: str = "outlines"
    choices: Choices = USUAL
    allow_refused: bool = False
    shelf: Shelf = NOTHING


def make_batch(
    path: str | Path,
    out: Path,
    options: Options,
    *,
    jobs: int = 1,
    keep_going: bool = False,
    progress: Progress | None = None,
) -> tuple[Outcome, ...]:
    """Make the sheets of every record into ``out``; one Outcome each, in the batch's order.

    jobs: processes. keep_going: leave faulty records out and what has not changed alone; else one fault makes nothing.
    Raises RecordError, OSError.
    """
    given = list(sources(path))
    fresh = not out.exists()
    ledger = _read_ledger(out) if keep_going else {}
    out.mkdir(parents=True, exist_ok=True)
    sweep(out)
    part = Path(tempfile.mkdtemp(prefix=PART_OF_BATCH, dir=out))
    try:
        tasks = ((source, f"{n:06}-") for n, source in enumerate(given))
        earlier = of_earlier_runs(out)
        outcomes: list[Outcome] = []
        taken: dict[str, str] = {}
        for done, outcome in enumerate(_run(tasks, len(given), jobs, _Shared(str(out), str(part), options, ledger)), 1):
            outcomes.append(_unlike(outcome, taken))
            if keep_going:
                _settle(part, f"{done - 1:06}-", out, outcomes[-1], earlier)
            if progress:
                progress(done, len(given), outcome.name)
        if not keep_going and not any(one.verdict == "faulty" for one in outcomes):
            for n, outcome in enumerate(outcomes):
                _settle(part, f"{n:06}-", out, outcome, earlier)
        if keep_going or not any(one.verdict == "faulty" for one in outcomes):
            _write_ledger(out, ledger, outcomes, options)
    finally:
        shutil.rmtree(part, ignore_errors=True)
        if fresh and not any(out.iterdir()):
            out.rmdir()
    return tuple(outcomes)


class _Shared(Struct, frozen=True):
    """What all records of a batch are made with: handed to each process once, for the ledger grows with the batch."""

    out: str
    part: str
    options: Options
    ledger: dict[str, Any]


_Task = tuple[Source, str]
_shared: list[_Shared] = []  # in a process of its own: what it was handed


def _run(tasks: Iterable[_Task], many: int, jobs: int, shared: _Shared) -> Iterator[Outcome]:
    if jobs <= 1:
        yield from (_make_one(task, shared) for task in tasks)
        return
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(jobs, initializer=_shared.append, initargs=(shared,)) as pool:
        yield from pool.map(_make_there, tasks, chunksize=max(1, min(16, many // (4 * jobs))))


def _make_there(task: _Task) -> Outcome:
    return _make_one(task, _shared[-1])


def _make_one(task: _Task, shared: _Shared) -> Outcome:
    """One record, in whatever process: read, plan, make under names of its own. Every fault becomes an outcome."""
    source, prefix = task
    often = gc.get_threshold()
    gc.set_threshold(_SELDOM, *often[1:])
    try:
        return _made(source, prefix, shared)
    except (SixfaceError, LayoutError) as error:
        return Outcome(source.name, said=str(error))
    finally:
        gc.set_threshold(*often)


def _made(source: Source, prefix: str, shared: _Shared) -> Outcome:
    from msgspec.structs import replace

    from layouts.job import plan, plan_file
    from marks.terms import VerdictWord

    if source.rows is None:
        planned = plan_file(source.file or source.name)
    else:
        given = source.rows.read()
        if given.error is not None:
            raise given.error
        assert given.record is not None  # a table gives a record or its faults
        try:
            planned = plan(given.record)
        except RecordError as error:
            raise RecordError(replace(fault, file=source.name, line=given.row) for fault in error.faults) from None
    reference = planned.record.reference
    out, options, known = Path(shared.out), shared.options, shared.ledger.get(reference)
    if (
        known is not None
        and (known["digest"], known["options"]) == (planned.digest, _plain(options))
        and all((out / name).is_file() for name in known["files"])
    ):
        return Outcome(
            source.name,
            reference,
            known["verdict"],
            planned.digest,
            known["pages"],
            tuple(known["files"]),
            known["said"],
            True,
        )
    made = make_sheets(
        planned, Path(shared.part), source=source.file or source.name, prefix=prefix, **_words(options)
    )
    pages = sum(one.pages for one in made if one.path.suffix == ".pdf") or sum(one.pages for one in made)
    why = ""
    if planned.verdict is VerdictWord.REFUSE:
        refused = [
            (package.package, planned.refused_modes(package, placement)) for package, placement in planned.pairs()
        ]
        why = "; ".join(f"package {letter}: {', '.join(modes)}" for letter, modes in refused if modes)
    return Outcome(
        source.name, reference, planned.verdict.value, planned.digest, pages, tuple(one.path.name for one in made), why
    )


def _unlike(outcome: Outcome, taken: dict[str, str]) -> Outcome:
    """Two records whose files have the same names would overwrite each other's: the second is faulty. taken: who has
    which name."""
    twin = taken.setdefault(stem_of(outcome.reference), outcome.name) if outcome.reference else outcome.name
    if twin == outcome.name:
        return outcome
    return Outcome(
        outcome.name, said=f"{outcome.name}: reference {outcome.reference}: {twin} has it already; write another"
    )


def _settle(part: Path, prefix: str, out: Path, outcome: Outcome, left: dict[str, list[str]]) -> None:
    if outcome.verdict != "faulty" and not outcome.unchanged:
        settle(part, out, outcome.files, left.get(stem_of(outcome.reference), ()), prefix)


_KEPT = {"digest", "verdict", "said", "files", "pages", "options"}


def _read_ledger(out: Path) -> dict[str, Any]:
    """What the folder was made from; what can't be read there is made again."""
    try:
        held = json.loads((out / LEDGER).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(held, dict):
        return {}
    return {name: one for name, one in held.items() if isinstance(one, dict) and set(one) == _KEPT}


def _write_ledger(out: Path, before: dict[str, Any], outcomes: Iterable[Outcome], options: Options) -> None:
    made = {one.reference: one for one in outcomes if one.verdict != "faulty" and not one.unchanged}
    write_whole(out / LEDGER, _lines(before, made, _plain(options)))


def _lines(before: dict[str, Any], made: dict[str, Outcome], options: dict[str, Any]) -> Iterator[str]:
    """The list as JSON, record by record: a long batch is not held once more as one text."""
    begin = "{"
    for reference in sorted({*before, *made}):
        entry = before.get(reference)
        if (one := made.get(reference)) is not None:
            entry = {key: value for key, value in asdict(one).items() if key in _KEPT} | {"options": options}
        plain = json.dumps(entry, ensure_ascii=False, indent=1, sort_keys=True).replace("\n", "\n ")
        yield f"{begin}\n {json.dumps(reference, ensure_ascii=False)}: {plain}"
        begin = ","
    yield "{}\n" if begin == "{" else "\n}\n"


def _words(options: Options) -> dict[str, Any]:
    """The options as the words of make_sheets."""
    return {name: getattr(options, name) for name in Options.__struct_fields__}


def _plain(options: Options) -> dict[str, Any]:
    """The options as they come back from JSON, to be compared with what a folder was made from."""
    return dict(json.loads(json.dumps(to_builtins(options))))
