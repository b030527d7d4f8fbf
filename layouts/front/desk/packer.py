"""The packer's page: one package at a time, what to pack, then face by face as the package is turned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from urllib.parse import urlencode

from layouts.faces import ORDER
from layouts.front.desk.answer import Said, every_pair, face_words, findings_of, mark_name
from layouts.front.desk.consider import Considered, consider_text
from layouts.front.desk.drawing import cross_drawing, face_drawings, mark_drawing, standing_drawing
from layouts.front.desk.folder import Folder, FolderError
from layouts.front.desk.reply import Asked, Draw, Reply, elsewhere, page
from layouts.front.desk.ticks import DONE, UNDONE, WEIGHED, Packed, Ticks, progress, ticks_of, write_ticks
from layouts.particulars import mm, outer, said, says_itself, size
from layouts.placement import NOWHERE, Placed, Placement
from layouts.planned import Planned
from marks.errors import Unreadable
from marks.packer import overpack_steps, packing_steps
from marks.quantity import is_mass, read_quantity, to
from marks.quantity import show as as_written
from marks.reading import NOTATIONS
from marks.requirement import PackageDecision
from marks.terms import Face, Level

PACK, END = "pack", "end"
#: The upright faces in the order in which they come by as the package is turned.
_ROUND = ("front", "right", "back", "left")
#: How to come to what is none of them.
_OTHERWISE = {
    "top": "Look at its top from above, the front's edge towards you.",
    "shoulder": "Look at its shoulder, over the front.",
    "tag": "Take its tag in your hand.",
}
#: Of more packages alike than this, how far each of them is, is not listed.
LISTED = 60


@dataclass(frozen=True)
class Tick:
    """Something to tick. key: in the log; words: said and logged; title: said on the page in their stead; weigh: a figure
    belongs to it; done: since when."""

    key: str
    words: str
    title: str = ""
    more: str = ""
    number: int = 0
    picture: str = ""
    size: str = ""
    across: str = ""
    up: str = ""
    there: str = ""
    weigh: bool = False
    done: str = ""


@dataclass(frozen=True)
class Station:
    """A place in the order of work: packing, a face, the end. left: how many ticks it still waits for."""

    key: str
    title: str
    href: str
    total: int
    left: int
    here: bool


@dataclass
class Work:
    """One package of a record that is being packed."""

    planned: Planned
    what: str
    decision: PackageDecision
    placement: Placement
    packed: Packed
    count: int

    @property
    def refusals(self) -> tuple[Said, ...]:
        return tuple(one for one in findings_of(self.decision, self.placement) if one.level == Level.REFUSE)

    @property
    def faces(self) -> tuple[Face, ...]:
        """Those that bear marks, the working face first."""
        first = self.placement.working
        return tuple(face for face in (first, *(f for f in ORDER if f is not first)) if self.placement.on(face))

    def steps(self) -> Iterator[Tick]:
        """The packing lines."""
        if self.what == "overpack":
            overpack = next(one for one in self.planned.record.overpacks if one.overpack == self.packed.name)
            found = overpack_steps(overpack)
        else:
            package = next(one for one in self.planned.record.packages if one.package == self.packed.name)
            arrows = any(one.mark == "orientation-arrows" for one in self.decision.marks)
            found = packing_steps(package, self.planned.record.date, tuple(self.decision.modes), arrows)
        for number, step in enumerate(found, 1):
            yield Tick(f"pack.{number}", step.words, weigh=bool(step.field))

    def marks(self, face: Face) -> Iterator[Tick]:
        """The marks of a face."""
        for item in self.placement.on(face):
            yield _mark(item)

    def words(self) -> dict[str, str]:
        """Every key there is to tick, and what it says."""
        every = [*self.steps(), *(tick for face in self.faces for tick in self.marks(face) if not tick.there)]
        return {tick.key: tick.words for tick in every}

    def href(self, **other: object) -> str:
        values = {"record": self.packed.record, self.what: self.packed.name, "copy": self.packed.copy, **other}
        return f"/packer?{urlencode(values)}"


def _mark(item: Placed) -> Tick:
    wanted = item.requirement
    words = said(wanted)
    there = ("it is there already" + (", its place is not stated" if item.assumed else "")) if item.there else ""
    itself = says_itself(wanted) and bool(words)
    name = words if itself else mark_name(wanted)
    return Tick(
        f"mark.{item.number}",
        f"{name}, {item.face}",
        name,
        "" if itself or wanted.mark == "hazard-label" else words,
        item.number, mark_drawing(item.artwork), size(item), mm(item.x), mm(item.y), there,
    )  # fmt: skip


def show(folder: Folder, asked: Asked, draw: Draw, told: str = "", status: int = 200) -> Reply:
    """GET /packer: ``record``, then ``package`` or ``overpack``, ``copy``, and ``at``: pack, a face, end."""
    record = asked.one("record")
    if not record:
        return elsewhere("/")
    considered = _considered(folder, record)
    if considered.planned is None:
        return page(draw("packer_none.html", record=record, considered=considered), 422)
    work = _work(considered.planned, record, asked)
    if work is None:
        return _chooser(folder, considered.planned, record, draw)
    if work.refusals or work.placement is NOWHERE:
        return page(draw("packer_refused.html", work=work, record=record), status)
    return _package(folder, work, asked, draw, told, status)


def _considered(folder: Folder, record: str) -> Considered:
    data = folder.read(record)
    notation = NOTATIONS["." + record.rsplit(".", 1)[1].lower()]
    return consider_text(data.decode("utf-8", "replace"), record, notation=notation)


def _work(planned: Planned, record: str, asked: Asked) -> Work | None:
    digest = planned.digest[:16]
    for what, decision, placement in every_pair(planned):
        if asked.one(what) == decision.package:
            copy = asked.one("copy", "1")
            number = int(copy) if copy.isdigit() and len(copy) < 7 else 1
            count = decision.count if what == "package" else 1
            packed = Packed(record, digest, what, decision.package, max(1, min(number, count)))
            return Work(planned, what, decision, placement, packed, count)
    return None


def _chooser(folder: Folder, planned: Planned, record: str, draw: Draw) -> Reply:
    """Every package of the record, and how far it is."""
    works = []
    for what, decision, placement in every_pair(planned):
        count = decision.count if what == "package" else 1
        packed = Packed(record, planned.digest[:16], what, decision.package, 1)
        work = Work(planned, what, decision, placement, packed, count)
        words = work.words() if not work.refusals else {}
        found = progress(folder, packed, min(count, LISTED), words) if words else []
        standing = standing_drawing(placement, "") if placement.items else ""
        works.append((work, len(words), [(i, n) for i, n in enumerate(found, 1)], standing))
    return page(draw("packer_choose.html", planned=planned, record=record, works=works))


def _package(folder: Folder, work: Work, asked: Asked, draw: Draw, told: str, status: int) -> Reply:
    words = work.words()
    ticks = ticks_of(folder, work.packed, words)
    stations = _stations(work, ticks, asked.one("at"))
    here = next(i for i, one in enumerate(stations) if one.here)
    station = stations[here]
    face = Face(station.key) if station.key in tuple(Face) else None
    shown = list(work.steps()) if station.key == PACK else list(work.marks(face)) if face else []
    shown = [_ticked(one, ticks.done) for one in shown]
    placement = work.placement
    called = f"{work.what} {work.packed.name}"
    return page(
        draw(
            "packer.html",
            work=work, record=work.packed.record, told=told, ticks=ticks, total=len(words), shown=shown,
            stations=stations, station=station, face=face,
            before=stations[here - 1] if here else None,
            after=stations[here + 1] if here + 1 < len(stations) else None,
            drawings=face_drawings(placement, face, face_words(placement, face, called)) if face else None,
            turned=_turned(stations, here),
            cross=cross_drawing(face), standing=standing_drawing(placement, ""),
            cautions=[one for one in findings_of(work.decision, placement) if one.level == Level.CAUTION],
            outer=outer(placement.solid), weighed=_weighed(work, ticks.weighed),
            round=placement.solid.round, quarter=mm(placement.solid.size(Face.FRONT)[0]),
        ),
        status,
    )  # fmt: skip


def _ticked(tick: Tick, done: Mapping[str, str]) -> Tick:
    from dataclasses import replace

    return replace(tick, done=done.get(tick.key, ""))


def _stations(work: Work, ticks: Ticks, at: str) -> list[Station]:
    keys = [(PACK, "Pack", [one.key for one in work.steps()])]
    for face in work.faces:
        keys.append((face.value, face.value.capitalize(), [one.key for one in work.marks(face) if not one.there]))
    keys.append((END, "Check", []))
    known = [key for key, _, _ in keys]
    chosen = at if at in known else PACK
    return [
        Station(key, title, work.href(at=key), len(ticked), sum(one not in ticks.done for one in ticked), key == chosen)
        for key, title, ticked in keys
    ]


def _turned(stations: list[Station], here: int) -> str:
    """How the package is turned to come from the face before to this one."""
    faces = [one.key for one in stations[: here + 1] if one.key in tuple(Face)]
    if not faces or faces[-1] != stations[here].key:
        return ""
    face = faces[-1]
    if face not in _ROUND:
        return _OTHERWISE.get(face, f"Look at its {face}.")
    before = [one for one in faces[:-1] if one in _ROUND]
    if not before:
        return f"Stand before its {face}."
    apart = abs(_ROUND.index(face) - _ROUND.index(before[-1]))
    return f"Turn the package {'half way round' if apart == 2 else 'a quarter'}: its {face} now faces you."


def _weighed(work: Work, figure: str) -> str:
    """What is to be said of a weighed mass beside that of the record, or ""."""
    if not figure or work.what == "overpack":
        return ""
    package = next(one for one in work.planned.record.packages if one.package == work.packed.name)
    mass = _mass(figure)
    if mass is None or mass <= to(package.gross_mass, "kg"):
        return ""
    return (
        f"More than the record says: {figure} weighed, {as_written(package.gross_mass)} in the record. Stop, and have the record "
        "corrected: marks and limits may hang on it."
    )


def _mass(text: str) -> Decimal | None:
    try:
        read = read_quantity(text)
    except Unreadable:
        return None
    return to(read, "kg") if is_mass(read) else None


def tick(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """POST /packer/tick: what is ticked on the page is logged where it differs, and the page shown again.

    ``seen``: the keys the page showed; ``on``: those that are ticked; ``digest``: of the record it showed.
    """
    record = asked.one("record")
    considered = _considered(folder, record)
    work = _work(considered.planned, record, asked) if considered.planned else None
    if work is None:
        raise FolderError(f"{record} has no such package")
    if asked.one("digest") != work.packed.digest:
        told = "The record has changed since this page was opened: nothing was ticked. This is the record as it is now."
        return show(folder, asked, draw, told, 409)
    words = work.words()
    ticks = ticks_of(folder, work.packed, words)
    on = set(asked.every("on"))
    changes = []
    for key in dict.fromkeys(asked.every("seen")):
        if key in words and (key in on) != (key in ticks.done):
            changes.append((key, DONE if key in on else UNDONE, words[key]))
    weighed = asked.one("weighed").strip()
    if weighed and weighed != ticks.weighed:
        mass = _mass(weighed)
        if mass is None:
            told = f"{weighed[:40]!r} is no mass; write it with its unit, as in 17.1 kg"
            return show(folder, asked, draw, told, 422)
        changes.append(("weighed", WEIGHED, as_written(read_quantity(weighed))))
    write_ticks(folder, work.packed, changes)
    return elsewhere(work.href(at=asked.one("at", PACK)))
