"""python -m tests.fuzz --count 20000: records drawn and damaged at random; each gets an answer or a clear error.

No traceback, no more than two seconds of the processor (and a tenth for each file that is made), no more than 300 MB.
The records are those of examples/ and of the law cases, put together anew: values swapped with others that stand under
the same key anywhere, keys taken away or added, quantities a thousand times larger or smaller, hostile text, damaged
bytes; by Hypothesis, which makes a failing one small. ``--atheris`` lets atheris (where it is installed) choose the bytes
instead, guided by the branches they reach.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import json
import random
import re
import resource
import signal
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any
from zlib import crc32

import yaml
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from layouts.front.cli import main as sixface
from marks.goods.lookup import every
from marks.terms import ShipAs
from tests.law_cases import BESIDE, PACKED, RECORD, cases
from tests.strategies import record_data
from tests.test_every_entry import package as package_of

ROOT = Path(__file__).parents[1]
SECONDS, MEGABYTES = 2.0, 300
#: Sheets of many packages are many: so much longer for each file that was made.
EACH = 0.1
COMMANDS = (("plan", "--json"), ("plan", "--explain"), ("compare",), ("papers",), ("sheets", "--allow-refused"))
#: Sheets take longest: one record in so many gets them.
RARE = 40
#: The lines of a clear error.
CLEAR = re.compile(r"(sixface: |.+?:\d+: |.+?: )\S.*; .*|sixface: .+")
HOSTILE = (
    "", " ", "~", "null", "true", "-1", "0", "1e9", "0.0000001 L", "999999999999999 kg", "1 kg 2 L", "٣ kg", "3,5 kg",
    "x" * 10_000, "left\u202eright", "nul\x00", "<svg onload='x()'>", "%PDF-1.4 (", ") Tj ET", "{{ 7*7 }}", "&amp;",
    "\ud83d\ude00", "漢字", "Ωж", "a\u0301" * 30, "../../etc", "[]", "{}", "'", '"', "\\", "- -", ": :", "é" * 80, "W" * 30,
)  # fmt: skip
Way = tuple[str | int, ...]


class Broken(AssertionError):
    """A record that got no clear answer."""


@cache
def bases() -> tuple[Any, ...]:
    """Whole records to begin with, as trees of texts."""
    examples = (yaml.load(path.read_text("utf-8"), yaml.CBaseLoader) for path in sorted(ROOT.glob("examples/*.yaml")))
    laws = (_law(case.given) for case in cases())
    return (*examples, *laws)


def _law(given: dict[str, Any]) -> Any:
    goods = given["goods"]
    package = PACKED[given.get("packed", "box")] | given.get("package", {})
    package |= {"package": "A", "goods": goods if isinstance(goods, list) else [goods]}
    over = [{"overpack": "P"} | given["overpack"]] if "overpack" in given else []
    modes = [mode for mode in ("road", "sea", "air", "us-ground") if mode in given]
    whole = RECORD | {"modes": modes, "packages": [package, BESIDE], "overpacks": over} | given.get("record", {})
    return json.loads(json.dumps(whole, default=str))


@cache
def pool() -> dict[str, tuple[Any, ...]]:
    """What stands under each key in any of them."""
    found: dict[str, dict[str, Any]] = defaultdict(dict)
    for base in bases():
        for way, value in _walk(base):
            name = next((str(step) for step in reversed(way) if isinstance(step, str)), "")
            found[name][json.dumps(value, sort_keys=True)] = value
    return {name: tuple(values.values()) for name, values in sorted(found.items())}


def _walk(tree: Any, way: Way = ()) -> Iterator[tuple[Way, Any]]:
    yield way, tree
    members = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, value in members:
        yield from _walk(value, (*way, key))


def _changed(tree: Any, chance: random.Random) -> Any:
    """The tree with one thing in it otherwise."""
    tree = json.loads(json.dumps(tree))
    ways = [way for way, _ in _walk(tree) if way]
    if not ways:
        return tree
    way = chance.choice(ways)
    here = tree
    for step in way[:-1]:
        here = here[step]
    last, value = way[-1], here[way[-1]]
    name = next((str(step) for step in reversed(way) if isinstance(step, str)), "")
    what = chance.random()
    if what < 0.4:
        here[last] = chance.choice(pool().get(name) or HOSTILE)
    elif what < 0.55:
        here[last] = _nudged(value, chance) if isinstance(value, str) else chance.choice(HOSTILE)
    elif what < 0.65:
        here[last] = chance.choice(HOSTILE)
    elif what < 0.75:
        del here[last]
    elif what < 0.85 and isinstance(here, list):
        here.append(value)
    elif isinstance(here, dict):
        key = chance.choice(list(pool()))
        here[key] = chance.choice(pool()[key])
    return tree


def _nudged(text: str, chance: random.Random) -> str:
    def other(found: re.Match[str]) -> str:
        return chance.choice(["0", "1", found[0] + "000", found[0] + "1", "0." + found[0], "99999", found[0][:1]])

    return re.sub(r"\d+(?:\.\d+)?", other, text, count=1)


@st.composite
def records(draw: st.DrawFn) -> tuple[str, bytes]:
    """A file's ending and its bytes."""
    chance = draw(st.randoms(use_true_random=False))
    kind = draw(st.integers(0, 9))
    if kind == 0:
        tree: Any = draw(record_data())
    elif kind == 1:
        some = chance.sample(every(), 3)
        ship = chance.choice(list(ShipAs))
        tree = RECORD | {"modes": ["road", "sea", "air"], "packages": [package_of(entry, ship) for entry in some]}
    else:
        tree = chance.choice(bases())
    for _ in range(draw(st.sampled_from((0, 1, 1, 1, 2, 2, 3, 6)))):
        tree = _changed(tree, chance)
    ending = draw(st.sampled_from((".yaml", ".json")))
    text = json.dumps(tree, ensure_ascii=chance.random() < 0.5, default=str) if ending == ".json" else _yaml(tree)
    data = text.encode("utf-8", "surrogatepass")
    if draw(st.integers(0, 7)) == 0:
        data = _damaged(data, chance)
    return ending, data


