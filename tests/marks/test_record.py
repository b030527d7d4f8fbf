"""The record's models: what is read from text, what is derived, what contradicts itself."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from marks.errors import RecordError, Unreadable
from marks.fields import countries, read_text, strange
from marks.outside import MARK_NAMES, BoxSize, DrumSize
from marks.packaging import types
from marks.quantity import quantity, show, to
from marks.reading import record_from
from marks.record import Goods, Inner, Package, Party, Record, record_schema
from marks.terms import Face, Mode, PackageForm, PackingGroup, ShipAs, State
from tests.strategies import record_data


def goods(**more: Any) -> Goods:
    return Goods.model_validate({"un": "1219", "net": "4 L"} | more)


def package(**more: Any) -> Package:
    base = {"package": "A", "packaging": "4G", "gross_mass": "11.6 kg", "goods": [{"un": "1219", "net": "4 L"}]}
    return Package.model_validate(base | {"size": {"length": "380 mm", "width": "285 mm", "height": "310 mm"}} | more)


def whole(**more: Any) -> dict[str, Any]:
    party = {"name": "Example Works", "address": ["1 Example Street", "5003 Bergen"], "country": "NO"}
    base = {"record": "sixface/1", "reference": "R-1", "date": "2026-11-25", "modes": ["road"], "shipper": party}
    one = {"package": "A", "packaging": "4G", "gross_mass": "11.6 kg", "goods": [{"un": "1219", "net": "4 L"}]}
    one |= {"size": {"length": "380 mm", "width": "285 mm", "height": "310 mm"}, "count": "2"}
    return base | {"consignee": party, "packages": [one]} | more


def reason(model: type, data: dict[str, Any]) -> str:
    with pytest.raises(ValidationError) as refused:
        model.model_validate(data)
    return "\n".join(str(e.get("ctx", {}).get("error", e["msg"])) for e in refused.value.errors())


# --- values -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "held"),
    [("1219", "1219"), ("0336", "0336"), ("UN 1219", "1219"), ("un0336", "0336"), ("NA1993", "NA1993"),
     ("ID8000", "ID8000"), ("id 8000", "ID8000"), (1219, "1219"), (336, "0336")],
)  # fmt: skip
def test_numbers_keep_their_noughts(written: object, held: str) -> None:
    assert goods(un=written).un == held


@pytest.mark.parametrize("written", ["336", "12190", "12l9", "", "UN", "XX1219", "1219.0", "-219", True, None])
def test_numbers_that_are_none(written: object) -> None:
    assert reason(Goods, {"un": written, "net": "1 L"})


def test_norway_is_a_country() -> None:
    party = Party.model_validate({"name": "a", "address": ["b"], "country": "NO"})
    assert (party.country, party.country_name) == ("NO", "Norway")


def test_countries_are_those_of_iso_3166() -> None:
    """Against the tz database's iso3166.tab, where this computer has it (public domain); 249 codes since 2011."""
    assert len(countries()) == 249
    assert all(re.fullmatch("[A-Z]{2}", code) and name == name.strip() for code, name in countries().items())
    table = Path("/usr/share/zoneinfo/iso3166.tab")
    if not table.exists():
        pytest.skip("no iso3166.tab on this computer")
    codes = {line.split("\t")[0] for line in table.read_text("utf-8").splitlines() if not line.startswith("#")}
    assert set(countries()) == codes


@pytest.mark.parametrize(
    ("written", "held"), [("true", True), ("yes", True), ("false", False), ("no", False), (True, True)]
)
def test_yes_and_no(written: object, held: bool) -> None:
    assert goods(environmentally_hazardous=written).environmentally_hazardous is held


@pytest.mark.parametrize("written", ["True", "on", "1", "maybe", "", 1, None])
def test_what_is_neither_yes_nor_no(written: object) -> None:
    if written is None:
        assert goods(environmentally_hazardous=None).environmentally_hazardous is None
    else:
        assert "write true or false" in reason(
            Goods, {"un": "1219", "net": "1 L", "environmentally_hazardous": written}
        )


