"""Packaging codes and specification marks."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marks.errors import Unreadable
from marks.packaging import SpecMark, read_code, types
from marks.terms import PackageForm, PackingGroup

# Published marks, all from memory: the examples of 49 CFR 178.503 and of UN Model Regulations 6.1.3.7 to 6.1.3.9:
# text, code, performance, gross kg, density, kPa, year, state, rest.
PUBLISHED = [
    ("4G/Y145/S/83 USA/RA", "4G", "Y", "145", None, None, 83, "USA", "RA"),
    ("1A1/Y1.4/150/83 USA/VL824 1.0", "1A1", "Y", None, "1.4", 150, 83, "USA", "VL824 1.0"),
    ("1A2/Y150/S/83 USA/VL825", "1A2", "Y", "150", None, None, 83, "USA", "VL825"),
    ("4G/Y145/S/02/NL/VL823", "4G", "Y", "145", None, None, 2, "NL", "VL823"),
    ("1A1/Y1.4/150/98/NL/VL824", "1A1", "Y", None, "1.4", 150, 98, "NL", "VL824"),
    ("1A2/Y150/S/01/NL/VL825", "1A2", "Y", "150", None, None, 1, "NL", "VL825"),
    ("4HW/Y136/S/98/NL/VL826", "4HW", "Y", "136", None, None, 98, "NL", "VL826"),
    ("1A2/Y/100/91/USA/MM5", "1A2", "Y", None, "1.2", 100, 91, "USA", "MM5"),
    ("1A2T/Y300/S/01/USA/abc", "1A2T", "Y", "300", None, None, 1, "USA", "abc"),
]  # fmt: skip


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row[0])
def test_published_marks(row: tuple) -> None:
    text, code, performance, gross, density, pressure, year, state, maker = row
    mark = SpecMark.parse(text)
    assert (mark.code, mark.performance, mark.year, mark.state, mark.maker) == (code, performance, year, state, maker)
    assert mark.gross_kg == (gross and Decimal(gross))
    assert mark.density == (density and Decimal(density))
    assert (mark.pressure_kpa, mark.for_liquid) == (pressure, pressure is not None)
    assert mark.text == text


def test_infectious_substances() -> None:
    """UN Model Regulations 6.3.4.2, its example, from memory: CLASS 6.2 stands where the performance would."""
    mark = SpecMark.parse("4G/CLASS 6.2/01/S-9989-ERIKSSON")
    assert (mark.code, mark.performance, mark.gross_kg, mark.year) == ("4G", None, None, 1)
    assert (mark.state, mark.maker) == ("S", "9989-ERIKSSON")
    assert not any(mark.allows_group(group) for group in PackingGroup)
    assert SpecMark.parse("4GU/CLASS 6.2/26/N/Example").packaging.letter == "U"


def test_reconditioned() -> None:
    """UN Model Regulations 6.1.3.11, its example, from memory: reconditioner, year, R, and L for the leak test."""
    mark = SpecMark.parse("1A1/Y1.4/150/97/NL/RB/01 RL")
    assert (mark.year, mark.reconditioned, mark.leak_tested) == (97, 1, True)
    assert SpecMark.parse("1A2/Y150/S/99/USA/RB/00 R").leak_tested is False


@pytest.mark.parametrize("sign", ["UN ", "UN", "u n ", "un ", "U N/", "UN/ "])
def test_the_sign_in_front_may_stand(sign: str) -> None:
    assert SpecMark.parse(f"{sign}4GV/X27/S/26/N/Example").code == "4GV"


def test_groups_covered() -> None:
    """X covers I, II and III; Y covers II and III; Z covers III. 49 CFR 178.503 (a)(3)."""
    covered = {
        letter: [g.value for g in PackingGroup if SpecMark.parse(f"4G/{letter}30/S/26/N/M").allows_group(g)]
        for letter in "XYZ"
    }
    assert covered == {"X": ["I", "II", "III"], "Y": ["II", "III"], "Z": ["III"]}


def test_density_left_out_means_1_2() -> None:
    """49 CFR 178.503 (a)(4): it may be left out where it is 1.2 or less; 49 CFR 173.24a (b)(1): 1.2 if unmarked."""
    assert SpecMark.parse("1H1/Y/100/26/N/M").density == Decimal("1.2")


def test_year_in_four_figures() -> None:
    made = SpecMark.parse("4G/Y30/S/98/N/M")
    assert (made.year_by(2026), SpecMark.parse("4G/Y30/S/26/N/M").year_by(2026)) == (1998, 2026)
    assert SpecMark.parse("4G/Y30/S/27/N/M").year_by(2026) == 1927


@pytest.mark.parametrize(
    ("text", "element", "cure"),
    [
        ("4X/Y30/S/26/N/M", '"4X" as its packaging code', "write a code such as 4G"),
        ("4H/Y30/S/26/N/M", '"4H" as its packaging code', "write 4H1 or 4H2"),
        ("none/Y30/S/26/N/M", '"none" as its packaging code', "leave spec_mark out"),
        ("31HA1/Y/0526/N/M", '"31HA1" as its packaging code', "that of a box, drum or bag"),
        ("4G/A30/S/26/N/M", '"A30" as its performance', "as in Y145 or Y1.4"),
        ("4G/y30/S/26/N/M", '"y30" as its performance', "as in Y145 or Y1.4"),
        ("4G/Y/S/26/N/M", '"Y" as its performance', "as in Y30"),
        ("4G/Y30/T/26/N/M", '"T" as its third element', "S, or as in 150"),
        ("4G/Y30/150/26/N/M", '"150" as its test pressure', "write S"),
        ("5H4/Y1.2/100/26/N/M", '"100" as its test pressure', "write S"),
        ("1A1/Y1.4/155/26/N/M", '"155" as its test pressure', "as in 150"),
        ("1A1/Y145/150/26/N/M", '"Y145" as its performance', "as in Y1.4"),
        ("4G/Y30/S/2026/N/M", '"2026" as its year of making', "as in 26"),
        ("4G/Y30/S/N/M", '"N" as its year of making', "as in 26"),
        ("4G/Y30/S/26/Norway/M", '"Norway" as its state', "as in N, D or USA"),
        ("4G/Y30/S/26/N", "no maker", "after the state"),
        ("4G/Y30/S/26", "no state", "as in N, D or USA"),
        ("4G/Y30/S", "no year of making", "as in 26"),
        ("4GU/Y30/S/26/N/M", '"Y30" as its performance', "CLASS 6.2"),
        ("4G", '"4G"', "code/performance/S or pressure/year/state/maker"),
    ],
)
def test_the_element_that_cannot_stand_is_named(text: str, element: str, cure: str) -> None:
    with pytest.raises(Unreadable) as refused:
        SpecMark.parse(text)
    assert refused.value.read == element
    assert cure in refused.value.write


@given(st.text(st.sampled_from("UN un4G1A6HXYZ/S0123456789.,VWT usaRL-"), max_size=30))
def test_no_text_breaks_the_parser(text: str) -> None:
    try:
        mark = SpecMark.parse(text)
    except Unreadable:
        return
    assert (mark.gross_kg is None) != (mark.density is None) or mark.performance is None


@given(
    st.sampled_from(sorted(types())), st.sampled_from("XYZ"), st.integers(1, 400), st.integers(0, 99),
    st.sampled_from(["", "V", "W", "T"]),
)  # fmt: skip
def test_every_type_in_the_solid_form(code: str, letter: str, kg: int, year: int, after: str) -> None:
    mark = SpecMark.parse(f"{code}{after}/{letter}{kg}/S/{year:02d}/N/Example")
    assert (mark.packaging.code, mark.packaging.letter or "") == (code, after)
    assert (mark.gross_kg, mark.year) == (kg, year)


# 49 CFR 178.502 (a) and (b): what figures and letters mean; 178.503 to 178.523: the types that exist (from memory).
@pytest.mark.parametrize(
    ("code", "text", "form"),
    [
        ("1A1", "steel drum, head fixed", PackageForm.DRUM),
        ("1A2", "steel drum, head removable", PackageForm.DRUM),
        ("1G", "fibre drum", PackageForm.DRUM),
        ("2C2", "natural wood barrel, head removable", PackageForm.DRUM),
        ("3H1", "plastics jerrican, head fixed", PackageForm.JERRICAN),
        ("4G", "fibreboard box", PackageForm.BOX),
        ("4N", "metal other than steel or aluminium box", PackageForm.BOX),
        ("5M2", "multiwall paper bag", PackageForm.BAG),
        ("6HA1", "plastics receptacle in steel drum", PackageForm.DRUM),
        ("6HG2", "plastics receptacle in fibreboard box", PackageForm.BOX),
        ("6PD2", "glass, porcelain or stoneware receptacle in wickerwork hamper", PackageForm.BOX),
        ("0A2", "steel light gauge metal packaging, head removable", PackageForm.DRUM),
        ("31HA1", "intermediate bulk container", PackageForm.IBC),
        ("13H4", "intermediate bulk container", PackageForm.IBC),
        ("50G", "large packaging", PackageForm.BOX),
        ("51H", "large packaging", PackageForm.BAG),
        ("cylinder", "gas cylinder", PackageForm.CYLINDER),
        ("none", "no packaging of its own", None),
    ],
)
def test_codes(code: str, text: str, form: PackageForm | None) -> None:
    assert (read_code(code).text, read_code(code).form) == (text, form)


@pytest.mark.parametrize("code", ["", "4", "9Z", "1A3", "2A1", "4GX", "4GVV", "31HZ1", "6QA1", "52G", "7A", "G4"])
def test_codes_that_do_not_exist(code: str) -> None:
    with pytest.raises(Unreadable):
        read_code(code)
