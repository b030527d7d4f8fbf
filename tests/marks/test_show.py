"""The goods list for reading: nothing lost, nothing said twice, sources and caution at the end."""

from __future__ import annotations

import json

from marks.goods import lookup, show

PERFUMERY = """\
UN 1266  PERFUMERY PRODUCTS
  line  group  class  labels  state   limited  excepted  passenger  cargo  road packing
  1     II     3      3       liquid  5 L      E2        15 L       60 L   P001
  2     II     3      3       liquid  5 L      E2        15 L       60 L   P001 IBC02 R001
  3     III    3      3       liquid  5 L      E1        60 L       220 L  P001 IBC03 LP01 R001
  4     III    3      3       liquid  5 L      E1        60 L       220 L  P001 R001
  5     III    3      3       liquid  5 L      E1        60 L       220 L  P001 IBC02 R001
  line 1: with flammable solvents; vapour pressure at 50 °C more than 110 kPa
  line 2: with flammable solvents; vapour pressure at 50 °C not more than 110 kPa
  line 3: with flammable solvents
"""


def text(query: str) -> str:
    return "\n".join(show.describe(lookup.search(query)))


def test_a_number_is_a_table_with_its_words_below() -> None:
    assert text("1266").startswith(PERFUMERY)


def test_sources_and_caution_end_every_answer() -> None:
    said = " ".join(text("1266").split())
    assert lookup.SOURCES["adr-2017"] in said and lookup.SOURCES["us-2026"] in said and said.endswith("decide.")
    assert "must be checked against the edition in force" not in said


def test_what_is_from_memory_says_so() -> None:
    said = " ".join(text("3551").split())
    assert "road values from memory" in said and "must be checked against the edition in force" in said
    assert lookup.SOURCES["adr-2017"] not in said and "none held" in said


def test_free_by_road_is_said_beside_the_label_elsewhere() -> None:
    said = text("1845")
    assert "road: not subject to ADR" in said and "none by ADR; 9 by the UN Model Regulations" in said


def test_many_numbers_get_one_line_each() -> None:
    lines = show.describe(lookup.search("acid"))
    assert any(line.startswith("UN 1789  HYDROCHLORIC ACID; packing group II, III") for line in lines)
    assert any("lines of" in line and "numbers fit" in line for line in lines)


def test_nothing_found_says_nothing() -> None:
    assert show.describe(()) == [] and show.as_json(())["goods"] == []


def test_every_number_can_be_shown() -> None:
    by_number: dict[str, list[lookup.Entry]] = {}
    for entry in lookup.every():
        by_number.setdefault(entry.number, []).append(entry)
    for number, entries in by_number.items():
        lines = show.describe(entries)
        assert lines[0].startswith(number) and len(lines) > len(entries)


def test_json_carries_every_field() -> None:
    (goods,) = json.loads(json.dumps(show.as_json(lookup.find("1219"))))["goods"]
    assert goods["number"] == "UN 1219" and goods["alternatives"] == ["ISOPROPYL ALCOHOL"]
    assert set(goods) == {"number", *lookup.Entry.__struct_fields__}
