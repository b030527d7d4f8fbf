"""Who belongs to the lists the rules hold, told by what comes out: each member, and entries and classes beside it.

A list is transcribed here a second time from the paragraph named; that an entry has the class or section comes from the
goods list, which has tests of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from marks.beyond import _within
from marks.decide import decide
from marks.goods.lookup import Entry, every
from marks.radioactive import TYPE_OF, UPRIGHT_ANYWAY
from marks.reading import record_from
from marks.requirement import ModeDecision
from marks.tables import table
from marks.terms import Mode, ShipAs, VerdictWord
from tests.law_cases import BOX, RECORD
from tests.test_every_entry import MARKED_ALONE, goods

GROUPED = tuple(entry for entry in every() if entry.packing_group and entry.road_source and entry.state)


def decided(entry: Entry, mode: Mode, package: dict[str, Any] | None = None, **more: Any) -> ModeDecision:
    """One box with a little of an entry under one mode."""
    box = {
        "package": "A", "packaging": "4G", "spec_mark": "4G/X60/S/26/N/Fjellkasse", "size": BOX, "gross_mass": "20 kg",
        "goods": [goods(entry, ShipAs.FULL) | more],
    } | (package or {})  # fmt: skip
    box = {key: value for key, value in box.items() if value is not None}
    record = RECORD | {"modes": [mode.value], "aircraft": "cargo", "packages": [box]}
    return decide(record_from(record)).packages[0].modes[mode]


def codes(decision: ModeDecision) -> set[str]:
    return {finding.code for finding in decision.findings}


def hazard(entry: Entry) -> str:
    return entry.division or entry.hazard_class


def one_of_each(entries: Iterable[Entry]) -> dict[str, Entry]:
    """The first entry of each class or division."""
    found: dict[str, Entry] = {}
    for entry in entries:
        found.setdefault(hazard(entry), entry)
    return found


def test_machinery_and_articles_that_may_hold_liquid() -> None:
    """ADR 5.2.1.10, from memory; the names of the entries stand in ADR 2017 Table A and the UN list."""
    asked = {entry.un: entry for entry in every() if 3358 <= int(entry.un) <= 3368 or 3520 <= int(entry.un) <= 3560}
    said = {un for un, entry in asked.items() if "arrows-of-machinery" in codes(decided(entry, Mode.SEA))}
    members = {"3363", "3528", "3529", "3530", *map(str, range(3537, 3549))}
    assert said == members & set(asked) and {"3528", "3530", "3537", "3548"} <= said


def test_group_three_of_these_classes_is_packed_as_group_two_by_air() -> None:
    """49 CFR 173.27(a)."""
    three = one_of_each(entry for entry in GROUPED if entry.packing_group == "III" and entry.un not in ("3077", "3082"))
    box = {"spec_mark": "4G/Z60/S/26/N/Fjellkasse"}
    raised = {cls for cls, one in three.items() if "packing-group-not-covered" in codes(decided(one, Mode.AIR, box))}
    assert raised == {"4.1", "4.2", "4.3", "5.1", "8"} & set(three) and {"3", "6.1"} <= set(three)


def test_liquids_of_group_one_stand_in_absorbent_by_air() -> None:
    """49 CFR 173.27(e): classes 3, 4, 5.1, 6.1 and 8."""
    liquid = one_of_each(entry for entry in GROUPED if entry.packing_group == "I" and entry.state == "liquid")
    inner = {"inner": {"count": 1, "holds": "1 mL", "of": "glass bottle", "absorbent": "some"}}
    asked = {cls for cls, one in liquid.items() if "absorbent-missing" in codes(decided(one, Mode.AIR, **inner))}
    assert asked == {"3", "4.1", "4.2", "4.3", "5.1", "6.1", "8"} & set(liquid) and len(asked) >= 5


def test_the_pressure_of_inner_packagings_is_no_question_of_classes_with_rules_of_their_own() -> None:
    """Classes 1, 2 and 7 and division 6.2 have packing instructions of their own; from memory."""
    liquid = {"state": "liquid", "inner": {"count": 1, "holds": "1 mL", "of": "glass bottle"}}
    entries = one_of_each(entry for entry in every() if entry.state in (None, "liquid"))
    asked = {
        cls for cls, one in entries.items()
        if {"inner-pressure-open", "second-closure"} & codes(decided(one, Mode.AIR, **liquid))
    }  # fmt: skip
    own = {cls for cls in entries if cls[0] in "127" or cls == "6.2"}
    assert asked == set(entries) - own and {"7", "6.2"} <= own and {"3", "8"} <= asked


def test_special_provisions_are_named_but_for_those_that_are_followed() -> None:
    """A promise of the project: what it does not follow it names. The numbers are those of Table A, column (6)."""
    followed = {"172", "181", "188", "190", "191", "219", "274", "318", "319", "375", "376", "377", "625"}
    seen: set[str] = set()
    for entry in every():
        fresh = followed & set(entry.road_provisions) - seen
        decision = decided(entry, Mode.ROAD) if fresh and entry.un not in MARKED_ALONE else None
        if decision and decision.verdict is not VerdictWord.NOT_SUBJECT:
            seen |= fresh
            notes = [one.text for one in decision.findings if one.code == "special-provisions"]
            named = set(re.findall(r"\b\d{2,3}\b", notes[0].rsplit(":", 1)[1])) if notes else set()
            assert named == set(entry.road_provisions) - followed, entry.id
    assert seen == followed - {"219", "319"}, "those two are of entries that bear marks of their own alone"


def test_sections_whose_packagings_are_of_a_tested_type_by_us_highway() -> None:
    """49 CFR 173.201 to 173.203 and 173.211 to 173.213: combination and single packagings of the UN standards."""
    first: dict[str, Entry] = {}
    for entry in every():
        if entry.us_source and (entry.us_packing_group or entry.packing_group):
            first.setdefault(entry.us_packaging, entry)
    bare = {"spec_mark": None}
    refused = {
        section for section, one in first.items() if "spec-mark-missing" in codes(decided(one, Mode.US_GROUND, bare))
    }
    assert refused >= {"201", "202", "203", "211", "212", "213"} and not refused & {"185", "204", "240", "217", "301"}


def test_the_type_of_package_that_an_entry_of_class_seven_names() -> None:
    """The names of the entries in ADR 2017 Table A: TYPE A PACKAGE, TYPE B(U), TYPE B(M), TYPE C, EXCEPTED PACKAGE."""
    named = {"A": "TYPE A", "B(U)": "TYPE B(U)", "B(M)": "TYPE B(M)", "C": "TYPE C", "excepted": "EXCEPTED PACKAGE"}
    told = {
        entry.un: kind for entry in every() for kind, words in named.items()
        if entry.hazard_class == "7" and re.search(rf"{re.escape(words)}(?![\w(])", entry.name)
    }  # fmt: skip
    assert told == TYPE_OF


def test_the_pairs_that_react() -> None:
    """Classification codes of class 8 by ADR 2.2.8.1.2 (C1 to C4 acidic, C5 to C8 basic), which kinds react: from memory."""
    acid = {"codes": ["C1", "C2", "C3", "C4"]}
    pairs = [
        (acid, {"codes": ["C5", "C6", "C7", "C8"]}),
        (acid, {"names": ["CYANIDE"]}),
        (acid, {"names": ["HYPOCHLORITE", "CHLORITE"]}),
        (acid, {"names": ["SULPHIDE"]}),
        (acid, {"labels": ["4.3"]}),
        ({"labels": ["5.1", "5.2"]}, {"labels": ["2.1", "3", "4.1", "4.2"]}),
    ]
    held = [
        tuple({key: value for key, value in pair[side].items() if key != "words"} for side in "ab")
        for pair in table("mixed")["pair"]
    ]
    assert held == pairs


def test_the_mixed_packing_provisions_by_code() -> None:
    """ADR 4.1.10.4, from memory, remembered a second time: beside what, the most in one inner packaging and in the package."""
    alone = {code: ("none", None, None) for code in ("MP2", "MP6")}
    own = {f"MP{n}": ("class", None, None) for n in (1, 4, *range(20, 25))}
    small = {
        "MP7": ("class", "5 L", None), "MP8": ("class", "3 L", None), "MP9": ("any", None, None),
        "MP10": ("any", "5 kg", None), "MP11": ("any", "5 kg", None), "MP12": ("any", "5 kg", None),
        "MP13": ("any", "3 kg", "3 kg"), "MP14": ("any", "6 kg", None), "MP15": ("any", "3 L", None),
        "MP16": ("any", "3 L", "3 L"), "MP17": ("any", "0.5 L", "1 L"), "MP18": ("any", "0.5 kg", "1 kg"),
        "MP19": ("any", "5 L", None),
    }  # fmt: skip
    held = {row["code"]: (row["with"], row.get("inner"), row.get("package")) for row in table("mixed")["provision"]}
    named = {row["code"]: row["numbers"] for row in table("mixed")["provision"] if row["with"] == "numbers"}
    assert {code: held.pop(code) for code in named} == {code: ("numbers", None, None) for code in ("MP3", "MP5")}
    assert held == alone | own | small
    assert named == {"MP3": ["1802", "1873"], "MP5": ["2814", "2900"]}


def test_what_an_aircraft_takes_of_numbers_the_list_does_not_hold() -> None:
    """ICAO TI packing instructions 976 to 978 and 952 (2025-2026), from memory, remembered a second time."""
    held = {un: (row["passenger"], row["cargo"]) for row in table("special")["aircraft"] for un in row["numbers"]}
    vehicles = dict.fromkeys(("3556", "3557", "3558"), ("No limit", "No limit"))
    assert held == {"3551": ("Forbidden", "35 kg"), "3552": ("5 kg", "35 kg")} | vehicles


def test_goods_of_class_nine_with_inner_limits_by_air() -> None:
    """49 CFR 173.27(f), the notes of Tables 1 and 2: liquids and solids of class 9, and what each inner packaging may hold."""
    liquid, solid = table("inner_air")["class_nine"]
    assert set(liquid["numbers"]) == {"1941", "1990", "2315", "3082", "3151", "3334"}
    assert (liquid["unit"], liquid["glass"], liquid["plastics"], liquid["metal"]) == ("L", "10", "30", "40")
    assert solid["numbers"] == ["1841", "1931", "2071", "2216", "2590", "2969", "3077", "3152", "3335", "3432"]
    assert [solid[key] for key in ("unit", "glass", "fibre", "plastics", "metal")] == ["kg", "10", "50", "50", "50"]


def test_packages_of_class_seven_that_stand_any_way_up() -> None:
    """49 CFR 172.312(c)(7): types IP-2, IP-3, A, B(U), B(M); type C by the UN text, from memory."""
    assert set(UPRIGHT_ANYWAY) == {"IP-2", "IP-3", "A", "B(U)", "B(M)", "C"}


def test_who_may_be_an_excepted_quantity_by_us_law() -> None:
    """49 CFR 173.4a(b): classes and groups; (c) and (d): mL or g of an inner packaging and of a package, toxic ones less."""
    many = ["3", "4.1", "4.2", "4.3", "5.1", "6.1", "8", "9"]
    rows = [
        (["2.2"], None, False, "30", "1000"), (["6.1"], "I", False, "1", "300"), (["3"], "I", True, "1", "300"),
        (["3"], "I", False, "30", "300"), (many, "II", True, "1", "500"),
        ([one for one in many if one != "6.1"], "II", False, "30", "500"), (many, "III", False, "30", "1000"),
    ]  # fmt: skip
    held = [
        (row["classes"], row.get("group"), row.get("toxic", False), row["inner"], row["outer"])
        for row in table("ground")["excepted"]
    ]
    assert held == rows


def test_which_gases_count_as_liquefied_petroleum_gas() -> None:
    """ADR 5.2.2.2.1.6 (d): cylinders and gas cartridges of UN 1011, 1075, 1965 and 1978; from memory. Of 1969, which the
    table has besides, no second source is at hand."""
    (row,) = table("colours")["receptacle"]
    assert {"1011", "1075", "1965", "1978"} <= set(row["numbers"]) <= {"1011", "1075", "1965", "1969", "1978"}


def test_the_packing_instructions_of_batteries_by_air() -> None:
    """ICAO TI packing instructions 965 to 970 and, from 2025, 976 to 978: from memory, remembered a second time."""
    numbers = {
        "LITHIUM ION BATTERIES": 965, "LITHIUM ION BATTERIES PACKED WITH EQUIPMENT": 966,
        "LITHIUM ION BATTERIES CONTAINED IN EQUIPMENT": 967, "LITHIUM METAL BATTERIES": 968,
        "LITHIUM METAL BATTERIES PACKED WITH EQUIPMENT": 969, "LITHIUM METAL BATTERIES CONTAINED IN EQUIPMENT": 970,
        "SODIUM ION BATTERIES": 976, "SODIUM ION BATTERIES PACKED WITH EQUIPMENT": 977,
        "SODIUM ION BATTERIES CONTAINED IN EQUIPMENT": 978,
    }  # fmt: skip
    found = {}
    for entry in every():
        for name in entry.names if entry.un in ("3090", "3091", "3480", "3481", "3551", "3552") else ():
            decision = decided(entry, Mode.AIR, name=name)
            found[name] = {cite for one in decision.waived if one.mark == "battery" for cite in one.cite}
    assert found == {name: {f"ICAO TI packing instruction {number}"} for name, number in numbers.items()}


def test_packing_instructions_whose_packagings_are_of_a_tested_type() -> None:
    """ADR 4.1.4.1, from memory: those of explosives (P1..), of classes 4.2, 4.3 and 5.2 (P4.., P5..), and these."""
    tested = re.compile(r"P(001|002|010|1\d\d.*|4\d\d|5\d\d|600|601|602|620|802|804)")
    first: dict[tuple[str, ...], Entry] = {}
    for entry in every():
        if entry.road_status == "regulated" and entry.packing_instructions and entry.hazard_class != "7":
            first.setdefault(entry.packing_instructions, entry)
    bare, seen = {"spec_mark": None}, set()
    for instructions, entry in first.items():
        decision = decided(entry, Mode.SEA, bare)
        if decision.verdict is not VerdictWord.NOT_SUBJECT and entry.un not in MARKED_ALONE:
            asks = any(tested.fullmatch(one) for one in instructions)
            assert ("spec-mark-missing" in codes(decision)) == asks, (entry.id, instructions)
            seen |= set(instructions)
    assert {
        "P001",
        "P002",
        "P010",
        "P114(a)",
        "P404",
        "P520",
        "P600",
        "P601",
        "P602",
        "P620",
        "P802",
        "P804",
        "P200",
    } <= seen


def test_what_a_document_holds_besides_its_lines_of_goods() -> None:
    """49 CFR 172.202(a)(7), 172.204, 172.604; ADR 5.4.1.1.1 (g) to (i), IMDG 5.4.1 and 5.4.2, ICAO TI 5;4.1, remembered twice."""
    asked = {
        "road": ["ADR 5.4.1.1.1 (g)", "ADR 5.4.1.1.1 (h)", "ADR 5.4.1.1.1 (i)"],
        "sea": ["IMDG 5.4.1.3"] * 3 + ["IMDG 5.4.1.6", "IMDG 5.4.2.1"],
        "air": ["ICAO TI 5;4.1.3"] * 2 + ["ICAO TI 5;4.1.5"] * 2 + ["ICAO TI 5;4.1.6"],
        "us-ground": ["49 CFR 172.604", "49 CFR 172.202(a)(7)", "49 CFR 172.204"],
    }
    rows = table("papers")["item"]
    assert {mode: [row["cite"] for row in rows if row["mode"] == mode] for mode in asked} == asked
    filled = [(row["mode"], row["fill"]) for row in rows if "fill" in row]
    parties = [(mode, who) for mode in ("road", "sea", "air") for who in ("shipper", "consignee")]
    assert filled == [*parties, ("air", "aircraft"), ("us-ground", "emergency"), ("us-ground", "pieces")]


def test_numbers_that_are_left_to_a_person_are_those_with_such_names() -> None:
    """The names of ADR 2017 Table A and of the UN list; the numbers of later editions by their names too."""
    names = {
        "not-a-package": r"FUMIGATED CARGO TRANSPORT UNIT|INSTALLED IN CARGO TRANSPORT UNIT",
        "battery-marks-not-held": r"^(LITHIUM (METAL|ION)|SODIUM ION) BATTERIES",
        "infectious-packing": r"^INFECTIOUS SUBSTANCE|^MEDICAL WASTE, CATEGORY A",
        "temperature-control": r"TEMPERATURE CONTROLLED",
        "elevated-temperature": r"^ELEVATED TEMPERATURE",
        "vehicle-or-engine": r"VEHICLE|^ENGINE",
        "goods-inside-article": r"^ARTICLES CONTAINING|^DANGEROUS GOODS IN (MACHINERY|APPARATUS|ARTICLES)",
        "kit": r"\bKIT\b",
    }  # fmt: skip
    lines = {line["code"]: line["numbers"] for line in table("beyond")["goods"] if "numbers" in line}
    for code, words in names.items():
        held = {entry.un for entry in every() for one in lines[code] if _within(entry.un, one) and entry.prefix == "UN"}
        assert held == {entry.un for entry in every() if re.search(words, entry.name) and entry.prefix == "UN"}, code


def test_goods_that_the_sea_leaves_to_the_air() -> None:
    """49 CFR 172.101 symbol A without W, and magnetized material; for the IMDG Code from memory, remembered a second time."""
    (sea,) = [line["numbers"] for line in table("beyond")["outside"] if line["numbers"][0] == "1910"]
    assert sea == ["1910", "2807", "2812", "3334", "3335"]
    by_air = {entry.un for entry in every() if "A" in entry.us_symbols and "W" not in entry.us_symbols}
    assert set(sea) - {"2807"} <= by_air


def test_what_is_allowed_where_a_package_is_too_small_or_too_odd_for_its_labels() -> None:
    """49 CFR 172.406(b)(1) to (3), 172.407(c)(1)(i); ADR 5.2.2.1.6 and 5.2.2.2.1, IMDG and ICAO TI alike, and ISO 7225 Table 1:
    from memory, remembered a second time."""
    held = table("small")
    assert [row["mode"] for row in held["reduced"]] == ["road", "sea", "us-ground"]
    assert [row["mode"] for row in held["shoulder"]] == ["road", "sea", "air"]
    assert {row["mode"]: (row["when"], row.get("radioactive")) for row in held["tag"]} == {
        "road": (["irregular", "small"], None),
        "sea": (["irregular", "small"], None),
        "air": (["irregular"], None),
        "us-ground": (["irregular", "cylinder", "smaller than the label"], ["irregular", "cylinder"]),
    }
    assert [(row.get("under"), row["mm"]) for row in held["shoulder-side"]] == [("75", "10"), ("180", "15"), (None, "25")]
