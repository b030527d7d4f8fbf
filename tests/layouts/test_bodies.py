"""What a package is drawn with beside its marks: what its code says it is made of, every line on its face.

What the codes mean is UN Model Regulations 6.1.2, 6.5.1.4 and 6.6.2 (as 49 CFR 178.502, 178.702 and 178.902); how it is drawn
is ours.
"""

from __future__ import annotations

import math

import pytest

from layouts.bodies import Line, on_faces, standing_out, tape
from layouts.faces import Solid
from marks.terms import Face, PackageForm

BOX, CAN, SMALL = Solid.box(400, 300, 330), Solid.box(290, 245, 390, PackageForm.JERRICAN), Solid.box(150, 150, 150)
TAPED = Solid(PackageForm.BOX, 400, 300, 330, taped=True)
DRUM, ROUND_CAN = Solid.drum(585, 880), Solid.drum(300, 400, PackageForm.JERRICAN)
CYLINDER = Solid.drum(230, 1500, PackageForm.CYLINDER)
IBC, BAG = Solid.box(1200, 1000, 1160, PackageForm.IBC), Solid.box(600, 400, 150, PackageForm.BAG)
LARGE = Solid.box(1200, 1000, 1000)

EVERY = [
    (BOX, "4G"), (TAPED, "4G"), (SMALL, "4C1"), (BOX, "4A"), (BOX, "4D"), (CAN, "3H1"), (DRUM, "1A1"), (DRUM, "1A2"),
    (DRUM, "1G"), (DRUM, ""), (ROUND_CAN, "3A1"), (CYLINDER, "cylinder"), (IBC, "31HA1"), (IBC, "31H2"), (IBC, "31A"),
    (IBC, "11HZ2"), (IBC, "11G"), (IBC, "13H3"), (IBC, ""), (LARGE, "50G"), (LARGE, "51H"), (BAG, "5H4"),
    (Solid.box(300, 200, 100, PackageForm.IRREGULAR), "none"),
]  # fmt: skip


def upright(lines: tuple[Line, ...], face: Face) -> list[Line]:
    """Its lines from the lower edge, or from feet, to the upper."""
    return [one for one in lines if one.face is face and len({x for x, _ in one.points}) == 1]


def level(lines: tuple[Line, ...], face: Face) -> list[Line]:
    return [one for one in lines if one.face is face and len(one.points) == 2 and len({y for _, y in one.points}) == 1]


def circles(lines: tuple[Line, ...], face: Face = Face.TOP) -> list[Line]:
    return [one for one in lines if one.face is face and len(one.points) == 37]


@pytest.mark.parametrize("solid, code", EVERY, ids=lambda one: one if isinstance(one, str) else one.form.value)
def test_every_line_lies_on_its_face(solid: Solid, code: str) -> None:
    for one in on_faces(solid, code):
        width, height = solid.size(one.face)
        assert all(-1e-9 <= x <= width + 1e-9 and -1e-9 <= y <= height + 1e-9 for x, y in one.points), one


@pytest.mark.parametrize("solid, code", EVERY, ids=lambda one: one if isinstance(one, str) else one.form.value)
def test_what_stands_out_begins_at_the_top_and_keeps_within_the_plan(solid: Solid, code: str) -> None:
    shift = -solid.length / 2 if solid.round else 0.0
    for points in standing_out(solid, code):
        assert all(-1e-6 <= x - shift <= solid.length + 1e-6 and -1e-6 <= y - shift <= solid.width + 1e-6 for x, y, _ in points)
        assert max(z for *_, z in points) <= solid.height + 120


