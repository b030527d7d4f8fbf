"""The dangerous goods list: number or name in, entries out.

``find`` and ``choose`` read only the lines of one number, so that a plan stays quick; ``search`` reads the whole list.
What each column of entries.csv means and where it comes from stands in sources.md.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from marks.errors import EntryOpen, UnknownEntry

LIST = Path(__file__).with_name("entries.csv")

#: Spellings that differ between the regimes (or between readers); both sides of a comparison are folded alike.
_SPELLINGS = (
    ("sulph", "sulf"), ("aluminium", "aluminum"), ("caesium", "cesium"), ("fibre", "fiber"), ("vapour", "vapor"),
    ("colour", "color"), ("flavour", "flavor"), ("mould", "mold"), ("fuelled", "fueled"), ("gelatine", "gelatin"),
)  # fmt: skip

#: What the codes of ``Entry.road_source`` and ``Entry.us_source`` mean.
SOURCES = {
    "adr-2017": "ADR applicable from 1 January 2017, Chapter 3.2 Table A (UNECE)",
    "us-2026": "49 CFR 172.101 Hazardous Materials Table, in force on 1 June 2026",
    "memory": "from memory: a line that later editions of ADR added",
}

#: What ``Entry.road_status`` means, in words.
ROAD_STATUS = {
    "regulated": "subject to ADR",
    "not-subject": "not subject to ADR",
    "forbidden": "carriage prohibited by ADR",
    "not-listed": "not in ADR Table A; the US table alone has this line",
}


class Entry(Struct, frozen=True):
    """One line of the list. Empty text or None: the source has no value, or the regime has no such line.

    line: counts the lines of one number from 1. name: the proper shipping name as it is marked; alternatives: the
    others the line offers. qualifier: words that go with the line but not with the name. labels: hazard-label variants,
    primary first, by ADR; model_labels: by the UN Model Regulations, as sea and air follow them (they differ where ADR
    takes the goods out of the rules); us_labels: by 49 CFR. passenger, cargo: what one package may hold on each
    aircraft, as the US table prints it, "" where no figure is held. road_status: regulated, not-subject, forbidden or
    not-listed. marine_pollutant: no, yes or severe, by the US list. Every column: sources.md.
    """

    id: str
    un: str
    prefix: str
    line: int
    name: str
    alternatives: tuple[str, ...]
    qualifier: str
    hazard_class: str
    division: str | None
    compatibility: str | None
    classification_code: str
    packing_group: str | None
    labels: tuple[str, ...]
    model_labels: tuple[str, ...]
    technical_name: bool
    state: str | None
    limited_quantity: str | None
    excepted_quantity: str | None
    packing_instructions: tuple[str, ...]
    packing_provisions: tuple[str, ...]
    mixed_packing: tuple[str, ...]
    transport_category: str | None
    tunnel_code: str | None
    hazard_id: str | None
    road_status: str
    road_provisions: tuple[str, ...]
    passenger: str
    cargo: str
    us_name: str
    us_packing_group: str | None
    us_labels: tuple[str, ...]
    us_technical_name: bool
    us_symbols: tuple[str, ...]
    us_provisions: tuple[str, ...]
    us_exceptions: str
    us_packaging: str
    marine_pollutant: str
    road_source: str
    us_source: str
    notes: tuple[str, ...]

    @property
    def number(self) -> str:
        """As it is marked: "UN 1219", "NA 1993", "ID 8000"."""
        return f"{self.prefix} {self.un}"

    @property
    def names(self) -> tuple[str, ...]:
        """Every proper shipping name the line offers."""
        return self.name, *self.alternatives

    @property
    def shown_class(self) -> str:
        """"3", "6.1", "2.1", "1.4G"."""
        return (self.division or self.hazard_class) + (self.compatibility or "")

    @property
    def subsidiary(self) -> tuple[str, ...]:
        """The subsidiary hazards by ADR (the fissile label is not one)."""
        return tuple(label for label in self.labels[1:] if label != "7E")


def find(number: str) -> tuple[Entry, ...]:
    """Every line of a number, in the list's order; none where the list has none.

    "1266" and "UN1266" are the same. A bare number that has no UN entry finds the NA or ID entry of that number.
    """
    read = re.fullmatch(r"(UN|NA|ID)? ?([0-9]{4})", number.strip().upper())
    if not read:
        return ()
    prefix, digits = read.groups()
    keys = {"UN": (digits,), None: (digits, f"NA{digits}", f"ID{digits}")}.get(prefix, (f"{prefix}{digits}",))
    return next((found for key in keys if (found := _lines(key))), ())


def choose(un: str, name: str | None = None, packing_group: str | None = None, line: int | None = None) -> Entry:
    """The one line a record means; its ``name`` is then the name that was chosen, in the list's spelling.

    Raises UnknownEntry for a number outside the list, and EntryOpen where a key is missing (``asks`` names it) or
    contradicts the entry. ``line`` is asked for only where number, packing group and name leave more than one line,
    ``name`` only where the entry offers several proper shipping names.
    """
    entries = find(un)
    if not entries:
        near = ", ".join(_neighbours(un))
        raise UnknownEntry(f"{un} is not in the list of dangerous goods; the nearest numbers are {near}", un)
    left = entries
    if packing_group is not None:
        left = tuple(e for e in left if e.packing_group == packing_group)
        if not left:
            groups = _groups(entries)
            cure = f"write packing_group {_either(groups)}" if groups else "leave packing_group out"
            said = f"{entries[0].number} has no packing group {packing_group}; {cure}"
            raise EntryOpen(said, entries, ("packing_group",))
    if line is not None:
        numbered = tuple(e for e in left if e.line == line)
        if not numbered:
            raise EntryOpen(f"{_head(left)} has no line {line}; {_listed(left)}", left, ("line",))
        left = numbered
    if name is not None:
        named = tuple(meant for e in left if (meant := _named(e, name)))
        if not named:
            offered = tuple(dict.fromkeys(n for e in left for n in e.names))
            raise EntryOpen(f"{_head(left)} is not called {name}; write name {_either(offered)}", left, ("name",))
        left = named
    asks = _asks(left, name is None)
    if not asks:
        return left[0]
    if len(left) == 1:
        said = f"{_head(left)} has several proper shipping names; write name {_either(left[0].names)}"
    else:
        said = f"{left[0].number} has {len(left)} lines that fit; write {' and '.join(asks)}: {_listed(left)}"
    raise EntryOpen(said, left, asks)


def search(text: str) -> tuple[Entry, ...]:
    """Every entry whose names or qualifying words hold all the words of ``text``; the best match first.

    A number finds its entries, UN before NA and ID. The order is: the very name, a name that begins so, whole words of
    a name, beginnings of words of a name, then words anywhere; within each by number and line.
    """
    read = re.fullmatch(r"(UN|NA|ID)? ?([0-9]{4})", text.strip().upper())
    if read and not read[1]:
        return *_lines(read[2]), *_lines(f"NA{read[2]}"), *_lines(f"ID{read[2]}")
    if read:
        return find(text)
    wanted = fold(text)
    words = wanted.split()
    if not words:
        return ()
    ranked = []
    for place, (entry, names, everything) in enumerate(_folded()):
        if (rank := _rank(wanted, words, names, everything)) is not None:
            ranked.append((rank, place, entry))
    return tuple(entry for _, _, entry in sorted(ranked, key=lambda found: found[:2]))


def fold(text: str) -> str:
    """Words in lower case, without punctuation, spelling of either regime, singular: for comparing, not for showing."""
    text = text.casefold()
    for ours, theirs in _SPELLINGS:
        text = text.replace(ours, theirs)
    return " ".join(_singular(word) for word in re.findall(r"[a-z0-9]+", text))


def _singular(word: str) -> str:
    """Near enough to compare by: "gases" and "gas", "batteries" and "battery", "acids" and "acid" become one."""
    if len(word) < 4 or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-2] if word == "gases" else word[:-1] if word.endswith("s") else word


def every() -> tuple[Entry, ...]:
    """The whole list in its order: UN numbers, then ID and NA numbers."""
    return _every()


def _rank(wanted: str, words: list[str], names: tuple[str, ...], everything: str) -> int | None:
    if wanted in names:
        return 0
    if any(name.startswith(wanted) for name in names):
        return 1
    split = [name.split() for name in names]
    if any(all(word in name for word in words) for name in split):
        return 2
    if any(all(any(w.startswith(word) for w in name) for word in words) for name in split):
        return 3
    spread = everything.split()
    return 4 if all(any(w.startswith(word) for w in spread) for word in words) else None


def _named(entry: Entry, name: str) -> Entry | None:
    """The entry under the name that was meant, or None. The name may carry the entry's qualifying words."""
    wanted = fold(name)
    for offered in entry.names:
        if wanted in (fold(offered), fold(f"{offered} {entry.qualifier}")):
            return replace(entry, name=offered, alternatives=tuple(n for n in entry.names if n != offered))
    return None


