"""python -m tests.mutation: tries mutants out and prints how many were killed, by what, and which live."""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator

from tests.mutation import code, tables
from tests.mutation.trial import Fate, Mutant, preload, try_out

ROOMS = ("rules", "tables", "list")


def mutants(room: str, only: str = "") -> Iterator[Mutant]:
    """Every mutant of a room. only: of the files whose path holds this word."""
    if room == "rules":
        yield from (one for path in code.files() if only in str(path) for one in code.mutants(path))
    elif room == "tables":
        yield from (one for path in tables.files() if only in str(path) for one in tables.mutants(path))
    else:
        yield from tables.list_mutants()


def _hints(one: Mutant) -> list[str]:
    """Files of law cases that bear the name of what is wrong."""
    name = one.where.split("/")[-1].split(".")[0].split(":")[0]
    return [name, name.replace("_", "-"), f"{name}s"]


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument(
        "rooms", nargs="*", choices=[*ROOMS, []], help="rules, tables, list (of goods); rules and tables"
    )
    parser.add_argument(
        "--sample", type=int, default=300, help="how many of each room, drawn by --seed; 0: all of them"
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="those of files whose path holds this word")
    options = parser.parse_args()
    preload()
    short = False
    for room in options.rooms or ("rules", "tables"):
        drawn = list(mutants(room, options.only))
        of = len(drawn)
        if options.sample and options.sample < of:
            drawn = random.Random(options.seed).sample(drawn, options.sample)
        fates: Counter[Fate] = Counter()
        for number, one in enumerate(drawn, 1):
            fate = try_out(one, _hints(one))
            fates[fate] += 1
            if fate is Fate.LIVES:
                print(f"lives: {one.where}: {one.what}", flush=True)
            if not number % 50:
                print(f"  {room}: {number} of {len(drawn)} tried, {fates[Fate.LIVES]} live", flush=True)
        killed = len(drawn) - fates[Fate.LIVES]
        share = 100 * killed / len(drawn) if drawn else 100.0
        print(f"{room}: {killed} of {len(drawn)} killed, {share:.1f} % (of {of} mutants in all); by", end=" ")
        print(", ".join(f"{fate} {fates[fate]}" for fate in Fate if fates[fate]))
        short = short or share < 90
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
