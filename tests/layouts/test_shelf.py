"""Labels from the shelf: not printed, but counted in a pick list; and what is printed all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from layouts.errors import ShelfError
from layouts.job import plan_file
from layouts.output import heading_of, make_sheets, sheets_of
from layouts.planned import Planned
from layouts.probe import RecordingPen, Text
from layouts.shelf import NOTHING, Shelf, pick_sheets, picked, read_shelf
from layouts.stock import read_stock

EXAMPLES = Path(__file__).parents[2] / "examples"
A4 = read_stock("A4")


def planned(name: str) -> Planned:
    return plan_file(EXAMPLES / f"{name}.yaml")


def printed(plan: Planned, shelf: Shelf, allow_refused: bool = False) -> list[str]:
    """Every mark on the sheets, once for each copy."""
    sheets = sheets_of(plan, A4, heading_of(plan, "record.yaml"), allow_refused, shelf)
    return [piece.item.mark for sheet in sheets for piece in sheet.pieces]


def said(plan: Planned, shelf: Shelf) -> str:
    """The words of the printed pick list."""
    pen = RecordingPen()
    for sheet in pick_sheets(picked(plan, shelf), heading_of(plan, "record.yaml")):
        for call in sheet.around:
            call.onto(pen)
    return " | ".join(call.text for call in pen.calls if isinstance(call, Text))


def test_what_is_on_the_shelf_is_picked_in_the_number_it_would_be_printed() -> None:
    plan = planned("xylenes-drum")
    all_of_it, rest = printed(plan, NOTHING), printed(plan, read_shelf("3"))
    (pick,) = picked(plan, read_shelf("3")).picks
    assert pick.count == all_of_it.count("hazard-label 3") > 1
    assert [mark for mark in all_of_it if mark != "hazard-label 3"] == rest


def test_counts_and_places_stand_in_the_answer_and_on_the_page() -> None:
    plan, shelf = planned("isopropanol-three-modes"), read_shelf("3, 8, cargo-aircraft-only")
    assert list(picked(plan, shelf).told) == [
        "from the shelf, not printed:",
        "  2 x Hazard label 3: 2 for package A, front",
        "  2 x Cargo aircraft only: 2 for package A, front",
        "on the shelf, and nothing asks for it: 8",
    ]
    page = said(plan, shelf)
    for words in ("Hazard label 3", "2 ×", "2 for package A, front", "on the shelf, and nothing asks for it: 8"):
        assert words in page


def test_packages_come_in_the_order_of_the_record() -> None:
    plan = planned("solvents-overpack")
    where = [place for pick in picked(plan, read_shelf("all")).picks for place in pick.where]
    assert [place.split(",")[0].split(" for ")[1] for place in where] == ["package A", "package B", "overpack P1"]


def test_all_takes_every_hazard_label_and_nothing_else() -> None:
    plan = planned("isopropanol-three-modes")
    assert set(printed(plan, NOTHING)) - set(printed(plan, read_shelf("all"))) == {"hazard-label 3"}


def test_what_is_written_into_a_label_by_hand_is_on_the_list() -> None:
    """The blanks of a class 7 label: contents, activity, transport index (49 CFR 172.403(g))."""
    plan = planned("iridium-source-type-a")
    (pick,) = picked(plan, read_shelf("all")).picks
    assert "Ir-192" in pick.write and f"write into each: {pick.write}" in said(plan, read_shelf("all"))


def test_a_label_reduced_for_want_of_room_is_printed(tmp_path: Path) -> None:
    """One on the shelf has its full size."""
    text = (EXAMPLES / "isopropanol-three-modes.yaml").read_text("utf-8")
    small = tmp_path / "small.yaml"
    small.write_text(
        text.replace("modes: [road, sea, air]", "modes: [road]")
        .replace("aircraft: cargo\n", "")
        .replace("length: 400 mm, width: 300 mm, height: 330 mm", "length: 130 mm, width: 130 mm, height: 130 mm")
        .replace("width: 120 mm, height: 40 mm", "width: 10 mm, height: 10 mm"),
        "utf-8",
    )
    plan = plan_file(small)
    reduced = [
        one for one in plan.placements[0].items if one.requirement.mark == "hazard-label" and one.artwork.reduced
    ]
    assert reduced, "the package is too large for what this test asks"
    found = picked(plan, read_shelf("3"))
    assert not found.picks and "full size" in found.printed[0]
    assert "hazard-label 3" in printed(plan, read_shelf("3"))


def test_nothing_is_picked_for_a_package_that_may_not_travel() -> None:
    """A label from the shelf cannot say NOT CLEARED."""
    plan = planned("drain-cleaner-refused")
    found = picked(plan, read_shelf("all"))
    assert not found.picks and all("nothing is picked" in words for words in found.printed)
    assert printed(plan, read_shelf("all"), True) == printed(plan, NOTHING, True)


@pytest.mark.parametrize("given", ("3,12", "flame", "", " , ", "1.7", "un-number", "9B"))
def test_what_is_no_label_is_refused_with_what_to_write(given: str) -> None:
    with pytest.raises(ShelfError, match=r"write classes and divisions as in 3,6\.1"):
        read_shelf(given)


@pytest.mark.parametrize("name", ("1.1D", "1.4S", "2.1", "6.1", "7-II", "7E", "9", "9A", "limited-quantity"))
def test_every_label_may_be_on_the_shelf(name: str) -> None:
    assert read_shelf(f"{name},{name}") == Shelf((name,))


def test_the_pick_list_leads_the_packers_pages(tmp_path: Path) -> None:
    pypdf = pytest.importorskip("pypdf")
    plan = planned("xylenes-drum")
    make_sheets(plan, tmp_path, source="record.yaml", formats=("pdf",), shelf=read_shelf("3"))
    (packing,) = tmp_path.glob("*-packing.pdf")
    assert not list(tmp_path.glob("*-labels.pdf"))
    pages = [page.extract_text() for page in pypdf.PdfReader(packing).pages]
    assert "Pick list" in pages[0] and "Hazard label 3" in pages[0] and f"sheet 1 of {len(pages)}" in pages[0]
    assert not any("Pick list" in page for page in pages[1:])
