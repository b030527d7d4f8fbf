"""Parts 3 and 4: time and memory as a batch grows, and two processes beside one."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path

from tests.bench.batch import whole_road
from tests.bench.cold import _environment
from tests.bench.records import LIGHT, MIXED, ROOT, write_records
from tests.bench.table import Part


def _of_its_own(folder: Path, out: Path) -> tuple[list[float], float]:
    """A batch in a process of its own: seconds at which each record was done, and the peak of its memory in MB."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.growth", str(folder), str(out)],
        capture_output=True, text=True, cwd=ROOT, env=_environment(), check=True,
    )  # fmt: skip
    told = json.loads(done.stdout)
    return told["times"], told["peak"]


def grown(folder: Path, out: Path) -> None:
    """What the process does: one record to load what is loaded once, then the batch."""
    from layouts.batch import Options, make_batch

    pdf, times = Options(formats=("pdf",)), [0.0]
    with tempfile.TemporaryDirectory() as warm:
        make_batch(write_records(Path(warm) / "in", 1, LIGHT, first=999_999), Path(warm) / "out", pdf)
    began = time.perf_counter()
    made = make_batch(folder, out, pdf, progress=lambda *_: times.append(time.perf_counter() - began))
    times.append(time.perf_counter() - began)
    assert all(one.verdict == "ship" for one in made)
    print(json.dumps({"times": times, "peak": _peak()}))


def _peak() -> float:
    """The most memory this process has held, MB; Linux keeps it for the process itself, not for what it was forked from."""
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(line.split()[1]) / 1024 for line in status.read_text().splitlines() if line.startswith("VmHWM"))
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1 if sys.platform == "darwin" else 1024) / 1024


def measure(scratch: Path, quick: bool) -> Part:
    part = Part("3 growth: records of one package and one mark, 3 pages of PDF each, every batch a process of its own")
    sizes = (10, 100, 300) if quick else (10, 100, 1000, 10_000)
    each: dict[int, list[float]] = {}
    peaks: dict[int, list[float]] = {}
    middle = 100
    # What the long ones are held against is measured before and after them: a machine is not as fast all the time.
    for turn, size in enumerate((*sizes, middle)):
        folder = write_records(scratch / f"growth-{size}", size, LIGHT)
        for n in range(1 if size >= 1000 else 3 if quick else 5):
            times, peak = _of_its_own(folder, scratch / f"grown-{size}-{turn}-{n}")
            peaks.setdefault(size, []).append(peak)
            if size >= 1000:  # one run, told by tenths, the last with what remains to be done at the end
                tenth = size // 10
                marks = [times[at] for at in range(0, size, tenth)] + [times[-1]]
                each[size] = [(b - a) * 1000 / tenth for a, b in pairwise(marks)]
            else:
                each.setdefault(size, []).append(times[-1] * 1000 / size)
    for size in sizes:
        part.row(f"{size:,} records: time per record", "ms", each[size])
    for size in sizes:
        part.row(f"{size:,} records: peak memory", "MB", peaks[size])
    last = sizes[-1]
    base = sorted(each[middle])[len(each[middle]) // 2]
    part.row(f"time per record, {last:,} against {middle}", "times", [one / base for one in each[last]], most=1.15)
    least = min(peaks[middle])
    part.row(f"peak memory, {last:,} against {middle}", "times", [one / least for one in peaks[last]], most=1.3)
    if not quick:
        part.notes.append(
            "1,000 and 10,000 records run once: their times are those of each tenth, their memory is one figure."
        )
    return part


def measure_two(scratch: Path, quick: bool) -> Part:
    """One process and two on the same records, in turn."""
    part = Part("4 two processes: the records of part 2, start of the second process included")
    many, rounds = (36, 3) if quick else (135, 5)
    folder = write_records(scratch / "two", many, MIXED)
    took: dict[int, list[float]] = {1: [], 2: []}
    whole_road(write_records(scratch / "two-warm", len(MIXED), first=900_001), scratch / "two-out")
    for _ in range(rounds):
        for jobs, seconds in took.items():
            spent, pages = whole_road(folder, scratch / "two-out", jobs)
            seconds.append(pages / spent)
    part.row("one process", "pages/s", took[1])
    part.row("two processes", "pages/s", took[2])
    part.ratio("two against one", took[2], took[1], least=1.7)
    part.notes.append("Two processes need two cores that nothing else uses.")
    return part


if __name__ == "__main__":
    grown(Path(sys.argv[1]), Path(sys.argv[2]))
