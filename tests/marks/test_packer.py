"""What the packer does, step by step, in words; and what papers carry of goods few records have. Common practice, no source."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from marks.decide import decide
from marks.packer import Step, overpack_steps, packing_steps
from marks.papers import papers
from marks.reading import record_from
from marks.record import Record
from marks.terms import Mode
from tests.law_cases import BESIDE, PACKED, RECORD

DAY = date(2026, 11, 25)
BOTTLES: dict[str, Any] = {
    "un": "1090",
    "inner": {
        "count": 4, "holds": "1 L", "of": "glass bottle", "absorbent": "full", "mass_each": "1.3 kg",
        "size": {"diameter": "90 mm", "height": "200 mm"},
    },
}  # fmt: skip
INSIDE = {"length": "240 mm", "width": "240 mm", "height": "240 mm"}


def record(goods: dict[str, Any], packed: str = "box", modes: tuple[str, ...] = ("road",), **more: Any) -> Record:
    package = PACKED[packed] | {"package": "A", "goods": [goods]} | more
    return record_from(RECORD | {"modes": list(modes), "packages": [package]})


def told(goods: dict[str, Any], packed: str = "box", modes: tuple[str, ...] = ("road",), **more: Any) -> str:
    package = record(goods, packed, modes, **more).packages[0]
    return "\n".join(step.words for step in packing_steps(package, DAY, [Mode(mode) for mode in modes], True))


@pytest.mark.parametrize(
    ("goods", "packed", "more", "says"),
    [
        (BOTTLES, "v box", {"inside": INSIDE}, "They fit in one layer, in rows of 2 and 2"),
        (BOTTLES, "v box", {"inside": INSIDE}, "Fill the rest to the top: about 8.7 L of absorbent"),
        (
            BOTTLES, "v box", {"inside": INSIDE, "filling": {"of": "vermiculite", "litre_weighs": "100 g"}},
            "about 8.7 L of vermiculite, about 0.9 kg",
        ),
        (BOTTLES, "v box", {"inside": INSIDE, "filling": {"of": "vermiculite"}}, "about 8.7 L of vermiculite"),
        (BOTTLES, "v box", {"certificate": {"distances": {
            "bottom": "30 mm", "sides": "20 mm", "between": "20 mm", "top": "20 mm"}}}, "Keep 30 mm under, 20 mm to each side"),
        (BOTTLES, "v box", {"certificate": {"inner_gross_mass": "6 kg"}}, "6 kg at most by the certificate"),
        (
            {"un": "1090", "inner": BOTTLES["inner"] | {"count": 1}}, "box", {"inside": INSIDE},
            "They fit in one layer, in a row of 1",
        ),
        ({"un": "1090", "net": "1 L", "residue": "true"}, "drum", {}, "UN 1090: empty and uncleaned"),
        ({"un": "1090", "net": "20 L"}, "drum", {"salvage": "true"}, "Salvage: look at the damaged package"),
        (BOTTLES, "box", {"gross_mass": "60 kg"}, "TOO HEAVY"),
        (BOTTLES, "box", {"spec_mark": None}, "No specification mark is in the record"),
        (BOTTLES, "box", {"coolant": {"un": "1845", "mass": "6 kg"}}, "Coolant UN 1845: 6 kg"),
    ],
)  # fmt: skip
def test_the_steps_say_what_is_to_be_done(goods: dict[str, Any], packed: str, more: dict[str, Any], says: str) -> None:
    text = told(goods, packed, **more)
    assert says in text, text


def test_by_air_closures_are_held_twice_and_on_the_road_not() -> None:
    """49 CFR 173.27(d)."""
    assert "holds each closure (by air)" in told(BOTTLES, modes=("air",))
    assert "(by air)" not in told(BOTTLES)


def test_an_overpack_is_told_by_what_is_in_it() -> None:
    whole = record_from(
        RECORD | {
            "modes": ["road"], "packages": [PACKED["box"] | {"package": "A", "count": 2, "goods": [BOTTLES]}, BESIDE],
            "overpacks": [{"overpack": "P", "packages": ["A", "A", "Z"]}],
        }
    )  # fmt: skip
    first = overpack_steps(whole.overpacks[0])[0]
    assert isinstance(first, Step) and "2 × package A, 1 × package Z" in first.words


@pytest.mark.parametrize(
    ("goods", "mode", "said", "missing"),
    [
        ({"un": "0336", "net": "5 kg", "net_explosive_mass": "2.4 kg"}, "road", "net explosive mass 2.4 kg", ""),
        ({"un": "0336", "net": "5 kg"}, "road", "", "net explosive mass; write net_explosive_mass"),
        ({"un": "0336", "net": "5 kg", "ex_numbers": ["EX-1", "EX-2"]}, "us-ground", "EX-1, EX-2", ""),
    ],
)
def test_papers_of_explosives(goods: dict[str, Any], mode: str, said: str, missing: str) -> None:
    """ADR 5.4.1.2.1, from memory; 49 CFR 172.320(d)."""
    (paper,) = papers(decide(record(goods, modes=(mode,))))
    assert said in "; ".join(more for line in paper.lines for more in line.more)
    assert missing in " ".join(paper.open)


def test_what_is_done_for_several_goods_alike_is_one_step_after_what_goes_in() -> None:
    """The laboratory's box: three solvents, one tape, one absorbent; goods without absorbent are not named there."""
    dry = {"un": "1294", "inner": {"count": 1, "holds": "500 mL", "of": "glass bottle"}}
    package = PACKED["box"] | {"package": "A", "goods": [BOTTLES, dry]}
    found = record_from(RECORD | {"modes": ["road", "air"], "packages": [package]}).packages[0]
    words = [step.words for step in packing_steps(found, DAY, [Mode.ROAD, Mode.AIR])]
    assert [one.split(":")[0] for one in words[:4]] == ["UN 1090", "UN 1294", "UN 1090, UN 1294", "UN 1090"]
    assert "a second means" in words[2] and "absorbent" in words[3]
