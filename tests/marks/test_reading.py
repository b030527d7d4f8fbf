"""Reading: YAML and JSON as text, lines, digests; and whatever goes in, a record or a RecordError comes out."""

from __future__ import annotations

import hashlib
import json
import time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marks.errors import RecordError
from marks.reading import digest, read_record, read_text, record_from
from marks.source import Node, parse
from tests.strategies import record_data

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
YAML = """record: sixface/1
reference: R-1
date: 2026-11-25
modes: [road, air]
shipper: {name: Example Works, address: [1 Example Street, 5003 Bergen], country: NO}
consignee: {name: Muster Labor, address: [Musterweg 1], country: DE}
packages:
  - package: A
    packaging: 4G
    size: {length: 380 mm, width: 285 mm, height: 310 mm}
    gross_mass: 11.6 kg
    goods:
      - un: 0336
        net: 1 kg
      - un: 1219
        inner: {count: 4, holds: 1 L, of: glass bottle}
        ship_as: {road: limited, air: full}
"""


def tree(text: str, notation: str) -> Any:
    root, told = parse(text, notation)
    assert root is not None and not told, told
    return root.plain()


def paths(text: str, notation: str = "yaml") -> list[tuple[int, str]]:
    with pytest.raises(RecordError) as refused:
        read_text(text, notation=notation)
    return [(fault.line, fault.path) for fault in refused.value.faults]


# YAML 1.1 would make of these 222, False, a number of seconds, 1.1, a date, a float, True, 10 and None.
@pytest.mark.parametrize(
    "scalar", ["0336", "NO", "1:30", "1.10", "2026-11-25", "1e3", "on", "1_0", "0x0a", ".inf", "12_3"]
)
def test_a_scalar_is_its_text(scalar: str) -> None:
    assert tree(f"a: {scalar}", "yaml") == {"a": scalar}


@pytest.mark.parametrize("scalar", ["1.10", "-0", "1e400", "12345678901234567890.5", "true"])
def test_a_json_scalar_is_its_text(scalar: str) -> None:
    assert tree(f'{{"a": {scalar}}}', "json") == {"a": scalar}


def test_numbers_and_countries_survive() -> None:
    record = read_text(YAML)
    assert (record.packages[0].goods[0].un, record.shipper.country) == ("0336", "NO")


JSON_VALUES = st.recursive(
    st.text(max_size=8) | st.just("1.50"),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=12,
)


@given(JSON_VALUES, st.sampled_from([None, 1, "\t"]), st.booleans())
def test_our_json_reader_reads_what_pythons_does(value: Any, indent: Any, ascii_only: bool) -> None:
    """Held against the standard library's reader, on texts its writer made."""
    text = json.dumps(value, indent=indent, ensure_ascii=ascii_only)
    root, told = parse(text, "json")
    hidden = any(error.read.startswith("a line with") for _, _, error in told)
    assert hidden or (root is not None and root.plain() == json.loads(text))


@given(st.text(st.sampled_from('{}[]",:\\u01eEtrfalsn .-+\n'), max_size=25))
def test_our_json_reader_takes_no_more_than_pythons(text: str) -> None:
    try:
        wanted = json.loads(text, parse_constant=lambda word: 1 / 0)
    except (ValueError, ZeroDivisionError):
        wanted = None
    root, told = parse(text, "json")
    assert wanted is not None or root is None or bool(told)


@given(record_data(), st.randoms(use_true_random=False))
def test_one_record_has_one_digest(data: dict[str, Any], random: Any) -> None:
    """Whatever the order of keys, the notation, and the units."""

    def turned(value: Any) -> Any:
        if isinstance(value, dict):
            items = [(key, turned(v)) for key, v in value.items()]
            random.shuffle(items)
            return dict(items)
        if isinstance(value, list):
            return [turned(v) for v in value]
        number, _, unit = value.partition(" ")
        larger = {"mL": "L", "g": "kg", "mm": "m"}.get(unit)
        if larger and number.isdigit():
            return f"{number[:-3] or '0'},{number[-3:]:0>3}0 {larger}"
        return value

    expected = digest(record_from(data))
    assert digest(record_from(turned(data))) == expected
    as_json = json.dumps(turned(data), ensure_ascii=False)
    assert digest(read_text(as_json, notation="json")) == expected
    assert digest(read_text(as_json.replace("\n", " "), notation="yaml")) == expected


def test_another_amount_has_another_digest() -> None:
    said = [digest(read_text(YAML.replace("net: 1 kg", f"net: {q}"))) for q in ("1 kg", "1000 g", "1.001 kg", "1 lb")]
    assert said[0] == said[1] and len(set(said)) == 3


