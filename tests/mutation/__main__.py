"""python -m tests.mutation: tries mutants out and prints how many were killed, by what, and which live."""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator

from tests.mutation import tables
from tests.mutation.equal import reason
from tests.mutation.reach import first_asked, reached
from tests.mutation.trial import Candidate, Fate, preload, try_out

ROOMS = ("rules", "tables", "list")


def candidates(room: str, only: str = "") -> Iterator[Candidate]:
    """Every wrong of a room. only: of the files whose path holds this word."""
    if room == "list":
        return tables.list_candidates()
    if room == "rules":
        from tests.mutation import code

        return (one for path in code.files() if only in str(path) for one in code.candidates(path))
    return (one for path in tables.files() if only in str(path) for one in tables.candidates(path))


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
    reach = reached()
    short = False
    for room in options.rooms or ("rules", "tables"):
        drawn = list(candidates(room, options.only))
        random.Random(options.seed).shuffle(drawn)
        fates: Counter[Fate] = Counter()
        equal = 0
        for make in drawn:
            one = make()
            if one is None:
                continue
            if reason(one):
                equal += 1
                continue
            fate = try_out(one, first_asked(one.where, reach))
            fates[fate] += 1
            if fate is Fate.LIVES:
                print(f"lives: {one.where}: {one.what}", flush=True)
            if not fates.total() % 50:
                print(f"  {room}: {fates.total()} tried, {fates[Fate.LIVES]} live", flush=True)
            if fates.total() == options.sample:
                break
        killed = fates.total() - fates[Fate.LIVES]
        share = 100 * killed / fates.total() if fates else 100.0
        print(f"{room}: {killed} of {fates.total()} killed, {share:.1f} % (of about {len(drawn)} mutants); by", end=" ")
        print(", ".join(f"{fate} {fates[fate]}" for fate in Fate if fates[fate]), end="")
        print(f"; {equal} left out as no wrong, see equal.toml" if equal else "")
        short = short or share < 90
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
