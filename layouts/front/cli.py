"""The command line. Each command loads what it needs when it is called, so that ``--version`` costs next to nothing."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence

VERSION = "0.2.0"

EPILOG = """\
exit status: 0 done; 1 a package may not travel as described (or, for goods: 2 no entry found); 2 the record can't be read.

sixface says what it read and which editions it holds. The regulations in force and the shipper's trained and authorised
person decide."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status. argv: the words of the command; those of the process where it is None."""
    if argv is None:
        gc.disable()  # a process that answers once and ends: looking for garbage while modules load is time for nothing
        # Whatever else is installed has no say in how a record is read, and is not searched for.
        os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    words = sys.argv[1:] if argv is None else argv
    parser = _parser(words)
    arguments = parser.parse_args(words, argparse.Namespace(alone=argv is None))  # alone: the process does nothing else
    if arguments.command is None:
        parser.print_help()
        return 0
    from layouts.front import commands

    run: Callable[[argparse.Namespace], int] = getattr(commands, arguments.command)
    try:
        return run(arguments)
    except BrokenPipeError:  # the reader of our output has gone: nothing is left to say
        sys.stderr.close()
        return 1
    finally:
        if argv is None:
            gc.freeze()  # nor look for garbage in all that was loaded, only to end


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    """What reads the words. Where they begin with a command, its arguments alone are made ready."""
    parser = argparse.ArgumentParser(
        prog="sixface",
        description="From one shipment record of dangerous goods: which marks and labels every face of every package needs, "
        "by road, sea and air, and why; and the sheets that print them at true size.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"sixface {VERSION}")
    commands = parser.add_subparsers(dest="command", metavar="command")
    for name in words[:1] if words and words[0] in COMMANDS else COMMANDS:
        add_arguments, help, description = COMMANDS[name]
        add_arguments(
            commands.add_parser(
                name,
                help=help,
                description=description,
                epilog=EPILOG,
                formatter_class=argparse.RawDescriptionHelpFormatter,
            )
        )
    return parser


def _plan(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("record", help="the shipment record: a .yaml or .json file")
    parser.add_argument("--mode", choices=("road", "sea", "air", "us-ground"), help="look at one leg only")
    parser.add_argument("--json", action="store_true", help="the plan as JSON (its form: sixface schema plan)")
    parser.add_argument(
        "--explain", action="store_true", help="step by step: what was read, decided and placed, and why"
    )


def _sheets(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "record", nargs="?", help="a record (.yaml, .json), or many: a folder of them, or a table (.csv, .xlsx)"
    )
    parser.add_argument(
        "--check",
        action="store_true",
        help="no labels: the page that shows whether the printer prints them at true size",
    )
    parser.add_argument("--jobs", type=int, default=1, metavar="N", help="many records: so many processes (default: 1)")
    parser.add_argument(
        "--continue",
        dest="keep_going",
        action="store_true",
        help="many records: leave a faulty one out, make the rest; started again, make only what changed",
    )
    parser.add_argument("-o", "--out", required=True, metavar="DIR", help="folder for the sheets (made if missing)")
    parser.add_argument(
        "--stock",
        default="A4",
        help='A4, A3, Letter, a size such as "150x200 mm"; labels cut already: A6, "100x150 mm", "150x150 mm", "4x6 in", '
        '"roll 110x170 mm", or a file that describes them, such as labels.yaml (default: A4)',
    )
    parser.add_argument(
        "--ready-made",
        metavar="LABELS",
        help="take these from the shelf: they are not printed, a pick list counts them; such as 3,8,9A, or all hazard labels",
    )
    parser.add_argument("--format", default="pdf,svg", help="pdf, svg, or both (default: pdf,svg)")
    parser.add_argument(
        "--inks", default="rgb", choices=("spot", "cmyk", "rgb"), help="colours of the PDF (default: rgb)"
    )
    parser.add_argument(
        "--text", default="outlines", choices=("outlines", "live"), help="letters of the SVG (default: outlines)"
    )
    parser.add_argument(
        "--symbols",
        default="white",
        choices=("white", "black", "receptacle"),
        help="symbol on red, green and blue labels; receptacle: of liquefied petroleum gas spared out (default: white)",
    )
    parser.add_argument(
        "--excepted", default="red", choices=("red", "black"), help="the excepted quantity mark (default: red)"
    )
    parser.add_argument(
        "--arrows", default="black", choices=("black", "red"), help="orientation arrows (default: black)"
    )
    parser.add_argument(
        "--allow-refused",
        action="store_true",
        help="make the labels of a refused package too; each sheet then says NOT CLEARED FOR its modes",
    )


def _compare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("record", help="the shipment record: a .yaml or .json file")
    parser.add_argument("-o", "--out", metavar="FILE", help="a .pdf or .svg page instead of text")


def _papers(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("record", help="the shipment record: a .yaml or .json file")
    parser.add_argument("-o", "--out", metavar="FILE", help="a .pdf or .svg page besides the text")


def _goods(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", metavar="NUMBER_OR_NAME", nargs="+", help='for instance 1266, or "perfumery"')
    parser.add_argument("--json", action="store_true", help="the entries as JSON")


def _specimens(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("-o", "--out", required=True, metavar="DIR", help="folder for the pages (made if missing)")
    parser.add_argument(
        "--inks", default="rgb", choices=("spot", "cmyk", "rgb"), help="colours of the PDF (default: rgb)"
    )


def _desk(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", type=int, default=8266, metavar="N", help="0: any that is free (default: 8266)")
    parser.add_argument(
        "--listen",
        default="127.0.0.1",
        metavar="ADDRESS",
        help="an address of this machine that a tablet can reach; every request must then show a key (default: 127.0.0.1)",
    )
    parser.add_argument(
        "--folder", default=".", metavar="DIR", help="records are read from it and saved in it (default: where you are)"
    )


def _schema(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", nargs="?", default="record", choices=("record", "plan", "csv"))


# A command -> its arguments, a line of help, and its description.
COMMANDS: dict[str, tuple[Callable[[argparse.ArgumentParser], None], str, str]] = {
    "plan": (_plan, "which marks each package needs, on which faces, and why", "Decide and place; nothing is printed."),
    "sheets": (
        _sheets,
        "print-ready sheets, face placement diagram, packing checklist",
        "Make the sheets of a record at true size.",
    ),
    "compare": (
        _compare,
        "the same package under every mode, differences marked",
        "Lay road, sea and air side by side.",
    ),
    "papers": (
        _papers,
        "what each mode's transport document must carry",
        "List it, filled from the record; a copy of no form.",
    ),
    "goods": (_goods, "the list's entries for a number or a name", "Look an entry up."),
    "specimens": (_specimens, "every label and mark at true size, with its paragraph", "Draw all that can be drawn."),
    "desk": (
        _desk,
        "a local page for clerk, packer and trainer",
        "Answer on this machine alone until ctrl-C, unless --listen names another address. Needs the extra: "
        "pip install 'sixface[desk]'.",
    ),
    "schema": (_schema, "the JSON Schema of a record or of a plan; the head of a table of records", "Print a form."),
}


if __name__ == "__main__":
    sys.exit(main())
