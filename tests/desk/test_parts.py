"""The desk's parts without a server: the form holds every key, loses nothing, asks what the rules ask."""

from __future__ import annotations

import datetime
from decimal import Decimal
from pathlib import Path

import pytest

from layouts.front.desk import ticks
from layouts.front.desk.asks import written
from layouts.front.desk.consider import consider
from layouts.front.desk.entries import keys_of, offers
from layouts.front.desk.fields import WHOLE, Field, Group, Part, part_at
from layouts.front.desk.folder import Folder
from layouts.front.desk.forms import form_of, lines_of, name_of_path
from layouts.front.desk.quantities import stops
from layouts.front.desk.start import read_code_text
from layouts.front.desk.tree import Tree, Unfit, for_form, from_form, to_text
from layouts.front.desk.trials import trial
from marks import inner, outside
from marks import record as models
from marks.goods.lookup import choose, every
from marks.reading import digest, read_record, read_text
from marks.requirement import Finding
from marks.source import parse
from marks.terms import Level
from tests.desk.conftest import ROOT

EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))

#: Models of the record and where the form has them.
MODELS = {
    (): models.Record, ("shipper",): models.Party, ("responsible_person",): models.Person, ("packages",): models.Package,
    ("packages", "goods"): models.Goods, ("packages", "goods", "inner"): inner.Inner,
    ("packages", "goods", "batteries"): models.Batteries, ("packages", "goods", "vapour_pressure"): inner.VapourPressure,
    ("packages", "goods", "hazardous_substance"): models.HazardousSubstance, ("packages", "coolant"): models.Coolant,
    ("packages", "preprinted"): outside.Preprinted, ("packages", "keep_clear"): outside.KeepClear,
    ("packages", "filling"): inner.Filling, ("packages", "certificate"): inner.Certificate,
    ("packages", "certificate", "distances"): inner.Distances, ("packages", "inside"): inner.InsideSize,
    ("overpacks",): models.Overpack,
}  # fmt: skip
#: Keys of the form alone: two ways to write ship_as and hazardous_substance.
OURS = {"ship_as_by", "none"}


def tree_of(path: Path) -> Tree:
    root, told = parse(path.read_bytes(), "yaml")
    assert root is not None and not told
    return root.plain()


@pytest.mark.parametrize("steps", MODELS, ids=lambda steps: ".".join(steps) or "record")
def test_the_form_has_a_field_for_every_key_of_a_record(steps: tuple[str, ...]) -> None:
    group = part_at(steps) if steps else WHOLE
    assert isinstance(group, Group)
    assert {part.key for part in group.parts} - OURS == set(MODELS[steps].model_fields) - {"record"}


