"""A package as faces: plain geometry, so every number here can be checked with a ruler."""

from math import isclose, pi

import pytest
from msgspec.structs import replace

from layouts.faces import Solid
from layouts.geometry import Box
from marks.terms import Face, PackageForm


def test_front_and_back_are_the_larger_upright_faces_whichever_way_the_record_names_the_base() -> None:
    for solid in (Solid.box(380, 285, 310), Solid.box(285, 380, 310)):
        assert solid.size(Face.FRONT) == solid.size(Face.BACK) == (380, 310)
        assert solid.size(Face.LEFT) == solid.size(Face.RIGHT) == (285, 310)
        assert solid.size(Face.TOP) == solid.size(Face.BOTTOM) == (380, 285)


def test_a_round_side_is_four_quarters_of_the_way_round() -> None:
    drum = Solid.drum(585, 880)
    for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT):
        width, height = drum.size(face)
        assert isclose(width, pi * 585 / 4) and height == 880
    assert drum.size(Face.TOP) == (585, 585)


def test_a_stretched_round_side_has_two_thirds_and_two_sixths() -> None:
    drum = Solid.drum(300, 400).stretched()
    widths = [drum.size(face)[0] for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT)]
    assert isclose(widths[0], pi * 100) and isclose(widths[2], pi * 50) and isclose(sum(widths), pi * 300)


def test_a_bag_has_two_broad_sides() -> None:
    bag = Solid.box(150, 700, 450, PackageForm.BAG)
    assert bag.size(Face.FRONT) == (450, 700)
    assert [face for face in Face if bag.takes_marks(face)] == [Face.FRONT, Face.BACK]


@pytest.mark.parametrize(
    ("solid", "faces"),
    [
        (Solid.box(400, 300, 200), {"front", "back", "left", "right", "top"}),
        (Solid.box(400, 300, 200, PackageForm.JERRICAN), {"front", "back", "left", "right"}),
        (Solid.drum(400, 600), {"front", "back", "left", "right"}),
    ],
)
def test_the_bottom_never_takes_a_mark(solid: Solid, faces: set[str]) -> None:
    # 49 CFR 172.406(a)(1)(i): a label stands on a surface other than the bottom. The ends of drums: our own choice.
    assert {face for face in Face if solid.takes_marks(face)} == faces


@pytest.mark.parametrize("sizes", [(0, 10, 10), (10, -1, 10), (10, 10, float("nan")), (10, 10, float("inf"))])
def test_a_size_that_is_none_is_refused(sizes: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="above 0 mm"):
        Solid.box(*sizes)


def test_a_cylinder_has_a_shoulder_and_its_side_ends_below_it() -> None:
    cylinder = Solid.drum(200, 1000, PackageForm.CYLINDER)
    assert cylinder.shoulder == 60 and cylinder.size(Face.FRONT)[1] == 940
    assert cylinder.takes_marks(Face.SHOULDER) and not Solid.drum(200, 1000).takes_marks(Face.SHOULDER)
    assert Face.SHOULDER in cylinder.faces and Face.SHOULDER not in Solid.drum(200, 1000).faces


def test_an_irregular_article_has_no_face_for_a_mark_but_a_tag() -> None:
    article = Solid.box(600, 400, 500, PackageForm.IRREGULAR)
    assert not any(article.takes_marks(face) for face in Face)
    assert [face for face in Face if replace(article, tag=(150, 200)).takes_marks(face)] == [Face.TAG]


def test_tape_runs_along_the_middle_of_the_top_and_laps_over_the_ends() -> None:
    # common practice, no source: a box of fibreboard is closed with tape along its length
    taped = replace(Solid.box(400, 300, 330), taped=True)
    (top,) = [area.box for area in taped.shunned() if area.face is Face.TOP]
    assert top == Box(0, 120, 400, 60)
    ends = {area.face for area in taped.shunned()} - {Face.TOP}
    assert ends == {Face.LEFT, Face.RIGHT}
    assert Solid.box(400, 300, 330).shunned() == ()
