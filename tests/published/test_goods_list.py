"""The goods list against the two published tables it was made from, against each other, and against its own grammar.

Rows below were copied by hand from ADR applicable from 1 January 2017, Chapter 3.2 Table A (UNECE), and from the 49
CFR 172.101 table in force on 1 June 2026, into the list's notation (mL for ml, the division and compatibility group on
class 1).
"""

from __future__ import annotations

import re
from collections import Counter

import pytest

from marks.goods import lookup
from marks.goods.lookup import choose, find, fold

EVERY = lookup.every()

# id | name | class | group | labels | limited | excepted | transport category | tunnel | hazard no. | passenger | cargo
ROWS = """
0012-1 | CARTRIDGES FOR WEAPONS, INERT PROJECTILE | 1.4S |  | 1.4S | 5 kg | E0 | 4 | E |  | 25 kg | 100 kg
0027-1 | BLACK POWDER | 1.1D |  | 1.1D | 0 | E0 | 1 | B1000C |  | Forbidden | Forbidden
0081-1 | EXPLOSIVE, BLASTING, TYPE A | 1.1D |  | 1.1D | 0 | E0 | 1 | B1000C |  | Forbidden | Forbidden
0336-1 | FIREWORKS | 1.4G |  | 1.4G | 0 | E0 | 2 | E |  | Forbidden | 75 kg
0432-1 | ARTICLES, PYROTECHNIC | 1.4S |  | 1.4S | 0 | E0 | 4 | E |  | 25 kg | 100 kg
1001-1 | ACETYLENE, DISSOLVED | 2.1 |  | 2.1 | 0 | E0 | 2 | B/D | 239 | Forbidden | 15 kg
1005-1 | AMMONIA, ANHYDROUS | 2.3 |  | 2.3 8 | 0 | E0 | 1 | C/D | 268 | Forbidden | Forbidden
1017-1 | CHLORINE | 2.3 |  | 2.3 5.1 8 | 0 | E0 | 1 | C/D | 265 | Forbidden | Forbidden
1072-1 | OXYGEN, COMPRESSED | 2.2 |  | 2.2 5.1 | 0 | E0 | 3 | E | 25 | 75 kg | 150 kg
1950-4 | AEROSOLS | 2.1 |  | 2.1 | 1 L | E0 | 2 | D |  | 75 kg | 150 kg
1950-8 | AEROSOLS | 2.2 |  | 2.2 6.1 | 120 mL | E0 | 1 | D |  | Forbidden | Forbidden
1978-1 | PROPANE | 2.1 |  | 2.1 | 0 | E0 | 2 | B/D | 23 | Forbidden | 150 kg
3164-1 | ARTICLES, PRESSURIZED, PNEUMATIC | 2.2 |  | 2.2 | 120 mL | E0 | 3 | E |  | No limit | No limit
1090-1 | ACETONE | 3 | II | 3 | 1 L | E2 | 2 | D/E | 33 | 5 L | 60 L
1170-1 | ETHANOL | 3 | II | 3 | 1 L | E2 | 2 | D/E | 33 | 5 L | 60 L
1170-2 | ETHANOL SOLUTION | 3 | III | 3 | 5 L | E1 | 3 | D/E | 30 | 60 L | 220 L
1203-1 | MOTOR SPIRIT | 3 | II | 3 | 1 L | E2 | 2 | D/E | 33 | 5 L | 60 L
1219-1 | ISOPROPANOL | 3 | II | 3 | 1 L | E2 | 2 | D/E | 33 | 5 L | 60 L
1230-1 | METHANOL | 3 | II | 3 6.1 | 1 L | E2 | 2 | D/E | 336 | 1 L | 60 L
1263-1 | PAINT | 3 | I | 3 | 500 mL | E3 | 1 | D/E | 33 | 1 L | 30 L
1263-3 | PAINT | 3 | II | 3 | 5 L | E2 | 2 | D/E | 33 | 5 L | 60 L
1263-4 | PAINT | 3 | III | 3 | 5 L | E1 | 3 | D/E | 30 | 60 L | 220 L
1266-2 | PERFUMERY PRODUCTS | 3 | II | 3 | 5 L | E2 | 2 | D/E | 33 | 15 L | 60 L
1325-1 | FLAMMABLE SOLID, ORGANIC, N.O.S. | 4.1 | II | 4.1 | 1 kg | E2 | 2 | E | 40 | 15 kg | 50 kg
1944-1 | MATCHES, SAFETY | 4.1 | III | 4.1 | 5 kg | E1 | 4 | E |  | 25 kg | 100 kg
2555-1 | NITROCELLULOSE WITH WATER | 4.1 | II | 4.1 | 0 | E0 | 2 | B |  | 15 kg | 50 kg
3175-1 | SOLIDS CONTAINING FLAMMABLE LIQUID, N.O.S. | 4.1 | II | 4.1 | 1 kg | E2 | 2 | E | 40 | 15 kg | 50 kg
3222-1 | SELF-REACTIVE SOLID TYPE B | 4.1 |  | 4.1 1 | 100 g | E0 | 1 | B |  | Forbidden | Forbidden
1361-2 | CARBON | 4.2 | III | 4.2 | 0 | E0 | 4 | E | 40 | Forbidden | Forbidden
1381-2 | PHOSPHORUS, WHITE, DRY | 4.2 | I | 4.2 6.1 | 0 | E0 | 0 | B/E | 46 | Forbidden | Forbidden
2441-1 | TITANIUM TRICHLORIDE, PYROPHORIC | 4.2 | I | 4.2 8 | 0 | E0 | 0 | E |  | Forbidden | Forbidden
1402-1 | CALCIUM CARBIDE | 4.3 | I | 4.3 | 0 | E0 | 1 | B/E | X423 | Forbidden | 15 kg
1402-2 | CALCIUM CARBIDE | 4.3 | II | 4.3 | 500 g | E2 | 2 | D/E | 423 | 15 kg | 50 kg
1428-1 | SODIUM | 4.3 | I | 4.3 | 0 | E0 | 1 | B/E | X423 | Forbidden | 15 kg
1479-2 | OXIDIZING SOLID, N.O.S. | 5.1 | II | 5.1 | 1 kg | E2 | 2 | E | 50 | 5 kg | 25 kg
2014-1 | HYDROGEN PEROXIDE, AQUEOUS SOLUTION | 5.1 | II | 5.1 8 | 1 L | E2 | 2 | E | 58 | Forbidden | Forbidden
2014-2 | HYDROGEN PEROXIDE, AQUEOUS SOLUTION | 5.1 | II | 5.1 8 | 1 L | E2 | 2 | E | 58 | 1 L | 5 L
1796-2 | NITRATING ACID MIXTURE | 8 | II | 8 | 1 L | E0 | 2 | E | 80 | Forbidden | 30 L
3109-1 | ORGANIC PEROXIDE TYPE F, LIQUID | 5.2 |  | 5.2 | 125 mL | E0 | 2 | D | 539 | 10 L | 25 L
1547-1 | ANILINE | 6.1 | II | 6.1 | 100 mL | E4 | 2 | D/E | 60 | 5 L | 60 L
1613-1 | HYDROCYANIC ACID, AQUEOUS SOLUTION | 6.1 | I | 6.1 3 | 0 | E0 | 0 | C/D | 663 | Forbidden | Forbidden
1692-1 | STRYCHNINE | 6.1 | I | 6.1 | 0 | E5 | 1 | C/E | 66 | 5 kg | 50 kg
2810-3 | TOXIC LIQUID, ORGANIC, N.O.S. | 6.1 | III | 6.1 | 5 L | E1 | 2 | E | 60 | 60 L | 220 L
2814-1 | INFECTIOUS SUBSTANCE, AFFECTING HUMANS | 6.2 |  | 6.2 | 0 | E0 | 0 | - |  | 50 mL or 50 g | 4 L or 4 kg
2814-2 | INFECTIOUS SUBSTANCE, AFFECTING HUMANS | 6.2 |  | 6.2 2.2 | 0 | E0 | 0 | E |  | 50 mL or 50 g | 4 L or 4 kg
3291-1 | CLINICAL WASTE, UNSPECIFIED, N.O.S. | 6.2 | II | 6.2 | 0 | E0 | 2 | - | 606 | No limit | No limit
2915-1 | RADIOACTIVE MATERIAL, TYPE A PACKAGE | 7 |  | 7 | 0 | E0 | 0 | E | 70 |  |
2977-1 | RADIOACTIVE MATERIAL, URANIUM HEXAFLUORIDE, FISSILE | 7 |  | 7 7E 6.1 8 | 0 | E0 | 0 | C | 768 |  |
1760-1 | CORROSIVE LIQUID, N.O.S. | 8 | I | 8 | 0 | E0 | 1 | E | 88 | 0.5 L | 2.5 L
1789-2 | HYDROCHLORIC ACID | 8 | III | 8 | 5 L | E1 | 3 | E | 80 | 5 L | 60 L
1824-1 | SODIUM HYDROXIDE SOLUTION | 8 | II | 8 | 1 L | E2 | 2 | E | 80 | 1 L | 30 L
1830-1 | SULPHURIC ACID | 8 | II | 8 | 1 L | E2 | 2 | E | 80 | 1 L | 30 L
2031-1 | NITRIC ACID | 8 | I | 8 5.1 | 0 | E0 | 1 | E | 885 | Forbidden | 2.5 L
2031-2 | NITRIC ACID | 8 | II | 8 5.1 | 1 L | E2 | 2 | E | 85 | Forbidden | 30 L
2031-3 | NITRIC ACID | 8 | II | 8 | 1 L | E2 | 2 | E | 80 | Forbidden | 30 L
2031-4 | NITRIC ACID | 8 | II | 8 | 1 L | E2 | 2 | E | 80 | 1 L | 30 L
2794-1 | BATTERIES, WET, FILLED WITH ACID | 8 |  | 8 | 1 L | E0 | 3 | E | 80 | 30 kg | 400 kg
2212-1 | ASBESTOS, AMPHIBOLE | 9 | II | 9 | 1 kg | E0 | 2 | E | 90 | Forbidden | Forbidden
3077-1 | ENVIRONMENTALLY HAZARDOUS SUBSTANCE, SOLID, N.O.S. | 9 | III | 9 | 5 kg | E1 | 3 | - | 90 | No limit | No limit
3082-1 | ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S. | 9 | III | 9 | 5 L | E1 | 3 | - | 90 | No limit | No limit
3090-1 | LITHIUM METAL BATTERIES | 9 |  | 9A | 0 | E0 | 2 | E |  | Forbidden | 35 kg
3268-1 | SAFETY DEVICES | 9 |  | 9 | 0 | E0 | 4 | E |  | 25 kg | 100 kg
3316-1 | CHEMICAL KIT | 9 | II | 9 | See SP 251 | See SP 340 | 2 | E |  | 10 kg | 10 kg
3480-1 | LITHIUM ION BATTERIES | 9 |  | 9A | 0 | E0 | 2 | E |  | Forbidden | 35 kg
"""

