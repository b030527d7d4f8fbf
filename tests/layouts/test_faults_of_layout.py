"""What is said where a drawing, a page or a placement can't be what was asked: what was read, and why."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import pytest
from msgspec.structs import replace

from layouts.artwork.catalogue import forms
from layouts.artwork.explosives import parsed
from layouts.artwork.symbols import symbol
from layouts.artwork.symbols.edge import Edge
from layouts.artwork.symbols.solid import Trail, rings
from layouts.draw import to_pdf
from layouts.errors import DoesNotFit
from layouts.faces import Solid
from layouts.geometry import Box, Path, Point, polyline
from layouts.ink import BLACK
from layouts.pdf import PdfBook
from layouts.probe import BoundsPen
from layouts.sheet import impose
from layouts.svg import SvgPen
from layouts.verify import Misplaced, verify
from marks.requirement import Requirement
from marks.small import least_on_shoulder
from marks.terms import Face, Mode, PackageForm
from tests.layouts.drawn import Sample, recorded, requirement
from tests.layouts.drawn import label as drawn_label
from tests.layouts.placing_given import AIR, CARGO, NUMBER, Plain, label, square
from tests.layouts.test_place import broken, put
from tests.layouts.test_sheet import A4, HEADING, items


@dataclass(frozen=True)
class Lettered(Plain):
    """With letters of a height."""

    cap: float = 0.0


# --- pens and pages -------------------------------------------------------------------------------------------------


def test_an_ink_or_a_way_to_write_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match=r"inks are .*rgb.*, not 'sepia'"):
        PdfBook(title="x", inks="sepia")
    with pytest.raises(ValueError, match="text is embedded or outlines, not 'live'"):
        PdfBook(title="x", text="live")
    with pytest.raises(ValueError, match="text is drawn as outlines or live, not 'embedded'"):
        SvgPen(10, 10, text="embedded")


def test_a_book_without_a_page_is_no_file() -> None:
    with pytest.raises(ValueError, match="without a page"):
        PdfBook(title="x").close()
    with pytest.raises(ValueError, match="without a page"):
        to_pdf([], title="x")


def test_what_groups_of_a_drawing_are_called_is_an_id_whatever_they_are_called() -> None:
    pen = SvgPen(10, 10)
    for name in ("3", "§", "a b"):
        pen.begin(name)
        pen.end()
    text = pen.tostring()
    assert 'id="p-3"' in text and 'id="part"' in text and 'id="a-b"' in text


def test_nothing_takes_no_room() -> None:
    assert Path().bounds == Box(0, 0, 0, 0)
    pen = BoundsPen()
    pen.stroke(polyline([(3, 4), (3, 4)]), BLACK, 1.0)  # a point has no direction, so no ends
    pen.stroke(polyline([(10, 10), (20, 10)]), BLACK, 1.0)
    assert pen.box == Box(10, 9.5, 10, 1)


# --- sheets ---------------------------------------------------------------------------------------------------------


def test_sheets_are_laid_as_they_can_be_and_printed_at_least_once() -> None:
    with pytest.raises(ValueError, match=r"flat is one of .*, not 'perhaps'"):
        impose(items("un-number"), A4, HEADING, flat="perhaps")
    with pytest.raises(ValueError, match="at least once"):
        impose(items("un-number", count=0), A4, HEADING)


# --- symbols and labels ---------------------------------------------------------------------------------------------


def test_an_arc_that_cannot_reach_and_a_border_that_breaks_off() -> None:
    with pytest.raises(ValueError, match="an arc of radius 4 cannot span 10"):
        Trail(0, 0).bow(10, 0, 4)
    with pytest.raises(ValueError, match="a border breaks off at"):
        rings([Edge(Point(0, 0), Point(10, 0)), Edge(Point(10, 5), Point(0, 0))])


def test_an_arc_without_a_bend_is_a_line() -> None:
    """To a point straight ahead an arc has no radius: both ways to draw it give the line itself."""
    ahead = Trail(0, 0).line((10, 0)).on(20, 0).line((20, 5), (0, 5), (0, 0)).solid()
    home = Trail(0, 0).line((10, 0)).into(20, 0, 0).line((20, 5), (0, 5), (0, 0)).solid()
    for solid in (ahead, home):
        assert all(edge.radius == 0 for edge in solid.edges)
        assert Point(15, 2) in solid and Point(15, 6) not in solid


def test_a_symbol_that_is_none_and_a_label_that_is_none() -> None:
    with pytest.raises((KeyError, ValueError), match="unicorn"):
        symbol("unicorn")
    for variant in ("1.7", "1.4T", "1.4SS", "2"):
        with pytest.raises(ValueError, match=r"is no hazard label of class 1; write for instance 1\.1D"):
            parsed(variant)


def test_division_1_4_as_a_subsidiary_mark_bears_no_letter() -> None:
    """UN Model Regulations 5.2.2.2.2 (from memory): ** is the place for the division, * that for the letter."""

    with_letter, without = (len(recorded(drawn_label(variant)).calls) for variant in ("1.4S", "1.4"))
    assert without < with_letter


def test_a_mark_without_words_or_with_one_too_long_is_refused() -> None:
    with pytest.raises(ValueError, match="the mark net-quantity has no words to print"):
        forms(Requirement("net-quantity", "", ("a paragraph",), None, (" ",)))
    with pytest.raises(DoesNotFit, match="mm wide; there are"):
        recorded(forms(requirement(Sample("cargo-aircraft-only"), lettering="40"))[0])


def test_no_form_is_smaller_than_its_least() -> None:
    """Limited quantities: a side of 100 mm, on small packages at least 50 mm, UN Model Regulations 3.4.11 (from memory)."""
    sides = {least: [form.side for form in forms(requirement(Sample("limited-quantity"), least_side=least))]
             for least in ("50", "70", "100")}  # fmt: skip
    assert min(sides["50"]) == pytest.approx(50) and 70 <= min(sides["70"]) < 80 and sides["100"] == [100.0]
    whole = {"width": Decimal(100), "height": Decimal(100), "hatch": Decimal(5)}
    battery = Requirement("battery", "", ("a paragraph",), None, ("UN 3480",), measures=whole)
    assert [form.height for form in forms(battery)] == [100.0]
    reduced = replace(battery, measures=whole | {"least_height": Decimal(70)})
    assert [form.height for form in forms(reduced)] == [100.0, 70.0]  # 100 x 70 mm: 5.2.1.9.2, from memory


# --- the check of a placement ---------------------------------------------------------------------------------------


def test_the_check_sees_a_cargo_label_away_from_the_hazard_labels_and_letters_too_small() -> None:
    """The label "cargo aircraft only" stands on the face of the hazard labels, near them: ICAO TI 5;3.2, from memory."""
    placement = put(Solid.box(600, 400, 400), label("3"), CARGO, NUMBER)
    where = next(n for n, one in enumerate(placement.items) if one.requirement.mark == "cargo-aircraft-only")
    moved = list(placement.items)
    moved[where] = replace(moved[where], face=Face.BACK, x=100.0, y=100.0)
    with pytest.raises(Misplaced, match="the cargo aircraft label on back is not with the hazard labels"):
        verify(replace(placement, items=tuple(moved)), [one.requirement for one in placement.items], AIR)


def test_the_check_sees_letters_too_small_and_a_label_too_small_for_its_shoulder() -> None:
    """UN numbers of 12 mm: UN Model Regulations 5.2.1.1 (from memory). On the shoulder of a cylinder of 75 mm and more
    the label's side is at least 15 mm, as marks/tables/small.toml has it."""
    placement = put(Solid.box(600, 400, 400), NUMBER)
    (number,) = placement.items
    asked = replace(NUMBER, measures={"lettering": Decimal(12)})
    for cap, fine in ((12.0, True), (11.9, False)):
        art = Lettered(number.width, number.height, cap=cap)
        items = (replace(number, requirement=asked, artwork=art),)
        if fine:
            verify(replace(placement, items=items), [asked], AIR)
        else:
            with pytest.raises(Misplaced, match=r"has letters 11\.9 mm high, less than 12 mm"):
                verify(replace(placement, items=items), [asked], AIR)
    gas = label("2.2", modes=(Mode.ROAD,))
    cylinder = put(Solid.drum(230, 1500, PackageForm.CYLINDER), gas)
    side = least_on_shoulder(230)
    small = square(side - 1, True)
    assert "less than a shoulder asks for" in broken(
        cylinder, face=Face.SHOULDER, x=10.0, y=10.0, artwork=small, width=small.width, height=small.height
    )
    just = square(side, True)
    on_it = replace(cylinder.items[0], face=Face.SHOULDER, x=10.0, y=10.0, artwork=just, width=just.width, height=just.height)
    verify(replace(cylinder, items=(on_it,)), [gas], (Mode.ROAD,))
