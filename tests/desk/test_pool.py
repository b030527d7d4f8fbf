"""The workers of the desk: they outlive what they cannot do, are let go, and no request is left without an answer."""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from layouts.front.desk import pool
from layouts.front.desk.reply import Asked, Reply, plain
from tests.desk.conftest import RECORD, ROOT
from tests.desk.wire import run

pytest.importorskip("jinja2", reason="jinja2 is not installed: the desk is not tested (pip install -e '.[dev]')")


@pytest.fixture
def worker(place: Path) -> Iterator[pool.Worker]:
    found = pool.Worker(str(place))
    yield found
    found.end()


def asks(worker: pool.Worker, job: str) -> Reply | None:
    return worker.ask(job, Asked(), time.monotonic() + 20)


def test_a_worker_outlives_work_it_cannot_do_and_goes_when_it_is_let_go(worker: pool.Worker) -> None:
    assert asks(worker, "nothing") == pool.FAILED
    found = asks(worker, "start")
    assert found is not None and found.status == 200
    worker.leave()
    assert worker._process.exitcode == 0  # of itself: not killed
    assert asks(worker, "start") is None


def test_nothing_is_loaded_by_the_first_answer_that_could_be_loaded_before(place: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from layouts.front.desk.jobs import answer, warmed;"
        "from layouts.front.desk.reply import Asked; warmed(); before = set(sys.modules);"
        f"assert answer(Path({str(place)!r}), 'clerk', Asked((('record', {RECORD!r}),))).status == 200;"
        "new = (n for n in set(sys.modules) - before if n.split('.')[0] in ('marks', 'layouts'));"
        "print([n for n in new if not n.startswith('layouts.artwork.symbols.')])"  # each record has its own
    )
    made = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert made.returncode == 0, made.stderr
    assert made.stdout == "[]\n"


def test_a_worker_that_dies_at_its_work_has_no_answer(worker: pool.Worker) -> None:
    assert worker._process.pid is not None
    os.kill(worker._process.pid, 9)
    assert asks(worker, "start") is None


class Slow:
    """In a worker's place: takes a quarter of a second for everything, or gives no answer."""

    def __init__(self, folder: str) -> None:
        self.folder, self.ended, self.left = folder, False, False

    def ask(self, job: str, asked: Asked, until: float) -> Reply | None:
        time.sleep(0.25)
        return None if job == "dies" else plain(job, 200)

    def end(self) -> None:
        self.ended = True

    def leave(self) -> None:
        self.left = True


def test_more_requests_than_wait_are_told_to_come_back(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While two work, 24 wait: of 30 more six are told so, and none is left without an answer."""
    monkeypatch.setattr(pool, "Worker", Slow)

    async def crowd() -> list[Reply]:
        found = pool.Pool(place)
        first = [asyncio.create_task(found.run("first", Asked())) for _ in range(pool.WORKERS)]
        await asyncio.sleep(0.05)
        replies = await asyncio.gather(*first, *(found.run("more", Asked()) for n in range(30)))
        idle = list(found._idle)
        found.end()
        assert len(idle) == pool.WORKERS and all(one.left for one in idle) and found._idle == []
        return replies

    replies = run(crowd())
    assert [one.body for one in replies].count(b"first") == 2
    assert [one.body for one in replies].count(b"more") == pool.WAITING == 24
    assert replies.count(pool.BUSY) == 6


def test_who_has_waited_too_long_is_told_and_a_dead_worker_is_not_kept(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "Worker", Slow)
    monkeypatch.setattr(pool, "LIMIT", pool._SPARE + 0.1)

    async def three() -> list[Reply]:
        found = pool.Pool(place)
        first = found._idle[0]
        late = await asyncio.gather(*(found.run("dies", Asked()) for _ in range(3)))
        assert first.ended and found._idle == []
        return late

    assert run(three()) == [pool.TOO_LONG, pool.TOO_LONG, pool.BUSY]