def test_the_digest_is_fixed() -> None:
    """It is printed on sheets, so its making is settled: SHA-256 of this text, keys sorted, nothing unsaid."""
    said = (
        '{"consignee":{"address":["Musterweg 1"],"country":"DE","name":"Muster Labor"},"date":"2026-11-25",'
        '"modes":["road","air"],"packages":[{"goods":[{"net":"1000 g","un":"0336"},{"inner":{"count":4,'
        '"holds":"1000 mL","of":"glass bottle"},"ship_as":{"air":"full","road":"limited"},"un":"1219"}],'
        '"gross_mass":"11600 g","package":"A","packaging":"4G","size":{"height":"310 mm","length":"380 mm",'
        '"width":"285 mm"}}],"record":"sixface/1","reference":"R-1","shipper":{"address":["1 Example Street",'
        '"5003 Bergen"],"country":"NO","name":"Example Works"}}'
    )
    assert digest(read_text(YAML)) == hashlib.sha256(said.encode()).hexdigest()


def test_what_is_said_as_it_would_be_unsaid_changes_no_digest() -> None:
    said = YAML.replace("packaging: 4G", "packaging: 4G\n    count: 1\n    preprinted: []")
    assert digest(read_text(said)) == digest(read_text(YAML))


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_mark(ending: str, mark: str) -> None:
    text = mark + YAML.replace("\n", ending)
    assert digest(read_text(text.encode())) == digest(read_text(YAML))
    assert paths(text.replace("11.6 kg", "11.6")) == [(11, "packages[1].gross_mass")]


def test_lines_of_json() -> None:
    text = json.dumps(tree(YAML, "yaml"), indent=1).replace('"11.6 kg"', "11.6")
    assert paths(text, "json") == [(text[: text.index("11.6")].count("\n") + 1, "packages[1].gross_mass")]


def test_a_fault_of_the_notation_hides_no_other_and_brings_no_second() -> None:
    text = YAML.replace("11.6 kg", "!w 11.6").replace("un: 1219", "un: 12").replace("date: 2026-11-25", "date:")
    assert paths(text) == [(3, "date"), (11, "packages[1].gross_mass"), (15, "packages[1].goods[2].un")]


def test_a_broken_member_of_a_list_moves_no_other() -> None:
    text = YAML.replace("- un: 0336\n        net: 1 kg", "- *first").replace("un: 1219", "un: 12")
    assert paths("x: &first y\n" + text) == [
        (1, "x"), (14, "packages[1].goods[1]"), (15, "packages[1].goods[2].un"),
    ]  # fmt: skip


def test_keys_and_values_on_lines_of_their_own() -> None:
    text = YAML.replace("gross_mass: 11.6 kg", "gross_mass:\n      11.6")
    assert paths(text) == [(12, "packages[1].gross_mass")]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_read_the_same_in_json(path: Path) -> None:
    root, _ = parse(path.read_bytes(), "yaml")
    assert isinstance(root, Node)
    as_json = json.dumps(root.plain(), ensure_ascii=False, indent=2)
    assert digest(read_text(as_json, notation="json")) == digest(read_record(path))


@settings(max_examples=300)
@given(st.data())
def test_a_damaged_record_is_read_or_refused(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([YAML, json.dumps(tree(YAML, "yaml"))]))
    for _ in range(data.draw(st.integers(1, 4))):
        at, length = data.draw(st.integers(0, len(text))), data.draw(st.integers(0, 6))
        text = text[:at] + data.draw(st.text(max_size=4)) + text[at + length :]
    for notation in ("yaml", "json"):
        try:
            assert digest(read_text(text, notation=notation))
        except RecordError as error:
            assert error.faults and all("\n" not in str(fault) for fault in error.faults)


@given(st.binary(max_size=60))
def test_no_bytes_break_the_reader(data: bytes) -> None:
    for notation in ("yaml", "json"):
        with pytest.raises(RecordError):
            read_text(data, notation=notation)


def test_a_record_of_every_entry_is_read_in_a_breath() -> None:
    """2,700 packages, about one for every line of the goods list."""
    package = YAML[YAML.index("  - package: A") :]
    text = YAML[: YAML.index("  - package: A")] + "".join(package.replace("A", f"A{i}", 1) for i in range(2700))
    start = time.perf_counter()
    assert len(read_text(text).packages) == 2700
    assert time.perf_counter() - start < 20  # about 2 s where it was written; no more than a guard against squares
