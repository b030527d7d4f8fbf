"""What each command does: call the job, print the answer, return the exit status. No question of law, no millimetre."""

from __future__ import annotations

import gc
import json
import sys
from argparse import Namespace
from collections.abc import Callable
from contextlib import nullcontext
from functools import wraps
from pathlib import Path
from typing import Any

from marks.errors import RecordError, SixfaceError
from marks.terms import Mode, VerdictWord

DONE, REFUSED, UNREADABLE = 0, 1, 2


def _plainly(run: Callable[[Namespace], int]) -> Callable[[Namespace], int]:
    """Errors a person can mend are printed as lines on stderr, never as a traceback."""

    @wraps(run)
    def guarded(arguments: Namespace) -> int:
        from layouts.errors import LayoutError

        try:
            return run(arguments)
        except RecordError as error:
            print(error, file=sys.stderr)
        except (SixfaceError, LayoutError) as error:
            print(f"sixface: {error}", file=sys.stderr)
        except OSError as error:
            print(
                f"sixface: {error.filename or 'file'}: {error.strerror or error}; nothing was written", file=sys.stderr
            )
        return UNREADABLE

    return guarded


def _print_json(data: Any) -> None:
    print(json.dumps(data, ensure_ascii=False, indent=1))


@_plainly
def plan(arguments: Namespace) -> int:
    """sixface plan: the answer as text or JSON."""
    from layouts.job import plan_file, plan_json

    planned = plan_file(arguments.record, (Mode(arguments.mode),) if arguments.mode else None)
    if arguments.json:
        _print_json(plan_json(planned))
    else:
        from layouts.front.text import plan_text

        print(plan_text(planned, arguments.record, explain=arguments.explain))
    return REFUSED if planned.verdict is VerdictWord.REFUSE else DONE


@_plainly
def sheets(arguments: Namespace) -> int:
    """sixface sheets: the files of one record or of many."""
    from layouts.batch import is_batch

    formats = [one.strip() for one in arguments.format.split(",") if one.strip()]
    unknown = sorted(set(formats) - {"pdf", "svg"})
    if unknown or not formats:
        print(f"sixface: --format {arguments.format}: write pdf, svg or pdf,svg", file=sys.stderr)
        return UNREADABLE
    if arguments.check:
        return _check(arguments, tuple(formats))
    if arguments.record is None:
        print("sixface: sheets: no record; name one, or write --check for the printer check page", file=sys.stderr)
        return UNREADABLE
    return (_batch if is_batch(arguments.record) else _one_record)(arguments, tuple(formats))


def _check(arguments: Namespace, formats: tuple[str, ...]) -> int:
    """The printer check page; a record is not read for it."""
    from layouts.printer_check import make_check
    from layouts.specimens import last_day
    from layouts.stock_file import stock_of

    stock = stock_of(arguments.stock)
    for path in make_check(stock, Path(arguments.out), inks=arguments.inks, formats=formats, on=last_day()):
        print(f"written: {path}")
    return DONE


def _options(arguments: Namespace) -> dict[str, Any]:
    """How sheets are made, as the words of make_sheets."""
    from layouts.choices import Choices
    from layouts.shelf import NOTHING, read_shelf
    from layouts.stock_file import stock_of

    return {
        "stock": stock_of(arguments.stock),
        "inks": arguments.inks,
        "text": arguments.text,
        "choices": Choices(arguments.symbols, arguments.excepted, arguments.arrows),
        "allow_refused": arguments.allow_refused,
        "shelf": NOTHING if arguments.ready_made is None else read_shelf(arguments.ready_made),
    }


def _batch(arguments: Namespace, formats: tuple[str, ...]) -> int:
    """A folder or a table of records: a summary at the end, faults on stderr."""
    from layouts.batch import Options, make_batch
    from layouts.front.text import batch_text

    gc.enable()  # the command line turned it off; many records leave much behind
    options = Options(**_options(arguments), formats=formats)
    outcomes = make_batch(
        arguments.record,
        Path(arguments.out),
        options,
        jobs=arguments.jobs,
        keep_going=arguments.keep_going,
        progress=_progress,
    )
    faulty = [one for one in outcomes if one.verdict == "faulty"]
    for one in faulty:
        print(one.said, file=sys.stderr)
    if faulty and not arguments.keep_going:
        print(
            f"sixface: {len(faulty)} of {len(outcomes)} records are faulty; nothing was made (--continue makes the rest)",
            file=sys.stderr,
        )
        return UNREADABLE
    print("\n".join(batch_text(outcomes, arguments.record, arguments.out)))
    return UNREADABLE if faulty else REFUSED if any(one.verdict == "refuse" for one in outcomes) else DONE