def test_a_fibre_drum_has_no_hoops_and_an_open_head_no_bungs() -> None:
    steel, fibre = on_faces(DRUM, "1A1"), on_faces(DRUM, "1G")
    assert (len(level(steel, Face.FRONT)), len(level(fibre, Face.FRONT))) == (6, 2)
    middle = DRUM.length / 2

    def off_centre(lines: tuple[Line, ...]) -> int:
        centres = [(max(x for x, _ in c.points) + min(x for x, _ in c.points)) / 2 for c in circles(lines)]
        heights = [(max(y for _, y in c.points) + min(y for _, y in c.points)) / 2 for c in circles(lines)]
        return sum(math.dist(at, (middle, middle)) > 1 for at in zip(centres, heights, strict=True))

    assert (off_centre(steel), off_centre(on_faces(DRUM, "1A2"))) == (2, 0)  # two bungs; a ring where the head comes off
    assert len(circles(on_faces(DRUM, "1A2"))) == 2


def test_a_cylinder_is_bare_and_a_round_can_has_closure_and_handle() -> None:
    assert on_faces(CYLINDER, "cylinder") == () and list(standing_out(CYLINDER)) == []
    assert len(circles(on_faces(ROUND_CAN, "3A1"))) == 2
    assert len(level(on_faces(ROUND_CAN, "3A1"), Face.FRONT)) == 2  # rims, no hoops
    assert len(list(standing_out(ROUND_CAN, "3A1"))) == len(list(standing_out(CAN, "3H1"))) == 5


def test_a_lid_a_frame_and_hand_holes() -> None:
    (lid,) = (one for one in on_faces(BOX, "4A") if one.face is Face.FRONT)
    assert {y for _, y in lid.points} == {0.92 * 330}
    (frame,) = (one for one in on_faces(BOX, "4D") if one.face is Face.FRONT)
    assert len(frame.points) == 5 and frame.points[0] == frame.points[-1]
    assert on_faces(BOX, "4G") == ()
    holes = on_faces(TAPED, "4G")
    assert {one.face for one in holes} == {Face.LEFT, Face.RIGHT} and len(holes) == 2
    assert [box.height for box in tape(TAPED, Face.TOP)] == [60.0] and tape(BOX, Face.TOP) == []


def test_a_composite_ibc_stands_in_its_cage_and_a_soft_one_has_loops_and_no_feet() -> None:
    bars = {code: len(upright(on_faces(IBC, code), Face.FRONT)) for code in ("31HA1", "31H2", "31A", "11HZ2", "13H3")}
    assert bars == {"31HA1": 6, "31H2": 0, "31A": 0, "11HZ2": 0, "13H3": 4}
    lowest = {code: min(y for one in upright(on_faces(IBC, code), Face.FRONT) for _, y in one.points)
              for code in ("31HA1", "13H3")}  # fmt: skip
    assert lowest == {"31HA1": pytest.approx(139.2), "13H3": 0.0}  # feet are 12 % of the height
    assert len(list(standing_out(IBC, "13H3"))) == 4 and list(standing_out(IBC, "31HA1")) == []


def test_an_outlet_is_for_liquids_and_a_lid_for_what_is_rigid() -> None:
    def front(code: str) -> int:
        return len(circles(on_faces(IBC, code), Face.FRONT))

    assert [front(code) for code in ("31HA1", "31A", "", "11G", "13H3")] == [1, 1, 1, 0, 0]
    lids = {code: len(circles(on_faces(IBC, code))) for code in ("31HA1", "11HZ2", "11G", "")}
    assert lids == {"31HA1": 1, "11HZ2": 1, "11G": 0, "": 1}


def test_a_large_packaging_is_strapped_and_a_bag_sewn() -> None:
    straps = on_faces(LARGE, "50G")
    assert len(upright(straps, Face.FRONT)) == 4 and len(upright(straps, Face.TOP)) == 4
    assert circles(straps) == []
    seams = on_faces(BAG, "5H4")
    assert {one.face for one in seams} == {Face.TOP, Face.BOTTOM} and all(one.dash for one in seams)
    mouth = max(z for points in standing_out(BAG, "5H4") for *_, z in points)
    assert BAG.height < mouth < BAG.height * 1.2