@pytest.mark.parametrize("written", ["0", "-1", "1.5", "1,5", "1e2", "two", "1_000", "٣", "+1", "1000000", True])
def test_what_is_no_count(written: object) -> None:
    with pytest.raises(ValidationError):
        package(count=written)


@pytest.mark.parametrize(
    "written", ["25.11.2026", "2026/11/25", "2026-02-29", "2026-11-25T10:00", "26-11-25", "20261125"]
)
def test_what_is_no_day(written: str) -> None:
    assert "2026-11-25" in reason(Record, whole(date=written))


def test_a_pure_number_is_exact() -> None:
    assert goods(transport_index="0,8").transport_index == goods(transport_index=0.8).transport_index == Decimal("0.8")
    assert "no unit" in reason(Goods, {"un": "2915", "net": "1 kg", "transport_index": "0.8 mSv/h"})


# --- text -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("character", "name"),
    [("\x00", "NULL"), ("\x1b", "ESCAPE"), ("\n", "LINE FEED"), ("\t", "TAB"), ("\u202e", "RIGHT-TO-LEFT OVERRIDE"),
     ("\u2066", "LEFT-TO-RIGHT ISOLATE"), ("\u200b", "ZERO WIDTH SPACE"), ("\u2028", "LINE SEPARATOR"),
     ("\ufeff", "ZERO WIDTH NO-BREAK SPACE"),
     ("\u00ad", "SOFT HYPHEN"), ("\ue000", "PRIVATE USE"), ("\ud800", "SURROGATE"), ("\U0001fbff", "UNASSIGNED")],
)  # fmt: skip
def test_characters_no_label_can_bear_are_named(character: str, name: str) -> None:
    with pytest.raises(Unreadable) as refused:
        read_text(f"Example{character}Works", 80)
    assert f"U+{ord(character):04X} {name}" in refused.value.why
    assert character not in str(refused.value)


@given(st.text(max_size=30))
def test_text_is_clean_or_refused(written: str) -> None:
    try:
        text = read_text(written, 80)
    except Unreadable:
        assert strange(written) or not written.split()
    else:
        assert strange(text) is None and text == " ".join(text.split()) and read_text(text, 80) == text


def test_text_is_composed_and_single_spaced() -> None:
    assert read_text("  Café\u00a0 du   Nord ", 80) == "Café du Nord"
    assert read_text("Cafe\u0301", 80) == "Café"


def test_addresses_in_european_scripts() -> None:
    for line in (
        "Łąkowa 5, Świeżość",
        "Οδός Φανταστική 3",
        "вул. Вигадана 7",
        "Þórsgata 1",
        "Ulica Izmišljena 9, Čačak",
    ):
        assert read_text(line, 80) == line


# --- goods ------------------------------------------------------------------------------------------


def test_net_is_what_the_inner_packagings_hold() -> None:
    inner = {"count": "12", "holds": "121 mL", "of": "glass bottle"}
    assert show(Goods.model_validate({"un": "1219", "inner": inner}).net_total) == "1.452 L"
    assert Goods.model_validate({"un": "1219", "inner": inner, "net": "1,452 L".replace(",", ".")}).net is not None
    disagreeing = {"un": "1219", "inner": inner, "net": "1.45 L"}
    assert "12 inner packagings of 121 mL hold 1.452 L; write 1.452 L" in reason(Goods, disagreeing)
    assert "how much is in the package is not said" in reason(Goods, {"un": "1219"})


def test_net_in_another_kind_stands_beside_inner() -> None:
    """Aerosols: cans of 400 mL, and the mass of what is in them."""
    inner = {"count": "12", "holds": "400 mL", "of": "metal aerosol"}
    assert show(Goods.model_validate({"un": "1950", "inner": inner, "net": "3.9 kg"}).net_total) == "3.9 kg"