# Hazard labels that differ between ADR 2017 and the US table of 2026, each with its reason.
LABELS_DIFFER = {
    "ADR takes the goods out of its rules, the US table (vessel, air) does not": (
        "1372 1387 1856 1857 1910 2071 2812 3334 3335 3360 3363 3496"
    ),
    "ADR prohibits carriage and so gives no label": "0020 0021 1798 2186 2249 2421 3097 3100 3121 3127 3133 3137 3255",
    "ADR column 5 has no label; special provisions 633, or 666, 667 and 669, govern": "2211 3314 3166 3171",
    "US column 6 says None, or nothing": "0012 0014 0044 0376 1386 2217 1931 1941 2969 2990 3072 3373",
    "ADR has further lines for contents (corrosive, toxic) or for liquid nitrogen": "0015 0016 0303 2814 2900 3291",
    "US rules for poisons by inhalation (symbol +) add 6.1; or give it only from 30 % free trioxide": (
        "1754 1829 1831 2442 2692 2826"
    ),
    "US special provision 53 asks for the EXPLOSIVE label, column 6 does not show it": "3221 3222 3231 3232",
    "49 CFR 172.402(d)(2) asks for the FISSILE label, column 6 does not show it": "2977 3327 3328 3329 3331 3333",
    "US column 6 prints 9; 49 CFR 172.447 draws the lithium battery label": "3090 3091 3480 3481",
    "a subsidiary hazard stands in ADR alone": "1613 1614 1872 3369",
    "edition: reclassified after 2017 (from memory)": "1891 3507",
}

