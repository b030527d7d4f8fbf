"""Choosing an entry: what is asked for, what is refused, and that only the number's own lines are read."""

from __future__ import annotations

import subprocess
import sys

import pytest

from marks.errors import EntryOpen, UnknownEntry
from marks.goods import lookup
from marks.goods.lookup import choose, find, fold, search


def opened(*args: object) -> EntryOpen:
    with pytest.raises(EntryOpen) as caught:
        choose(*args)  # type: ignore[arg-type]
    return caught.value


def test_a_number_finds_its_lines_in_order() -> None:
    assert [e.id for e in find("1266")] == [f"1266-{n}" for n in range(1, 6)]
    assert find("UN1266") == find("un 1266") == find("1266")


def test_the_letters_before_a_number_count() -> None:
    assert {e.prefix for e in find("1993")} == {"UN"} and {e.prefix for e in find("NA1993")} == {"NA"}
    assert find("8000")[0].number == "ID 8000"
    assert find("UN8000") == () and find("ID1993") == ()


@pytest.mark.parametrize("number", ["9999", "", "12666", "266", "UN", "1266-1", "naphtha"])
def test_what_is_no_number_of_the_list_finds_nothing(number: str) -> None:
    assert find(number) == ()


def test_an_entry_of_one_line_and_one_name_asks_for_nothing() -> None:
    assert choose("1090").name == "ACETONE"


def test_an_unknown_number_names_its_neighbours() -> None:
    with pytest.raises(UnknownEntry, match="1259, 1261, 1262, 1263") as caught:
        choose("1260")
    assert caught.value.asked == "1260"


def test_the_packing_group_is_asked_for_where_lines_differ_in_it() -> None:
    error = opened("1789")
    assert error.asks == ("packing_group",) and len(error.choices) == 2
    assert "UN 1789 has 2 lines that fit; write packing_group" in str(error) and "\n" not in str(error)
    assert choose("1789", packing_group="III").line == 2


def test_the_line_is_asked_for_only_where_the_group_leaves_several() -> None:
    assert opened("1266").asks == ("packing_group", "line")
    assert opened("1266", None, "II").asks == ("line",)
    assert choose("1266", packing_group="II", line=2).qualifier.endswith("not more than 110 kPa")
    assert choose("1993", packing_group="I").line == 1


def test_a_line_settles_the_packing_group_too() -> None:
    assert choose("1266", line=3).packing_group == "III"


def test_the_name_is_asked_for_where_the_entry_offers_several() -> None:
    error = opened("1219")
    assert error.asks == ("name",) and "write name ISOPROPANOL or ISOPROPYL ALCOHOL" in str(error)


def test_the_name_settles_lines_that_differ_by_it() -> None:
    assert opened("3292").asks == ("name",)
    assert choose("3292", "cells, containing sodium").cargo == "No limit"
    assert choose("1170", "Ethanol").packing_group == "II"
    assert opened("1170", "Ethanol solution").asks == ("packing_group",)


def test_the_chosen_name_comes_first_in_the_lists_spelling() -> None:
    entry = choose("1219", "isopropyl alcohol")
    assert entry.name == "ISOPROPYL ALCOHOL" and entry.alternatives == ("ISOPROPANOL",)
    assert choose("1830", "Sulfuric acid").name == "SULPHURIC ACID"
    assert choose("1263", "paints", "I").name == "PAINT"


def test_a_name_with_its_qualifying_words_settles_the_line() -> None:
    assert choose("1790", "Hydrofluoric acid with not more than 60% hydrogen fluoride").line == 3
    assert choose("1950", "AEROSOLS, flammable").line == 4


def test_a_wrong_name_is_refused_with_the_names_there_are() -> None:
    error = opened("1203", "kerosene")
    assert "is not called kerosene; write name MOTOR SPIRIT, GASOLINE or PETROL" in str(error)


def test_a_wrong_packing_group_is_refused_with_those_there_are() -> None:
    assert "has no packing group I; write packing_group II or III" in str(opened("1789", None, "I"))
    assert "has no packing group II; leave packing_group out" in str(opened("1950", None, "II"))


def test_a_line_that_is_not_there_is_refused() -> None:
    error = opened("1266", None, "II", 4)
    assert "UN 1266 packing group II has no line 4; line 1 = " in str(error) and error.asks == ("line",)


def test_values_of_the_two_regimes_stand_apart() -> None:
    """49 CFR 172.101 gives UN 1829 a 6.1 label for its inhalation hazard, ADR 2017 Table A does not."""
    (entry,) = find("1829")
    assert entry.labels == ("8",) and entry.us_labels == ("8", "6.1")


def test_what_adr_frees_keeps_its_model_labels() -> None:
    (ice,) = find("1845")
    assert ice.road_status == "not-subject" and ice.labels == () and ice.model_labels == ("9",)
    assert find("1219")[0].model_labels == find("1219")[0].labels


def test_fissile_is_a_label_but_no_subsidiary_hazard() -> None:
    (entry,) = find("2977")
    assert entry.labels == ("7", "7E", "6.1", "8") and entry.subsidiary == ("6.1", "8")


def test_search_ranks_the_very_name_first() -> None:
    found = [e.id for e in search("sulphuric acid")]
    assert found[0] == "1830-1" and "2796-1" in found and found.index("1830-1") < found.index("1786-1")
    assert found == [e.id for e in search("SULFURIC   acid")]


def test_search_takes_words_anywhere_and_beginnings() -> None:
    assert "1266-1" in [e.id for e in search("perfum")]
    assert [e.un for e in search("engine starting fluid")] == ["1950"]
    assert search("no such thing at all") == () and search("  ") == ()


def test_search_by_number_gives_un_before_na() -> None:
    found = [e.number for e in search("1993")]
    assert found == sorted(found, key=lambda n: n != "UN 1993") and "NA 1993" in found


def test_folding_makes_regimes_comparable() -> None:
    assert fold("Refrigerant gases, n.o.s.") == fold("REFRIGERANT GAS, N.O.S.")
    assert fold("Aluminum fibers, colour") == fold("ALUMINIUM FIBRE, COLOR")
    assert fold("batteries") == fold("battery") and fold("glass") == "glass"


def test_choosing_reads_only_the_lines_of_the_number() -> None:
    """A plan must not parse three thousand lines: the whole list is left alone, and nothing heavy is imported."""
    code = (
        "import sys; from marks.goods import lookup; lookup.choose('1090');"
        "assert lookup._every.cache_info().currsize == 0;"
        "assert not {'pydantic', 'pint', 'yaml', 'reportlab'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_the_list_read_whole_and_read_by_number_are_the_same() -> None:
    every = lookup.every()
    for number in ("0004", "1266", "3560", "NA1993", "ID8000"):
        assert find(number) == tuple(e for e in every if e.id.startswith(f"{number}-"))