def _one_record(arguments: Namespace, formats: tuple[str, ...]) -> int:
    from layouts.beside import beside
    from layouts.draw import one_by_one
    from layouts.job import plan_file
    from layouts.output import make_sheets

    with beside(formats) if arguments.alone else nullcontext(one_by_one) as drawing:
        options = _options(arguments)
        planned = plan_file(arguments.record)
        out, source = Path(arguments.out), arguments.record
        made = make_sheets(
            planned, out, source=source, formats=formats, progress=_progress, drawing=drawing, **options
        )
    from layouts.front.text import sheets_text

    print(sheets_text(planned, made, arguments.record, options["shelf"]))
    return REFUSED if planned.verdict is VerdictWord.REFUSE else DONE


@_plainly
def compare(arguments: Namespace) -> int:
    """sixface compare: the modes side by side, as text or a page."""
    from layouts.front.comparison import comparison_text
    from layouts.front.text import written_text
    from layouts.job import compare_file

    comparison = compare_file(arguments.record)
    made = []
    if arguments.out:
        from layouts.output import write_comparison

        made = list(write_comparison(comparison, Path(arguments.out), source=arguments.record))
    print("\n".join([comparison_text(comparison, arguments.record), *written_text(made)]))
    refused = any(VerdictWord.REFUSE in package.verdicts.values() for package in comparison.packages)
    return REFUSED if refused else DONE


@_plainly
def papers(arguments: Namespace) -> int:
    """sixface papers: what the documents carry, as text and as a page."""
    from layouts.front.papers import papers_text
    from layouts.front.text import held_text, written_text
    from layouts.job import decide_file
    from marks.papers import papers as papers_of

    decided = decide_file(arguments.record)
    told = papers_of(decided)
    made = []
    if arguments.out:
        from layouts.output import write_papers

        made = list(write_papers(decided, Path(arguments.out), source=arguments.record))
    head = [f"{decided.record.reference}   what the transport documents must carry", f"read: {arguments.record}", ""]
    print("\n".join([*head, *papers_text(told), *held_text(decided.editions), *written_text(made)]))
    return REFUSED if any(one.refused for one in told) else DONE


@_plainly
def goods(arguments: Namespace) -> int:
    """sixface goods: entries of the list."""
    from marks.goods.lookup import find, search
    from marks.goods.show import as_json, describe

    asked = " ".join(arguments.what)
    entries = find(asked) or search(asked)
    if not entries:
        print(
            f"sixface: {asked!r}: the list has no entry of that number or name; write a UN number (1266) or a part of a name",
            file=sys.stderr,
        )
        return UNREADABLE
    if arguments.json:
        _print_json(as_json(entries))
    else:
        print("\n".join(describe(entries)))
    return DONE


@_plainly
def specimens(arguments: Namespace) -> int:
    """sixface specimens: every mark on a page of its own."""
    from layouts.specimens import make_specimens

    for path in make_specimens(Path(arguments.out), inks=arguments.inks, progress=_progress):
        print(f"written: {path}")
    return DONE


@_plainly
def desk(arguments: Namespace) -> int:
    """sixface desk: the local page, until it is stopped."""
    from importlib.util import find_spec

    gc.enable()  # the command line turned it off; a desk stays open all day
    missing = [name for name in ("starlette", "uvicorn", "jinja2", "python_multipart") if find_spec(name) is None]
    if missing:
        print(f"sixface: the desk needs {', '.join(missing)}; pip install 'sixface[desk]'", file=sys.stderr)
        return UNREADABLE
    if not 0 <= arguments.port < 65536:
        print(f"sixface: --port {arguments.port}: a port is a number from 0 to 65535", file=sys.stderr)
        return UNREADABLE
    from layouts.front.desk.listen import place_at
    from layouts.front.desk.server import serve

    try:
        at = place_at(arguments.listen)
    except ValueError as error:
        print(f"sixface: --listen: {error}", file=sys.stderr)
        return UNREADABLE
    serve(arguments.port, Path(arguments.folder), at)
    return DONE


@_plainly
def schema(arguments: Namespace) -> int:
    """sixface schema: the form of a record, a plan or a table."""
    if arguments.what == "csv":
        from marks.rows import template

        print(template())
    elif arguments.what == "plan":
        from layouts.plan_schema import plan_schema

        _print_json(plan_schema())
    else:
        from marks.record import record_schema

        _print_json(record_schema())
    return DONE


def _progress(done: int, of: int, what: str) -> None:
    """A line that counts on, for eyes only: nothing where the output is not a terminal."""
    if sys.stderr.isatty():
        print(f"\r{done}/{of} {what:<40.40}", end="\n" if done == of else "", file=sys.stderr, flush=True)