def _asks(left: tuple[Entry, ...], nameless: bool) -> tuple[str, ...]:
    asks = []
    groups: dict[str | None, list[Entry]] = {}
    for entry in left:
        groups.setdefault(entry.packing_group, []).append(entry)
    if len(groups) > 1:
        asks.append("packing_group")
    by_line = by_name = False
    for same in groups.values():
        if len(same) > 1:
            names = [n for e in same for n in e.names]
            apart = nameless and len(names) == len(set(names))
            by_name, by_line = by_name or apart, by_line or not apart
    if nameless and (by_name or all(e.alternatives for e in left)):
        asks.append("name")
    if by_line:
        asks.append("line")
    return tuple(asks)


def _head(entries: Iterable[Entry]) -> str:
    first = next(iter(entries))
    return first.number + (f" packing group {first.packing_group}" if first.packing_group else "")


def _listed(entries: Iterable[Entry]) -> str:
    return "; ".join(f"line {e.line} = {summary(e)}" for e in entries)


def summary(entry: Entry) -> str:
    """One line for choosing: packing group, names, qualifying words, labels."""
    parts = [f"packing group {entry.packing_group}"] if entry.packing_group else []
    parts.append(" or ".join(entry.names) + (f" ({entry.qualifier})" if entry.qualifier else ""))
    labels = entry.labels or entry.model_labels or entry.us_labels
    parts.append(f"label{'s' if len(labels) > 1 else ''} {' + '.join(labels)}" if labels else "no label")
    if entry.road_status != "regulated":
        parts.append(ROAD_STATUS[entry.road_status])
    return ", ".join(parts)