def pairs_of(part: Part, value: Tree, name: str) -> list[tuple[str, str]]:
    """What a browser would send for a tree in the form."""
    if isinstance(part, Field):
        if part.kind == "many":
            return [(name, one) for one in value]
        return [
            (name, "\n".join(value) if part.kind == "lines" else ", ".join(value) if part.kind == "words" else value)
        ]
    if isinstance(value, list):
        return [
            pair for i, one in enumerate(value) for pair in [(f"{name}.{i}.+", ""), *pairs_of(part, one, f"{name}.{i}")]
        ]
    inside = {one.key: one for one in part.parts}
    return [pair for key, one in value.items() for pair in pairs_of(inside[key], one, f"{name}.{key}" if name else key)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_record_goes_through_the_form_unchanged(path: Path) -> None:
    sent = pairs_of(WHOLE, for_form(tree_of(path)), "")
    assert digest(read_text(to_text(from_form(sent)))) == digest(read_record(path))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_form_shows_every_value_of_a_record(path: Path) -> None:
    tree = for_form(tree_of(path))
    form = form_of(tree, consider(tree_of(path), path.name))
    shown = {line.name for line in lines_of(form.top)}
    assert {name for name, _ in pairs_of(WHOLE, tree, "") if not name.endswith(".+")} <= shown
    assert not form.faulty and not form.lost and not form.wanting


@pytest.mark.parametrize(
    "text", ["null", "~", "a: b", "- x", "# no", "1.10", "NO", "0336", "{x", "'", '"', "ü Ω 危", "x\ty"]
)
def test_every_text_comes_back_from_yaml_as_it_was(text: str) -> None:
    root, _ = parse(to_text({"reference": text}), "yaml")
    assert root is not None and root.plain()["reference"] == text


@pytest.mark.parametrize(
    "name", ["", "..", "packages.1000.un", "packages.-1", "__class__", "packages.0." * 40, "A.b", "a..b"]
)
def test_names_that_are_no_way_into_a_record(name: str) -> None:
    assert from_form([(name, "x")]) == {}


def test_what_the_form_has_no_field_for_stays_text() -> None:
    for tree in ({"packagin": "4G"}, {"packages": "4G"}, {"shipper": {"name": ["a"]}}, {"packages": [{}] * 201}):
        with pytest.raises(Unfit):
            for_form(tree)


def test_a_fault_of_every_broken_record_finds_its_field_or_is_listed() -> None:
    """No fault is lost between the command line and the page."""
    for path in sorted((ROOT / "tests/bad_records").glob("*.yaml")):
        root, told = parse(path.read_bytes(), "yaml")
        if root is None or told or not isinstance(root.value, dict):
            continue
        try:
            tree = for_form(root.plain())
        except Unfit:
            continue
        considered = consider(root.plain(), path.name)
        form = form_of(tree, considered)
        beside = sum(len(line.faults) for line in lines_of(form.top)) + len(form.lost)
        assert considered.faults and (beside or form.faulty or form.wanting), path.name
        assert len(form.faulty) + len(form.lost) + form.wanting >= len({f.path for f in considered.faults}), path.name


def test_paths_are_names() -> None:
    assert name_of_path("packages[1].goods[2].net") == "packages.0.goods.1.net"
    assert name_of_path("record") == ""


def test_a_finding_asks_for_the_keys_it_tells_to_write() -> None:
    finding = Finding(Level.REFUSE, "x", "UN 3480: not said; write batteries with energy_each and state_of_charge", ())
    assert list(written(finding)) == ["batteries", "energy_each", "state_of_charge"]


def test_while_parties_are_missing_the_rest_is_decided() -> None:
    tree = {key: value for key, value in tree_of(EXAMPLES[0]).items() if key not in ("shipper", "consignee")}
    found = consider(tree, "record")
    assert found.planned is not None and set(found.stood_in) == {"shipper", "consignee"} and not found.whole
    assert {fault.path for fault in found.faults} == {"shipper", "consignee"}


def test_every_offer_means_its_entry() -> None:
    """The keys an offer writes into the record lead back to the very entry and name."""
    for entry in every():
        for name in entry.names:
            keys = dict(keys_of(entry, name))
            line = int(keys["line"]) if "line" in keys else None
            found = choose(keys["un"], keys.get("name"), keys.get("packing_group"), line)
            assert (found.id, found.name) == (entry.id, name)


def test_offers_while_one_types() -> None:
    assert {one.entry.un[:2] for one in offers("12")} == {"12"}
    assert offers("isopropan")[0].name == "ISOPROPANOL"
    assert offers("x") == () and offers("zzzz") == ()


def test_a_slider_stops_at_each_limit_and_just_over_it() -> None:
    words = [text for text, _ in stops([Decimal(5), Decimal("0.03")], Decimal("2.5"), "L")]
    assert {"5 L", "5.01 L", "30 mL", "30.1 mL", "2.5 L"} <= set(words)
    values = [value for _, value in stops([Decimal(5)], Decimal("2.5"), "L")]
    assert values == sorted(values)


def test_a_trial_leaves_the_record_as_it_is_and_takes_along_what_follows() -> None:
    tree = tree_of(ROOT / "examples/isopropanol-three-modes.yaml")
    before = to_text(tree)
    found = trial(tree, 0, 0, {"count": "6"})
    assert to_text(tree) == before
    assert found.tree["packages"][0]["gross_mass"] == "11.2 kg"  # 17.2 kg, less six litres at 1 kg each
    assert trial(tree, 0, 0, {"count": "6", "gross_follows": "no", "gross_mass": "9 kg"}).values["gross_mass"] == "9 kg"


def test_the_log_is_a_line_a_tick_with_its_time(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("x")
    folder, words = Folder(tmp_path.resolve()), {"mark.1": "Hazard label 3, front"}
    packed = ticks.Packed("a.yaml", "0" * 16, "package", "A", 1)
    now = datetime.datetime(2026, 11, 25, 10, 30, tzinfo=datetime.UTC)
    ticks.write_ticks(folder, packed, [("mark.1", ticks.DONE, words["mark.1"])], now)
    text = (tmp_path / "a.packing.log").read_text("utf-8")
    assert text == f"2026-11-25T10:30:00+00:00\t{'0' * 16}\tpackage A\t1\tmark.1\tdone\tHazard label 3, front\n"
    assert list(ticks.ticks_of(folder, packed, words).done) == ["mark.1"]
    assert not ticks.ticks_of(folder, packed, {"mark.1": "Hazard label 8, front"}).done  # it says something else now
    ticks.write_ticks(folder, packed, [("mark.1", ticks.UNDONE, words["mark.1"])], now)
    assert not ticks.ticks_of(folder, packed, words).done


@pytest.mark.parametrize("text", ["", "HD-1", "HD-1\npackage A, 1 pcs\nrecord 12", "record 0123456789abcdef"])
def test_what_is_no_code_of_a_sheet(text: str) -> None:
    assert read_code_text(text) is None
