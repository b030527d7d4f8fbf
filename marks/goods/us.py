"""What the US line of an entry says: class, labels of column 6, inhalation hazard, whom it binds, and its names.

Source: the Hazardous Materials Table, 49 CFR 172.101, as ``Entry`` holds it, and the special provisions of 172.102 by
their numbers. What the codes and symbols mean is from memory where the comment says so.
"""

from __future__ import annotations

import re

from marks.goods.lookup import Entry, fold

#: Special provisions that tell the hazard zone of a material poisonous by inhalation (172.102(c)(1), from memory).
ZONES = {"1": "A", "2": "B", "3": "C", "4": "D"}
#: Provision 6: poisonous by inhalation, no zone named. Provision 5: another name must be chosen if it is (from memory).
WITHOUT_ZONE, IF_IT_IS = "6", "5"
#: UN 1744: three US rows in one line of our list, provision 1 or 2 in each (Hazard Zone A or B).
ZONE_IN_THE_ROWS = ("1744",)

#: 172.447: the label of lithium batteries, which column 6 writes as 9. The numbers are those of 173.185(c)(3)(i).
LITHIUM = ("3090", "3091", "3480", "3481")
#: Self-reactive substances of type B: column 6 leaves out the explosive label that the UN list gives them.
SELF_REACTIVE_B = ("3221", "3222", "3231", "3232")
#: The one line whose class column reads "Comb liq".
COMBUSTIBLE = ("NA1993-1",)


def labels(entry: Entry) -> tuple[str, ...]:
    """The hazard labels of column 6, primary first, in our variants; empty where the column reads None or nothing."""
    if is_lithium(entry):
        return tuple("9A" if label == "9" else label for label in entry.us_labels)
    return entry.us_labels


def shown_class(entry: Entry) -> str:
    """The class or division of column 3: "3", "2.1", "1.4G", "Combustible liquid"."""
    if entry.id in COMBUSTIBLE:
        return "Combustible liquid"
    return entry.us_labels[0] if entry.us_labels else entry.shown_class


def is_lithium(entry: Entry) -> bool:
    """A lithium battery, alone, with equipment or in it."""
    return entry.prefix == "UN" and entry.un in LITHIUM


def is_self_reactive_b(entry: Entry) -> bool:
    """Whether the entry is a self-reactive substance of type B, which US law gives an explosive label."""
    return entry.prefix == "UN" and entry.un in SELF_REACTIVE_B


def packing_group(entry: Entry) -> str | None:
    """Column 5, which for a few lines is not the packing group of the road."""
    return entry.us_packing_group


def hazards(entry: Entry) -> tuple[str, ...]:
    """Class and subsidiary hazards as bare divisions: "1" for every explosive."""
    found = (shown_class(entry), *entry.us_labels[1:])
    return tuple("3" if one == "Combustible liquid" else "1" if one[0] == "1" else one for one in found)


def inhalation(entry: Entry) -> str | None:
    """The hazard zone of what is poisonous by inhalation, "A" to "D"; "" if the line names none; None: it is not."""
    zones = [ZONES[one] for one in entry.us_provisions if one in ZONES]
    if zones:
        return zones[0]
    poisonous = WITHOUT_ZONE in entry.us_provisions or entry.un in ZONE_IN_THE_ROWS or "2.3" in entry.us_labels[:1]
    return "" if poisonous else None


def bound_by(entry: Entry) -> tuple[str, ...]:
    """The only modes a line binds, by the symbols A and W; empty: every mode (172.101(b), from memory)."""
    words = {"A": "aircraft", "W": "vessel"}
    return tuple(words[symbol] for symbol in entry.us_symbols if symbol in words)


def sections(entry: Entry) -> tuple[str, ...]:
    """The sections of part 173 that column 8A names, as ("4b", "150"); () for None, and where joined rows differ."""
    if entry.us_exceptions.startswith("None or"):
        return ()
    return tuple(dict.fromkeys(re.findall(r"\d+[a-z]?", entry.us_exceptions)))


def names_differ(entry: Entry, name: str) -> bool:
    """Whether a proper shipping name is not one of the US line's.

    Words may be singular or plural, in either spelling, in capitals or not (172.101(c), from memory); words in italics
    are no part of the name, and our list does not keep the italics. So a name agrees when the line has all its words.
    """
    ours, theirs = fold(name), fold(entry.us_name)
    if ours.replace(" ", "") in theirs.replace(" ", ""):
        return False
    return not set(ours.split()) <= set(theirs.split())