def test_ship_as_for_every_leg() -> None:
    by_mode = goods(ship_as={"road": "limited", "air": "full"})
    assert (by_mode.ship_as_for(Mode.ROAD), by_mode.ship_as_for(Mode.AIR)) == (ShipAs.LIMITED, ShipAs.FULL)
    assert goods().ship_as_for(Mode.SEA) is ShipAs.FULL
    assert goods(ship_as="excepted").ship_as_for(Mode.SEA) is ShipAs.EXCEPTED


def test_inner_says_nothing_it_was_not_told() -> None:
    inner = Inner.model_validate({"count": "4", "holds": "1 L", "of": "glass bottle"})
    assert (inner.absorbent, inner.gas_tight) == ("none", False)


def test_goods_from_python() -> None:
    made = goods(un=1219, net=quantity(4, "L"), packing_group=PackingGroup.II, state=State.LIQUID)
    assert made == goods(packing_group="II", state="liquid")
    assert "no sign" in reason(Goods, {"un": "1219", "net": quantity(-4, "L")})


# --- packages ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("code", sorted(types()))
def test_the_form_follows_from_every_packaging(code: str) -> None:
    form = types()[code].form
    size = {"diameter": "400 mm", "height": "500 mm"}
    box = {"length": "380 mm", "width": "285 mm", "height": "310 mm"}
    made = package(packaging=code, size=size if form is PackageForm.DRUM else box)
    assert made.form_derived is form
    assert isinstance(made.size, DrumSize if form is PackageForm.DRUM else BoxSize)


def test_a_jerrican_may_be_round_or_square() -> None:
    assert package(packaging="3H1").form_derived is PackageForm.JERRICAN
    assert (
        package(packaging="3H1", size={"diameter": "250 mm", "height": "400 mm"}).form_derived is PackageForm.JERRICAN
    )


def test_form_and_size_agree() -> None:
    assert package(packaging="none", form="box").form_derived is PackageForm.BOX
    with pytest.raises(ValidationError, match="packaging none does not say the shape"):
        package(packaging="none")
    with pytest.raises(ValidationError, match="4G is a fibreboard box; write box"):
        package(form="drum")
    with pytest.raises(ValidationError, match=r"the package is a drum; write size: \{diameter"):
        package(packaging="1A1")
    with pytest.raises(ValidationError, match=r"unknown size; write size: \{length"):
        package(size=None)


def test_the_specification_mark_is_read_where_it_is_of_a_known_form() -> None:
    mark = package(spec_mark="UN 4G/Y27/S/26/N/Example").spec
    assert mark is not None and (mark.code, mark.gross_kg, mark.performance) == ("4G", 27, "Y")
    assert package().spec is None
    assert package(packaging="31HA1", spec_mark="31HA1/Y/0526/N/M 4823/10800/1200").spec is None
    with pytest.raises(ValidationError, match='"W27" as its performance'):
        package(spec_mark="4G/W27/S/26/N/Example")


def test_a_package_weighs_more_than_its_goods() -> None:
    with pytest.raises(ValidationError, match="the goods alone weigh 12 kg"):
        package(goods=[{"un": "1498", "net": "7 kg"}, {"un": "1498", "net": "5000 g"}])
    assert package(goods=[{"un": "1498", "net": "11.6 kg"}]).gross_mass == quantity("11600", "g")
    assert package(goods=[{"un": "1219", "net": "40 L"}])  # litres can't be held against kilograms


def test_preprinted_marks() -> None:
    marks = package(preprinted=["orientation-arrows", "hazard-label 3", "hazard-label 1.4S"]).preprinted
    assert [(m.mark, m.variant, m.placed) for m in marks] == [
        ("orientation-arrows", None, False), ("hazard-label", "3", False), ("hazard-label", "1.4S", False),
    ]  # fmt: skip
    place = {"mark": "un-number", "face": "left", "x": "0 mm", "y": "5 mm", "width": "60 mm", "height": "2 cm"}
    (placed,) = package(preprinted=[place]).preprinted
    assert placed.placed and placed.face is Face.LEFT and to(placed.height, "mm") == 20