def _either(words: Iterable[str]) -> str:
    items = list(words)
    return " or ".join(items) if len(items) < 3 else ", ".join(items[:-1]) + " or " + items[-1]


def _groups(entries: Iterable[Entry]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(e.packing_group for e in entries if e.packing_group))


def _neighbours(un: str) -> list[str]:
    """The four numbers of the list nearest to what was asked."""
    digits = re.sub(r"\D", "", un)
    asked = int(digits[:4]) if digits else 0
    numbers = sorted({int(n) for n in re.findall(rb"(?m)^([0-9]{4})-", _list())}, key=lambda n: (abs(n - asked), n))
    return [f"{n:04}" for n in sorted(numbers[:4])]


@lru_cache(maxsize=1)
def _list() -> bytes:
    """The list as it is stored: one record needs few of its lines as text."""
    return LIST.read_bytes()


@lru_cache(maxsize=1)
def _columns() -> tuple[str, ...]:
    return tuple(_list().partition(b"\n")[0].decode().rstrip().split(","))


@lru_cache(maxsize=256)
def _lines(key: str) -> tuple[Entry, ...]:
    """The lines of one number; they stand together, each beginning with the number and a hyphen."""
    data, start = _list(), f"\n{key}-".encode()
    at = data.find(start)
    if at < 0:
        return ()
    rows = []
    while data.startswith(start, at):
        end = data.index(b"\n", at + 1)
        rows.append(data[at + 1 : end].decode())
        at = end
    return tuple(_entry(row) for row in csv.reader(rows, strict=True))


@lru_cache(maxsize=1)
def _every() -> tuple[Entry, ...]:
    rows = csv.reader(_list().decode().splitlines(), strict=True)
    next(rows)
    return tuple(_entry(row) for row in rows)


@lru_cache(maxsize=1)
def _folded() -> tuple[tuple[Entry, tuple[str, ...], str], ...]:
    """Every entry with its folded names, and all its words in one text."""
    return tuple(
        (e, tuple(fold(n) for n in e.names), fold(" ".join((*e.names, e.qualifier, e.us_name)))) for e in _every()
    )


def _many(text: str) -> tuple[str, ...]:
    return tuple(text.split(" | ")) if text else ()


def _entry(row: list[str]) -> Entry:
    cell = dict(zip(_columns(), row, strict=True))
    number, _, line = cell["id"].partition("-")
    prefix = number[:2] if number[:2] in ("NA", "ID") else "UN"
    labels = tuple(cell["labels"].split())
    instructions = cell["packing_instructions"]
    return Entry(
        id=cell["id"],
        un=number[-4:],
        prefix=prefix,
        line=int(line),
        name=cell["name"],
        alternatives=_many(cell["alternatives"]),
        qualifier=cell["qualifier"],
        hazard_class=cell["hazard_class"],
        division=cell["division"] or None,
        compatibility=cell["compatibility"] or None,
        classification_code=cell["code"],
        packing_group=cell["packing_group"] or None,
        labels=labels,
        model_labels=tuple(cell["model_labels"].split()) or labels,
        technical_name=cell["technical_name"] == "yes",
        state=cell["state"] or None,
        limited_quantity=cell["limited_quantity"] or None,
        excepted_quantity=cell["excepted_quantity"] or None,
        packing_instructions=(instructions,) if instructions.startswith("See") else tuple(instructions.split()),
        packing_provisions=tuple(cell["packing_provisions"].split()),
        mixed_packing=tuple(cell["mixed_packing"].split()),
        transport_category=cell["transport_category"] or None,
        tunnel_code=cell["tunnel_code"] or None,
        hazard_id=cell["hazard_id"] or None,
        road_status=cell["road_status"],
        road_provisions=tuple(cell["road_provisions"].split()),
        passenger=cell["passenger"],
        cargo=cell["cargo"],
        us_name=cell["us_name"],
        us_packing_group=cell["us_packing_group"] or None,
        us_labels=tuple(cell["us_labels"].split()),
        us_technical_name=cell["us_technical_name"] == "yes",
        us_symbols=tuple(cell["us_symbols"].split()),
        us_provisions=tuple(cell["us_provisions"].split()),
        us_exceptions=cell["us_exceptions"],
        us_packaging=cell["us_packaging"],
        marine_pollutant=cell["marine_pollutant"],
        road_source=cell["road_source"],
        us_source=cell["us_source"],
        notes=_many(cell["notes"]),
    )