def _yaml(tree: Any) -> str:
    return yaml.dump(json.loads(json.dumps(tree, default=str)), allow_unicode=True, sort_keys=False)


def _damaged(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    to = min(len(data), at + chance.randrange(20))
    new = chance.choice(
        (b"", b"\x00", b"\xff\xfe", b"\t", b"&a ", b"*a", b"!!x ", b"{", b"]", b"- ", b"\n", data[at:to] * 3)
    )
    return data[:at] + new + data[to:]


def check(ending: str, data: bytes, command: tuple[str, ...], folder: Path) -> int:
    """The exit status of one command on one record; Broken where the answer is none."""
    record = folder / f"record{ending}"
    record.write_bytes(data)
    words = [command[0], str(record), *command[1:]]
    before = _peak()
    with tempfile.TemporaryDirectory(dir=folder) as out, _at_most(30 * SECONDS):
        if command[0] == "sheets":
            words += ["-o", out]
        said, told = io.StringIO(), io.StringIO()
        began = time.process_time()
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(told):
            status = sixface(words)
        took = time.process_time() - began
        made = [path for path in Path(out).rglob("*") if path.is_file()]
    if status not in (0, 1, 2):
        raise Broken(f"exit {status}")
    if took > SECONDS + EACH * len(made):
        raise Broken(f"{took:.1f} s of the processor")
    if status == 2:
        lines = told.getvalue().splitlines()
        if not lines or not all(CLEAR.fullmatch(line) for line in lines):
            raise Broken(f"no clear error: {told.getvalue()[:300]!r}")
        if said.getvalue() or made:
            raise Broken("an answer beside the error")
    elif not said.getvalue():
        raise Broken("no answer")
    if (peak := _peak()) > max(MEGABYTES, before):
        raise Broken(f"{peak} MB")
    return status


def _peak() -> int:
    """The most memory this process ever had, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


@contextlib.contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    """Raise Broken where the processor has been busy for so long."""

    def stop(number: int, frame: object) -> None:
        raise Broken(f"busy for {seconds:g} s")

    held = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, held)


def run(count: int, number: int) -> Counter[tuple[str, int]]:
    """Try ``count`` records; how often each command gave each exit status. Broken, with the record, at the first failing."""
    tried: Counter[tuple[str, int]] = Counter()

    with tempfile.TemporaryDirectory(prefix="sixface-fuzz-") as folder:

        @seed(number)
        @settings(
            max_examples=count, deadline=None, database=None, derandomize=False, print_blob=False,
            suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
        )  # fmt: skip
        @given(records())
        def each(record: tuple[str, bytes]) -> None:
            which = crc32(record[1])  # of every kind alike, which numbers drawn are not
            command = COMMANDS[-1] if not which % RARE else COMMANDS[which % (len(COMMANDS) - 1)]
            tried[command[0], check(*record, command, Path(folder))] += 1

        each()
    return tried


def guided(count: int) -> None:
    """Let atheris choose: what it makes is the bytes of a YAML record."""
    import atheris

    seeds = [_yaml(base) for base in bases()[:60]]
    for name in [name for name in sys.modules if name.split(".")[0] in ("marks", "layouts")]:
        del sys.modules[name]  # read anew below, with its branches counted
    with atheris.instrument_imports(include=["marks", "layouts"]):
        import marks.reading  # noqa: F401
        from layouts.front.cli import main as counted
    globals()["sixface"] = counted
    folder = tempfile.mkdtemp(prefix="sixface-fuzz-")
    corpus = Path(folder, "corpus")
    corpus.mkdir()
    for number, text in enumerate(seeds):
        (corpus / str(number)).write_text(text, "utf-8")
    atheris.Setup(
        ["fuzz", str(corpus), f"-runs={count}", "-max_len=6000", "-verbosity=0"],
        lambda data: check(".yaml", data, COMMANDS[0], Path(folder)),
    )
    atheris.Fuzz()


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--atheris", action="store_true", help="atheris chooses the bytes")
    options = parser.parse_args()
    if options.atheris:
        guided(options.count)
        return 0
    tried = run(options.count, options.seed)
    for (command, status), times in sorted(tried.items()):
        print(f"{command:<8} exit {status}: {times}")
    print(f"{sum(tried.values())} records, each with an answer or a clear error; peak memory {_peak()} MB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