GROUPS_DIFFER = {
    "US rules for poisons by inhalation raise the group": "2743",
    "the US table gives kits, waste and machinery no group": "3269 3291 3316 3527 3530",
}

# Words of the ADR name that no US name of the number has.
NAMES_DIFFER = {
    "ADR names the isomers": "1012",
    "ADR says AQUEOUS": "1160",
    "ADR: EXTRACTS, FLAVOURING, LIQUID; US: Extracts, liquid, for flavor or aroma": "1197",
    "ADR says FLAMMABLE": "1308",
    "the US table is misprinted (Diethyamino-propylamine; oxdizing)": "2684 3306",
    "ADR says HYDRATED": "2949",
}

VARIANTS = re.compile(r"1|1\.[1-6][A-HJ-LNS]|2\.[123]|3|4\.[123]|5\.[12]|6\.[12]|7|7E|8|9|9A")
LIMIT = re.compile(r"0|[0-9]+(\.[0-9]+)? (mL|L|g|kg)( or [0-9]+ (g|kg))?|See SP [0-9]+")
AIR = re.compile(
    r"|Forbidden|No limit|See A105|less than 0\.1 kg|[0-9]+(\.[0-9]+)? (L|kg)( gross)?|[0-9]+ m?L or [0-9]+ k?g"
)


