"""A second process that draws. It loads what draws while the first one reads, decides and places; it is handed finished sheets,
and what it has drawn the first one writes. Whatever befalls it, the first draws itself what did not come back.
"""

from __future__ import annotations

import copyreg
import os
import pickle
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from types import MappingProxyType
from typing import Any, BinaryIO

from layouts.draw import Draft, Drawing, one_by_one, to_pdf, to_svg
from layouts.furniture import Heading, Page
from layouts.geometry import Box, rectangle
from layouts.ink import BLACK
from layouts.pen import FONTS
from layouts.probe import RecordingPen
from layouts.sheet import Sheet

#: So many sheets are handed over at most: a longer stack would be held twice, and the time is its drawing's.
MOST = 200
_LONG = 1 << 20
_CUT_OFF = (OSError, EOFError, pickle.PickleError, TypeError, AttributeError, ValueError)


def _read_only(entries: dict[str, Any]) -> MappingProxyType[str, Any]:
    return MappingProxyType(entries)


# Measures of the law are such mappings, and pickle does not know them.
copyreg.pickle(MappingProxyType, lambda given: (_read_only, (dict(given),)))


@contextmanager
def beside(formats: Sequence[str]) -> Iterator[Drawing]:
    """What draws the files of one job: a second process, where a process can be copied and another processor is there to run
    it; else this one. For a process of one thread. formats: what will be asked for, pdf, svg."""
    if not hasattr(os, "sched_getaffinity") or len(os.sched_getaffinity(0)) < 2:
        yield one_by_one
        return
    (asked, ask), (answer, say) = _pipe(), _pipe()
    if not (pid := os.fork()):
        os.close(ask)
        os.close(answer)
        _second(asked, say, formats)
    os.close(asked)
    os.close(say)
    to, back = os.fdopen(ask, "wb"), os.fdopen(answer, "rb")
    try:
        yield lambda drafts, told: _handed_over(drafts, told, to, back)
    finally:
        os.kill(pid, signal.SIGKILL)  # it has said all, or nobody asks any more; it writes nothing itself
        os.waitpid(pid, 0)
        back.close()
        with suppress(OSError):  # what was not taken is not missed
            to.close()


def _pipe() -> tuple[int, int]:
    """Its two ends. A long one: who writes need not wait for who is not ready to read yet."""
    from fcntl import F_SETPIPE_SZ, fcntl

    ends = os.pipe()
    with suppress(OSError):  # the system may allow less
        fcntl(ends[1], F_SETPIPE_SZ, _LONG)
    return ends


def _handed_over(drafts: Iterable[Draft], told: Callable[[], None], to: BinaryIO, back: BinaryIO) -> Iterator[bytes]:
    """Each draft is sent when it is there, so that it is drawn while the next one is laid out. Where one can't be sent, none
    of them is asked for."""
    taken: list[Draft] = []
    many, whole = 0, True
    sender = pickle.Pickler(to, pickle.HIGHEST_PROTOCOL)  # what several have in common is sent once
    for draft in drafts:
        taken.append(draft)
        many += len(draft.sheets)
        whole = whole and (many > MOST or _sent(draft, sender, to))
    whole = whole and _sent(None, sender, to)
    return _answered(taken, told, back) if whole else one_by_one(taken, told)


def _sent(draft: Draft | None, sender: pickle.Pickler, to: BinaryIO) -> bool:
    with suppress(*_CUT_OFF):
        sender.dump(draft)
        to.flush()
        return True
    return False


def _answered(left: list[Draft], told: Callable[[], None], back: BinaryIO) -> Iterator[bytes]:
    """What comes back under the name of the file whose turn it is; the rest is drawn here."""
    while left:
        name, content = "", b""
        with suppress(*_CUT_OFF):
            name, content = pickle.load(back)
        if name != left[0].name:
            break
        for _ in left.pop(0).sheets:
            told()
        yield content
    yield from one_by_one(left, told)


def _second(asked: int, say: int, formats: Sequence[str]) -> None:
    """The second process, to its end. It prints nothing, and an interruption is the first one's to answer."""
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(nowhere, stream)
        _make_ready(formats)
        with os.fdopen(asked, "rb") as drafts, os.fdopen(say, "wb") as back:
            drawn, receiver = [], pickle.Unpickler(drafts)
            while (draft := receiver.load()) is not None:
                drawn.append((draft.name, draft.drawn(lambda: None)))
            for named in drawn:  # not before all is taken: neither waits while the other does
                pickle.dump(named, back, pickle.HIGHEST_PROTOCOL)
    finally:
        os._exit(0)  # whatever went wrong: the first process meets it too, and says it


def _make_ready(formats: Sequence[str]) -> None:
    """Draw a sheet that nobody sees: what is loaded and opened at a first stroke is so now, while there is time."""
    pen, printable = RecordingPen(), "".join(map(chr, range(32, 127)))
    for font in FONTS:
        pen.text(0, 0, printable, font, 1, BLACK)
    pen.fill(rectangle(Box(0, 0, 1, 1), 0.1), BLACK)
    pen.stroke(rectangle(Box(0, 0, 1, 1), 0.1), BLACK, 0.1, dash=(1, 1))
    sheet = Sheet(Page(210, 297, 6, Heading("", ())), around=pen.value)
    if "svg" in formats:
        to_svg(sheet)
    if "pdf" in formats:
        to_pdf([sheet], title="")