@pytest.mark.parametrize(
    "variant", ["1", "1.1", "1.1D", "1.4S", "2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3", "5.1", "5.2", "6.1", "6.2",
                "7-I", "7-II", "7-III", "7E", "8", "9", "9A"],
)  # fmt: skip
def test_every_hazard_label_has_its_name(variant: str) -> None:
    assert package(preprinted=[f"hazard-label {variant}"])


@pytest.mark.parametrize(
    "written", ["hazard-label", "hazard-label 0", "hazard-label 7", "hazard-label 10", "salvage 3", "no"]
)
def test_preprinted_marks_that_are_none(written: str) -> None:
    with pytest.raises(ValidationError):
        package(preprinted=[written])


def test_models_do_not_change() -> None:
    with pytest.raises(ValidationError):
        package().count = 3


# --- the whole --------------------------------------------------------------------------------------


def test_the_parts_and_the_whole_are_told_at_once() -> None:
    two = [whole()["packages"][0], whole()["packages"][0] | {"gross_mass": "11,6"}]
    overpacks = [{"overpack": "P1", "packages": ["A", "B"]}, {"overpack": "P1", "packages": ["A", "A"]}]
    with pytest.raises(RecordError) as refused:
        record_from(whole(packages=two, overpacks=overpacks, date="today"))
    assert {fault.path for fault in refused.value.faults} == {
        "date", "packages[2].package", "packages[2].gross_mass", "overpacks[1].packages[2]", "overpacks[2].overpack",
        "overpacks[2].packages[2]",
    }  # fmt: skip


def test_overpacks_hold_what_there_is() -> None:
    assert record_from(whole(overpacks=[{"overpack": "P1", "packages": ["A", "A"]}])).overpacks[0].packages == (
        "A",
        "A",
    )


def test_a_record_from_python_values() -> None:
    record = record_from(whole(date=datetime.date(2026, 11, 25), modes=[Mode.ROAD, "air"]))
    assert record.modes == (Mode.ROAD, Mode.AIR)


def test_every_mark_of_the_vocabulary_is_named_once() -> None:
    assert len(MARK_NAMES) == len(set(MARK_NAMES))


# --- the schema -------------------------------------------------------------------------------------


@given(record_data())
def test_what_is_read_keeps_to_the_schema(data: dict[str, Any]) -> None:
    from jsonschema import Draft202012Validator

    record = record_from(data)
    Draft202012Validator(SCHEMA).validate(record.model_dump(mode="json", exclude_none=True))
    assert record_from(record.model_dump(mode="json", exclude_none=True)) == record


SCHEMA = record_schema()


def test_the_schema_is_one_and_describes_quantities() -> None:
    from jsonschema import Draft202012Validator

    Draft202012Validator.check_schema(SCHEMA)
    mass = SCHEMA["$defs"]["Package"]["properties"]["gross_mass"]
    assert mass["type"] == "string" and "kg" in mass["description"]
    accepted = [
        q
        for q in ("11.6 kg", "3,5 kg", "5 lb", "11.6", "-1 kg", "1 203 kg", "5 L", "nan kg")
        if re.search(mass["pattern"], q)
    ]
    assert accepted == ["11.6 kg", "3,5 kg", "5 lb"]


@pytest.mark.parametrize(
    "change", [{"date": None}, {"modes": []}, {"modes": ["rail"]}, {"colour": "red"}, {"packages": []}]
)
def test_the_schema_refuses_what_the_reader_refuses(change: dict[str, Any]) -> None:
    from jsonschema import Draft202012Validator

    validator, data = Draft202012Validator(SCHEMA), whole()
    data["packages"][0] |= {"count": 2, "preprinted": ["orientation-arrows", {"mark": "un-number", "face": "top"}]}
    assert validator.is_valid(data)
    assert not validator.is_valid(data | change)
    with pytest.raises(RecordError):
        record_from(data | change)