def numbers(listing: dict[str, str]) -> set[str]:
    return {number for text in listing.values() for number in text.split()}


@pytest.mark.parametrize("row", ROWS.strip().splitlines(), ids=lambda row: row.split(" | ")[0])
def test_values_are_those_of_the_published_tables(row: str) -> None:
    want = [cell.strip() for cell in row.split("|")]
    entry = next(e for e in find(want[0][:4]) if e.id == want[0])
    have = [
        entry.id, entry.name, entry.shown_class, entry.packing_group, " ".join(entry.labels),
        entry.limited_quantity, entry.excepted_quantity, entry.transport_category, entry.tunnel_code, entry.hazard_id,
        entry.passenger, entry.cargo,
    ]  # fmt: skip
    assert [cell or "" for cell in have] == want


def test_hand_copied_rows_cover_every_class() -> None:
    classes = {row.split("|")[2].strip().split(".")[0][0] for row in ROWS.strip().splitlines()}
    assert classes == set("123456789") and len(ROWS.strip().splitlines()) >= 40


def test_every_number_is_there() -> None:
    """2,318 numbers in ADR 2017; 45 NA and ID numbers and UN 3002 in the US table alone; UN 0511 to 0514 and 3535 to
    3560 added since (the last ones from memory: UN Model Regulations, 23rd revision)."""
    un = {e.un for e in EVERY if e.prefix == "UN"}
    assert len(un) == 2318 + 1 + 4 + 26 == 2349
    assert {f"{n:04}" for n in (*range(511, 515), *range(3535, 3561), 3002)} <= un
    assert len({e.number for e in EVERY if e.prefix != "UN"}) == 45
    assert len({e.un for e in EVERY if e.road_source == "adr-2017"}) == 2318


