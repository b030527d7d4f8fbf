"""The figures of the tables against the published text, transcribed by hand a second time, paragraph by paragraph.

A figure here was read from the paragraph beside it, not from the table. Lines of the tables that are from memory are
marked so there and have no counterpart here; every other line must have one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise
from typing import Any

import pytest

from marks.reliefs import amounts
from marks.tables import editions, limit, measure_figures, table

DAY = date(2026, 11, 25)

#: subject, name, value, unit, paragraph.
LIMITS = (
    ("lettering", "medium_capacity", "30", "L", "49 CFR 172.301(a)(1)(ii): maximum capacity of 30 L or less"),
    ("lettering", "medium_mass", "30", "kg", "49 CFR 172.301(a)(1): maximum net mass of 30 kg or less"),
    ("lettering", "medium_cylinder", "60", "L", "49 CFR 172.301(a)(1): cylinder of water capacity 60 L or less"),
    ("lettering", "small_capacity", "5", "L", "49 CFR 172.301(a)(1): maximum capacity of 5 L or less"),
    ("lettering", "small_mass", "5", "kg", "49 CFR 172.301(a)(1): maximum net mass of 5 kg or less"),
    ("arrows", "absorbed", "120", "mL", "49 CFR 172.312(c)(3): by aircraft"),
    ("arrows", "infectious", "50", "mL", "49 CFR 172.312(c)(6)"),
    ("arrows", "gas_tight", "500", "mL", "49 CFR 172.312(c)(5)"),
    ("environment", "liquid", "5", "L", "49 CFR 172.322(d)(1)"),
    ("environment", "solid", "5", "kg", "49 CFR 172.322(d)(1)"),
    ("limited", "gross", "30", "kg", "49 CFR 173.150(b) to 173.155(b): 30 kg gross"),
    ("excepted", "inner.E1", "30", "mL or g", "49 CFR 173.4a(c): packing group III"),
    ("excepted", "inner.E2", "30", "mL or g", "49 CFR 173.4a(c): packing group II"),
    ("excepted", "inner.E3", "30", "mL or g", "49 CFR 173.4a(c): packing group I other than toxic"),
    ("excepted", "inner.E4", "1", "mL or g", "49 CFR 173.4a(c): toxic, packing group II"),
    ("excepted", "inner.E5", "1", "mL or g", "49 CFR 173.4a(c): toxic, packing group I"),
    ("excepted", "outer.E1", "1000", "mL or g", "49 CFR 173.4a(d): packing group III, 1 L or 1 kg"),
    ("excepted", "outer.E2", "500", "mL or g", "49 CFR 173.4a(d): packing group II"),
    ("excepted", "outer.E3", "300", "mL or g", "49 CFR 173.4a(d): packing group I"),
    ("excepted", "outer.E4", "500", "mL or g", "49 CFR 173.4a(d): toxic, packing group II"),
    ("excepted", "outer.E5", "300", "mL or g", "49 CFR 173.4a(d): toxic, packing group I"),
    ("excepted", "least.inner", "1", "mL or g", "49 CFR 173.4b(a): de minimis, inner"),
    ("excepted", "least.outer", "100", "mL or g", "49 CFR 173.4b(a): de minimis, package"),
    ("air_pressure", "group_one", "250", "kPa", "49 CFR 173.27(c)(3)(ii)"),
    ("air_pressure", "group_three", "80", "kPa", "49 CFR 173.27(c)(3)(ii): class 3 and division 6.1, group III"),
    ("air_pressure", "others", "100", "kPa", "49 CFR 173.27(c)(3)(ii)"),
    ("document", "flash_point", "60", "°C", "49 CFR 172.203(i): by vessel, at or under 60 °C"),
)  # fmt: skip

#: mark, name, mm, paragraph; on DAY.
MEASURES = (
    ("hazard-label", "side", "100", "49 CFR 172.407(c)(1)"),
    ("hazard-label", "inset", "5", "49 CFR 172.407(c)(1): to the outside of the inner border"),
    ("hazard-label", "line", "2", "49 CFR 172.407(c)(1)"),
    ("hazard-label", "figure_low", "6.3", "49 CFR 172.407(c)(3)"),
    ("hazard-label", "figure_high", "12.7", "49 CFR 172.407(c)(3)"),
    ("hazard-label", "trefoil_radius", "4", "49 CFR Part 172 Appendix B"),
    ("un-number", "lettering", "12", "49 CFR 172.301(a)(1)"),
    ("un-number", "lettering_medium", "6", "49 CFR 172.301(a)(1)"),
    ("cargo-aircraft-only", "width", "120", "49 CFR 172.407(c)(2)"),
    ("cargo-aircraft-only", "height", "110", "49 CFR 172.407(c)(2)"),
    ("cargo-aircraft-only", "lettering", "6.3", "49 CFR 172.407(c)(2)"),
    ("environmentally-hazardous", "side", "100", "49 CFR 172.322(e)"),
    ("environmentally-hazardous", "line", "2", "49 CFR 172.322(e)"),
    ("limited-quantity", "side", "100", "49 CFR 172.315(a)(2)"),
    ("limited-quantity", "line", "2", "49 CFR 172.315(a)(2)"),
    ("limited-quantity", "least_side", "50", "49 CFR 172.315(c)"),
    ("limited-quantity", "least_line", "1", "49 CFR 172.315(c)"),
    ("limited-quantity-air", "side", "100", "49 CFR 172.315(b)(2)"),
    ("limited-quantity-air", "line", "2", "49 CFR 172.315(b)(2)"),
    ("limited-quantity-air", "least_side", "50", "49 CFR 172.315(c)"),
    ("limited-quantity-air", "least_line", "1", "49 CFR 172.315(c)"),
    ("excepted-quantity", "side", "100", "49 CFR 173.4a(g)(2)"),
    ("battery", "width", "100", "49 CFR 173.185(c)(3)(i)(A)"),
    ("battery", "height", "100", "49 CFR 173.185(c)(3)(i)(A)"),
    ("battery", "hatch", "5", "49 CFR 173.185(c)(3)(i)(A)"),
    ("battery", "least_height", "70", "49 CFR 173.185(c)(3)(i)(A)"),
    ("overpack", "lettering", "12", "49 CFR 173.25(a)(4)"),
    ("salvage", "lettering", "12", "49 CFR 173.3(c)(3)"),
    ("package-type", "lettering", "13", "49 CFR 172.310(b)"),
    ("battery-condition", "lettering", "12", "49 CFR 173.185(f)(4)"),
)  # fmt: skip
#: Figures that only some variants of a mark have.
VARIANTS = {"trefoil_radius": "7-II"}

#: 49 CFR 173.27(f)(3), Table 3: class, group, state, glass, metal or plastic, outer, {subsidiary hazard: lower}.
TABLE_3: tuple[tuple[Any, ...], ...] = (
    ("3", "II", None, "0.5 L", "0.5 L", "1 L", {"8": {"outer": "0.5 L"}}),
    ("3", "III", None, "2.5 L", "5 L", "10 L", {
        "8": {"glass": "1 L", "other": "1 L", "outer": "1 L"}, "6.1": {"glass": "1 L", "other": "1 L", "outer": "2 L"},
    }),
    ("4.1", "II", None, "0.5 kg", "0.5 kg", "5 kg", {"6.1": {"outer": "1 kg"}}),
    ("4.1", "III", None, "1 kg", "1 kg", "10 kg", {"8": {"outer": "5 kg"}}),
    ("4.3", "II", "solid", "0.5 kg", "0.5 kg", "5 kg", {"6.1": {"outer": "1 kg"}}),
    ("4.3", "III", "solid", "1 kg", "1 kg", "10 kg", {
        "8": {"outer": "5 kg"}, "3": {"outer": "5 kg"}, "4.1": {"outer": "5 kg"},
    }),
    ("5.1", "II", "liquid", "0.1 L", "0.1 L", "0.5 L", {}),
    ("5.1", "III", "liquid", "0.5 L", "0.5 L", "1 L", {}),
    ("5.1", "II", "solid", "0.5 kg", "0.5 kg", "2.5 kg", {"6.1": {"outer": "1 kg"}}),
    ("5.1", "III", "solid", "1 kg", "1 kg", "10 kg", {"8": {"outer": "1 kg"}}),
    ("6.1", "II", "liquid", "0.1 L", "0.1 L", "1 L", {"8": {"outer": "0.5 L"}}),
    ("6.1", "III", "liquid", "0.5 L", "0.5 L", "2 L", {}),
    ("6.1", "II", "solid", "0.5 kg", "0.5 kg", "1 kg", {}),
    ("6.1", "III", "solid", "1 kg", "1 kg", "10 kg", {}),
    ("8", "II", "liquid", "0.1 L", "0.1 L", "0.5 L", {}),
    ("8", "III", "liquid", "0.5 L", "0.5 L", "1 L", {}),
    ("8", "II", "solid", "0.5 kg", "0.5 kg", "5 kg", {}),
    ("8", "III", "solid", "1 kg", "1 kg", "5 kg", {}),
)  # fmt: skip
#: The same table's rows for single numbers: numbers, glass, metal or plastic, outer.
TABLE_3_NUMBERS = (
    (("2430",), "0.5 kg", "0.5 kg", "1 kg"),
    (("1941", "1990", "3082", "3334"), "5 L", "5 L", "30 kg gross"),
    (("2071", "3077", "3335"), "5 kg", "5 kg", "30 kg gross"),
    (("1950", "2037", "3478", "3479"), None, None, "30 kg gross"),
)
#: 49 CFR 173.27(f)(2)(i): barred by name.
NEVER = {"2794", "2795", "2803", "2809", "3028", "3506"}


@pytest.mark.parametrize(("subject", "name", "value", "unit", "source"), LIMITS)
def test_a_limit_is_the_published_one(subject: str, name: str, value: str, unit: str, source: str) -> None:
    figure = limit(subject, name, DAY)
    assert (figure.value, figure.unit) == (Decimal(value), unit), source


@pytest.mark.parametrize(("mark", "name", "mm", "source"), MEASURES)
def test_a_length_is_the_published_one(mark: str, name: str, mm: str, source: str) -> None:
    figure = measure_figures(mark, VARIANTS.get(name), DAY)[name]
    assert (figure.value, figure.unit) == (Decimal(mm), "mm"), source


#: The lengths that are from memory, written down a second time, from memory as well: no published text was read.
FROM_MEMORY = (
    ("hazard-label", "1.4S", "division_figure", "30"),
    ("hazard-label", "1.4S", "division_stroke", "5"),
    ("hazard-label", "6.1-inhalation", "point_above", "14"),
    ("keep-away-from-heat", None, "width", "74"),
    ("keep-away-from-heat", None, "height", "105"),
    ("keep-away-from-heat", None, "least_width", "37"),
    ("cryogenic-liquid", None, "width", "75"),
    ("cryogenic-liquid", None, "height", "105"),
    ("magnetized-material", None, "width", "110"),
    ("magnetized-material", None, "height", "90"),
    ("biological-substance", None, "side", "50"),
    ("biological-substance", None, "line", "2"),
    ("biological-substance", None, "lettering", "6"),
)


def test_lengths_from_memory_are_remembered_alike() -> None:
    """49 CFR 172.317, 172.411(d), 172.416(b) and 172.429(b), the Technical Instructions 5;3.5, P650 (4): from memory."""
    for mark, variant, name, mm in FROM_MEMORY:
        assert measure_figures(mark, variant, DAY)[name].value == Decimal(mm), f"{mark} {name}"
    there = {(path, name) for path, name, lines in _families("measures") if lines[0].get("memory")}
    assert there == {(mark, name) for mark, _, name, _ in FROM_MEMORY}
    assert limit("excepted", "packages", DAY).value == 1000  # ADR 3.5.5 and IMDG 3.5.5, from memory


def test_the_battery_mark_had_another_size_before() -> None:
    """49 CFR 173.185(c)(3)(i)(A) before the text of 2022: 120 x 110; smaller: 74 high.

    The day in the international rules, 1 January 2021, is from memory.
    """
    before, after = (measure_figures("battery", None, day) for day in (date(2020, 12, 31), date(2021, 1, 1)))
    assert [before[name].value for name in ("width", "height", "least_height")] == [120, 110, 74]
    assert [after[name].value for name in ("width", "height", "least_height")] == [100, 100, 70]


def test_every_line_that_is_not_from_memory_is_transcribed_here() -> None:
    there = {(path, name) for path, name, lines in _families("limits") if not lines[0].get("memory")}
    assert there == {(subject, name) for subject, name, *_ in LIMITS}
    there = {(path, name) for path, name, lines in _families("measures") if not lines[0].get("memory")}
    assert there == {(mark, name) for mark, name, *_ in MEASURES}


def test_limited_quantities_by_air_are_those_of_table_3() -> None:
    rows = [row for row in table("air_limited")["row"] if "class" in row]
    ours = {
        (row["class"], row["group"], row.get("state")): (
            row["glass"],
            row["other"],
            row["outer"],
            {low["hazard"]: {k: v for k, v in low.items() if k != "hazard"} for low in row.get("with", ())},
        )
        for row in rows
    }
    assert len(rows) == len(TABLE_3) and ours == {row[:3]: row[3:] for row in TABLE_3}


def test_numbers_with_a_row_of_their_own_are_those_of_table_3() -> None:
    rows = [row for row in table("air_limited")["row"] if "numbers" in row]
    ours = [(tuple(row["numbers"]), row.get("glass"), row.get("other"), row["outer"]) for row in rows]
    assert sorted(ours, key=str) == sorted(TABLE_3_NUMBERS, key=str)
    aerosols = next(row for row in rows if "1950" in row["numbers"])
    assert set(aerosols["without_subsidiary"]) == {"1950", "2037"}
    assert set(table("air_limited")["never"][0]["numbers"]) == NEVER


def test_a_subsidiary_hazard_only_ever_lowers_a_figure() -> None:
    """Sense of the table, no source: what it lowers in one column it does not raise in another."""
    for row in table("air_limited")["row"]:
        for low in row.get("with", ()):
            for key, text in low.items():
                if key != "hazard":
                    assert amounts(text)[0].value < amounts(row[key])[0].value


# --- the tables themselves --------------------------------------------------------------------------------------------


def _families(name: str, node: Any = None, path: str = "") -> Iterator[tuple[str, str, list[dict[str, Any]]]]:
    """Every list of dated lines of a table: the first key, the rest of its keys, the lines."""
    for key, value in (table(name) if node is None else node).items():
        where = f"{path}.{key}" if path else key
        if isinstance(value, list):
            first, _, rest = where.partition(".")
            yield first, rest, value
        else:
            yield from _families(name, value, where)


@pytest.mark.parametrize("name", ["limits", "measures"])
def test_no_day_of_an_edition_is_without_a_figure(name: str) -> None:
    first = min(edition.first for edition in editions().values())
    last = max(edition.last for edition in editions().values())
    for subject, rest, lines in _families(name):
        where = f"{subject}.{rest}"
        assert lines[0]["from"] <= first, where
        for before, after in pairwise(lines):
            assert before["until"] + timedelta(days=1) == after["from"], where
        assert lines[-1].get("until", date.max) >= last, where


@pytest.mark.parametrize("name", ["limits", "measures"])
def test_every_line_says_its_source_and_cites_the_law_of_the_mode(name: str) -> None:
    begins = {"road": "ADR ", "sea": "IMDG ", "air": "ICAO TI ", "us-ground": "49 CFR "}
    for subject, rest, lines in _families(name):
        for line in lines:
            where = f"{subject}.{rest}"
            assert line["source"], where
            for mode, paragraph in line["cite"].items():
                assert paragraph.startswith(begins[mode]), where


#: Tables whose lines all hold from the first day of the editions: by ADR 2017, and by the last US rule that is held.
FROM_THE_FIRST = {
    "air_limited": date(2017, 1, 1), "colours": date(2017, 1, 1), "ground": date(2023, 1, 26), "inner_air": date(2017, 1, 1),
    "limits": date(2017, 1, 1), "mixed": date(2017, 1, 1), "packagings": date(2017, 1, 1), "papers": date(2017, 1, 1),
    "placing": date(2017, 1, 1), "small": date(2017, 1, 1),
}  # fmt: skip


def _lines(node: Any) -> Iterator[Mapping[str, Any]]:
    if isinstance(node, Mapping):
        if "from" in node:
            yield node
        for value in node.values():
            yield from _lines(value)
    elif isinstance(node, list):
        for value in node:
            yield from _lines(value)


@pytest.mark.parametrize("name", FROM_THE_FIRST)
def test_no_line_begins_after_the_first_day_of_its_edition(name: str) -> None:
    """A line that begins later leaves a day without answer; where a figure did change, tests/published/thresholds has it."""
    lines = list(_lines(table(name)))
    assert lines and {line["from"] for line in lines} == {FROM_THE_FIRST[name]}


def test_the_days_of_the_editions() -> None:
    """ADR 2017 applies from 1 January 2017, ADR 2025 may be used to 30 June 2027 (1.6.1.1, from memory); Amendment 42-24 is
    mandatory to the end of 2027, the Technical Instructions of 2025-2026 end with 2026 (from memory); 87 FR 79752."""
    assert {mode.value: (one.first, one.last) for mode, one in editions().items()} == {
        "road": (date(2017, 1, 1), date(2027, 6, 30)),
        "sea": (date(2017, 1, 1), date(2027, 12, 31)),
        "air": (date(2017, 1, 1), date(2026, 12, 31)),
        "us-ground": (date(2023, 1, 26), date(2026, 12, 31)),
    }
