"""Work in processes of its own: what takes too long or too much memory is ended, and the page goes on."""

from __future__ import annotations

import asyncio
import multiprocessing
import signal
import sys
import time
from multiprocessing.connection import Connection
from pathlib import Path

from layouts.front.desk.reply import LIMIT, Asked, Reply, plain

#: So many processes work at most, so many requests wait for one; a worker may have so much memory (address space).
WORKERS, WAITING, MEMORY = 2, 24, 2 * 1024**3
#: An answer is told this much before the request's limit, so that there is time to say that it was too much.
_SPARE = 1.0

BUSY = plain("The desk is busy; ask again in a moment.\n", 503)
TOO_LONG = plain(
    f"This takes longer than the {LIMIT:.0f} seconds a request may run at the desk, and was ended. For large records use the "
    "command line: sixface sheets RECORD -o DIR\n",
    503,
)
FAILED = plain("The desk could not answer this; the command line says why: sixface plan RECORD\n", 500)


def work(pipe: Connection, folder: str) -> None:
    """The life of a worker: answer what comes through the pipe until it closes."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # ctrl-C is for the server, which closes the pipe
    _bounded()
    from layouts.front.desk.jobs import answer, warmed

    place = Path(folder)
    if not pipe.poll(0.3):  # nobody waits: load what the first plan will need
        warmed()
    while True:
        try:
            job, asked = pipe.recv()
        except (EOFError, OSError):
            return
        try:
            reply = answer(place, job, asked)
        except MemoryError:
            reply = plain("This is too large for the desk; use the command line.\n", 413)
        except Exception as error:
            print(f"sixface desk: {job}: {type(error).__name__}: {error}", file=sys.stderr)
            reply = FAILED
        pipe.send(reply)


def _bounded() -> None:
    try:
        import resource
    except ImportError:  # not a POSIX system
        return
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY if hard < 0 else min(MEMORY, hard), hard))


class Worker:
    """One process and our end of its pipe."""

    def __init__(self, folder: str) -> None:
        context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(target=work, args=(theirs, folder), daemon=True)
        self._process.start()
        theirs.close()

    def ask(self, job: str, asked: Asked, until: float) -> Reply | None:
        """Its answer, or None where it has none by ``until`` (monotonic) or has come to an end."""
        try:
            self._pipe.send((job, asked))
            if self._pipe.poll(max(0.0, until - time.monotonic())):
                reply: Reply = self._pipe.recv()
                return reply
        except (EOFError, OSError):
            pass
        return None

    def leave(self) -> None:
        """Let it go of itself: it is idle, and finds the pipe closed."""
        self._pipe.close()
        self._process.join(_SPARE)
        self.end()

    def end(self) -> None:
        self._pipe.close()
        self._process.kill()
        self._process.join()


class Pool:
    """The workers. The first begins at once, further ones when they are needed."""

    def __init__(self, folder: Path) -> None:
        self._folder = str(folder)
        self._idle = [Worker(self._folder)]
        self._waiting = 0
        self._free = asyncio.Semaphore(WORKERS)

    async def run(self, job: str, asked: Asked) -> Reply:
        """The reply to one request: of the job, or that it was too much."""
        until = time.monotonic() + LIMIT - _SPARE
        if self._waiting >= WAITING:
            return BUSY
        self._waiting += 1
        try:
            await asyncio.wait_for(self._free.acquire(), LIMIT - _SPARE)
        except TimeoutError:
            return BUSY
        finally:
            self._waiting -= 1
        return await asyncio.shield(asyncio.ensure_future(self._with_worker(job, asked, until)))

    async def _with_worker(self, job: str, asked: Asked, until: float) -> Reply:
        """Shielded: a request that is called off must not take its worker with it."""
        worker = None
        try:
            worker = self._idle.pop() if self._idle else await asyncio.to_thread(Worker, self._folder)
            reply = await asyncio.to_thread(worker.ask, job, asked, until)
            if reply is None:
                await asyncio.to_thread(worker.end)
                return TOO_LONG if time.monotonic() >= until - 0.05 else FAILED
            self._idle.append(worker)
            return reply
        finally:
            self._free.release()

    def end(self) -> None:
        for worker in self._idle:
            worker.leave()
        self._idle.clear()