def test_lines_of_a_number_count_from_one_and_stand_together() -> None:
    seen: Counter[str] = Counter()
    order = []
    for e in EVERY:
        seen[e.number] += 1
        assert e.line == seen[e.number]
        if e.line == 1:
            order.append(e.number)
    assert len(order) == len(set(order))
    un = [n for n in order if n.startswith("UN")]
    assert un == sorted(un) == order[: len(un)]


def test_labels_of_the_two_regimes_agree_but_for_the_listed() -> None:
    both = [e for e in EVERY if e.road_source == "adr-2017" and e.us_source]
    differ = {e.un for e in both if e.labels[:1] != e.us_labels[:1] or set(e.labels) != set(e.us_labels)}
    assert differ == numbers(LABELS_DIFFER)
    assert len({e.un for e in both}) >= 2304


def test_packing_groups_of_the_two_regimes_agree_but_for_the_listed() -> None:
    both = [e for e in EVERY if e.road_source == "adr-2017" and e.us_source]
    assert {e.un for e in both if e.packing_group != e.us_packing_group} == numbers(GROUPS_DIFFER)


def test_names_of_the_two_regimes_agree_but_for_the_listed() -> None:
    """One of the names of each line has all its words in the US table's text (spelling and number folded)."""
    differ = set()
    for e in EVERY:
        if e.road_source == "adr-2017" and e.us_source:
            theirs = "".join(fold(e.us_name).split())
            if not any(all(word in theirs for word in fold(name).split()) for name in e.names):
                differ.add(e.un)
    assert differ == numbers(NAMES_DIFFER)


def test_a_technical_name_the_us_table_asks_for_is_asked_for() -> None:
    """49 CFR 172.101(b)(4) symbol G, against ADR special provisions 274 and 318."""
    assert [e.id for e in EVERY if e.prefix == "UN" and e.us_technical_name and not e.technical_name] == []


def test_grammar() -> None:
    for entry in EVERY:
        try:
            grammar(entry)
        except AssertionError as error:
            raise AssertionError(f"{entry.id}: {error}") from error


def grammar(e: lookup.Entry) -> None:
    assert e.prefix in ("UN", "NA", "ID") and re.fullmatch(r"[0-9]{4}", e.un)
    assert all(VARIANTS.fullmatch(v) for v in (*e.labels, *e.model_labels, *e.us_labels))
    assert e.packing_group in (None, "I", "II", "III") and e.us_packing_group in (None, "I", "II", "III")
    assert e.limited_quantity is None or LIMIT.fullmatch(e.limited_quantity)
    assert e.excepted_quantity is None or re.fullmatch(r"E[0-5]|See SP 340", e.excepted_quantity)
    assert AIR.fullmatch(e.passenger) and AIR.fullmatch(e.cargo)
    assert e.state in (None, "liquid", "solid", "gas", "article")
    assert e.marine_pollutant in ("no", "yes", "severe")
    assert e.road_status in lookup.ROAD_STATUS
    assert e.road_source in ("", "adr-2017", "memory") and e.us_source in ("", "us-2026")
    assert e.road_source or e.us_source
    assert ("from memory" in " ".join(e.notes)) >= (e.road_source == "memory")
    assert e.hazard_class in (*"123456789", "") and (not e.division or e.division.startswith(e.hazard_class + "."))
    if e.labels:
        assert e.labels[0] in (e.shown_class, e.shown_class + "A")
    if e.packing_group and e.excepted_quantity and e.excepted_quantity[0] == "E":
        allowed = {"I": "E0 E3 E5", "II": "E0 E2 E4", "III": "E0 E1"}  # UN Model Regulations 3.5.1.2, from memory
        assert e.excepted_quantity in allowed[e.packing_group]


#: Small letters that belong to a name (ADR 3.1.2.1): prefixes, and the letter in a refrigerant's number.
SMALL = re.compile(r"(?<![A-Za-z])(n|o|m|p|alpha|beta|tert|cis|trans)(?=-)|(?<=R 1[0-9]{2})[ab]|(?<=R 1132)a")


def test_names_are_what_is_marked() -> None:
    """ADR 3.1.2.1 and 3.1.2.2: capitals only, one alternative at a time, no qualifying words, no loose punctuation."""
    for entry in EVERY:
        assert len(set(entry.names)) == len(entry.names)
        for name in entry.names:
            assert not re.search("[a-z]", SMALL.sub("", name)), (entry.id, name)
            assert re.search("[A-Z]{2}", name) and name == name.strip(" ,;") and "  " not in name, (entry.id, name)
            assert " OR " not in name and name.count("(") == name.count(")"), (entry.id, name)
            assert name.isascii(), (entry.id, name)


def test_classification_code_and_labels_say_the_same() -> None:
    """ADR 2.2: T toxic, C corrosive, O oxidizing, W with water, F flammable, beside the labels of the same line.

    Explosives, radioactive material, class 9, self-reactive substances, peroxides, desensitized explosives and
    infectious substances have codes of another make.
    """
    hazards = {"T": {"6.1", "2.3"}, "C": {"8"}, "O": {"5.1"}, "W": {"4.3"}, "F": {"3", "4.1", "2.1"}}
    checked = 0
    for e in EVERY:
        if not e.labels or not e.classification_code or e.hazard_class in ("1", "7", "9"):
            continue
        if re.match("SR|P|D|I", e.classification_code):
            continue
        letters = set(re.sub("[0-9]", "", e.classification_code))
        checked += 1
        for letter, labels in hazards.items():
            assert (letter in letters) == bool(labels & set(e.labels)), (e.id, letter)
    assert checked > 2300


def test_every_line_can_be_chosen() -> None:
    for entry in EVERY:
        number = entry.number.replace(" ", "")
        for name in entry.names:
            chosen = choose(number, name, entry.packing_group, entry.line)
            assert (chosen.id, chosen.name) == (entry.id, name)


def test_environmentally_hazardous_by_entry_and_by_the_us_list() -> None:
    """UN 3077 and 3082 by their entry; others as named in 49 CFR 172.101 Appendix B (PP: severe)."""
    known = {e.un: e.marine_pollutant for e in EVERY if e.prefix == "UN"}
    assert known["3077"] == known["3082"] == "yes"
    appendix_b = {"1206": "yes", "1299": "yes", "1334": "yes", "1259": "severe", "1624": "severe", "1381": "severe"}
    assert {un: known[un] for un in appendix_b} == appendix_b
    assert known["1219"] == known["1090"] == known["1789"] == "no"


def test_state_where_the_entry_settles_it() -> None:
    """ADR 4.1.4.1: P001 is for liquids, P002 for solids; the rest by name, from memory."""
    for e in EVERY:
        packing = set(e.packing_instructions)
        if "P001" in packing and "P002" not in packing:
            assert e.state in ("liquid", None) or e.un == "1611", e.id  # its solid form is a line of its own here
        if "P002" in packing and "P001" not in packing:
            assert e.state in ("solid", "article", None) or e.un == "1733", e.id  # and so is this one's liquid form
    state = {e.un: e.state for e in EVERY if e.prefix == "UN"}
    assert [state[n] for n in ("1863", "2797", "1845", "1950", "1072", "3480")] == [
        "liquid", "liquid", "solid", "article", "gas", "article",
    ]  # fmt: skip
    assert state["3316"] is None and state["3373"] is None
