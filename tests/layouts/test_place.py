"""Placement in numbers. Sources stand beside what they settle; distances and looks are our own choice where none is
named."""

from __future__ import annotations

import pytest

from layouts.faces import Area, Solid, There
from layouts.geometry import Box
from layouts.place import place
from layouts.placement import Placed, Placement
from layouts.verify import Misplaced, verify
from marks.requirement import Requirement
from marks.terms import Face, Level, Mode, PackageForm
from tests.layouts.placing_given import (
    AIR,
    ARROWS,
    CARGO,
    CONSIGNEE,
    FISH,
    NAME,
    NET,
    NUMBER,
    SHIPPER,
    SURFACE,
    Plain,
    forms,
    label,
    need,
    square,
)  # fmt: skip

BOX = Solid.box(380, 285, 310)


def put(solid: Solid, *requirements: Requirement, **more: object) -> Placement:
    return place(solid, requirements, AIR, forms=forms, **more)  # type: ignore[arg-type]


def found(placement: Placement, mark: str, variant: str | None = None) -> list[Placed]:
    return [p for p in placement.items if p.requirement.mark == mark and p.requirement.variant == variant]


def where(placed: Placed) -> tuple[str, float, float]:
    return placed.face.value, placed.x, placed.y


def codes(placement: Placement) -> list[tuple[str, str]]:
    return [(finding.level.value, finding.code) for finding in placement.findings]


# --- an ordinary box --------------------------------------------------------------------------------------------------


def test_an_ordinary_box_has_label_number_and_name_on_the_front_and_arrows_left_and_right() -> None:
    placement = put(BOX, label("3"), NUMBER, NAME, NET, ARROWS)
    # margins of 20 mm; the label's cell is 145 mm (141.4 on a grid of 5); the gap is 15; texts are level with its top
    assert where(found(placement, "hazard-label", "3")[0]) == ("front", 20, 145)
    assert where(found(placement, "un-number")[0]) == ("front", 180, 275)
    assert where(found(placement, "proper-shipping-name")[0]) == ("front", 180, 252)
    # 285 mm wide: (285 - 74) / 2 = 105.5, on the grid 105; 310 - 20 - 105 = 185
    assert [where(p) for p in found(placement, "orientation-arrows")] == [("right", 105, 185), ("left", 105, 185)]
    assert placement.findings == ()


def test_marks_are_numbered_in_the_order_of_applying() -> None:
    placement = put(BOX, ARROWS, NET, NAME, NUMBER, label("3"))
    assert [(p.number, p.requirement.mark) for p in placement.items] == [
        (1, "hazard-label"), (2, "un-number"), (3, "proper-shipping-name"), (4, "net-quantity"),
        (5, "orientation-arrows"), (6, "orientation-arrows"),
    ]  # fmt: skip


def test_every_mark_says_why_it_is_here() -> None:
    placement = put(Solid.box(600, 400, 400), label("3"), CARGO, NUMBER, NAME, SHIPPER, CONSIGNEE, ARROWS, FISH)
    assert all(p.why_here.endswith(".") and p.face.value in p.why_here for p in placement.items)


def test_two_labels_stand_beside_each_other_on_one_foot_line() -> None:
    # 49 CFR 172.406(c): primary and subsidiary labels beside each other
    one, two = (p for p in put(Solid.box(400, 300, 300), label("3"), label("6.1"), NUMBER).items[:2])
    assert one.face == two.face == Face.FRONT and one.y == two.y
    assert two.x - one.box.right >= 5


def test_the_cargo_aircraft_label_stands_on_the_face_of_the_hazard_labels() -> None:
    # same surface near the hazard labels: UN Model Regulations / ICAO TI, from memory
    placement = put(Solid.box(500, 400, 400), label("3"), label("6.1"), CARGO, FISH, NUMBER, NAME, SHIPPER, CONSIGNEE)
    assert found(placement, "cargo-aircraft-only")[0].face is Face.FRONT
    assert {p.face for p in placement.items} == {Face.FRONT}


@pytest.mark.parametrize(
    "solid", [BOX, Solid.box(600, 400, 500), Solid.drum(585, 880), Solid.box(320, 240, 420, PackageForm.JERRICAN)]
)
def test_arrows_stand_on_two_opposite_upright_faces(solid: Solid) -> None:
    # 49 CFR 172.312(a)(2): two opposite vertical sides
    one, two = found(put(solid, label("3"), NUMBER, ARROWS), "orientation-arrows")
    assert one.face.upright and two.face is one.face.opposite and (one.x, one.y) == (two.x, two.y)


def test_a_bag_bears_its_arrows_on_its_two_broad_sides() -> None:
    placement = put(Solid.box(700, 450, 150, PackageForm.BAG), label("3"), NUMBER, ARROWS)
    assert {p.face for p in found(placement, "orientation-arrows")} == {Face.FRONT, Face.BACK}


def test_a_label_asked_for_on_two_sides_stands_on_opposite_ones() -> None:
    # 49 CFR 172.403(f): two radioactive labels on opposite sides
    placement = put(BOX, label("7-II", twice=True), NUMBER)
    assert [p.face for p in found(placement, "hazard-label", "7-II")] == [Face.FRONT, Face.BACK]


def test_numbers_and_names_of_two_goods_stay_in_pairs() -> None:
    goods = [
        need(mark, None, words, goods=(n,))
        for n, pair in enumerate((("UN 1993", "FLAMMABLE LIQUID"), ("UN 1263", "PAINT")))
        for mark, words in zip(("un-number", "proper-shipping-name"), pair, strict=True)
    ]
    words = [p.requirement.words[0] for p in put(BOX, label("3"), *goods).items[1:]]
    assert words == ["UN 1263", "PAINT", "UN 1993", "FLAMMABLE LIQUID"]


@pytest.mark.parametrize("form", [PackageForm.BOX, PackageForm.JERRICAN])
def test_labels_on_both_sides_of_a_handle_are_drawn_together(form: PackageForm) -> None:
    """49 CFR 172.406(c): within 150 mm. The handle is 60 mm wide and each side of it has room for one label and 100 mm more:
    both at the left of their room, they would stand more than 150 mm apart."""
    clear = [Area(face, Box(250, 0, 60, 160), "handle") for face in (Face.FRONT, Face.BACK)]
    one, two = put(Solid.box(560, 140, 160, form), label("3"), label("8"), keep_clear=clear).items
    assert one.face is two.face is Face.FRONT and 60 <= two.x - one.box.right <= 150


# --- when the front is too small --------------------------------------------------------------------------------------


def test_what_does_not_go_on_the_front_goes_on_another_upright_face_and_air_is_told_of_the_addresses() -> None:
    placement = put(Solid.box(200, 190, 190), label("3"), NUMBER, NAME, SHIPPER, CONSIGNEE)
    assert {p.face for p in placement.items[:3]} == {Face.FRONT}
    assert {found(placement, m)[0].face for m in ("shipper", "consignee")} == {Face.RIGHT}
    assert codes(placement) == [("caution", "address-apart")]


def test_condensed_lettering_is_taken_only_when_plain_lettering_does_not_go() -> None:
    # inner width 147 at 3 mm margins: the label leaves no column, and below it 20 mm: one line of 15 mm, 60 mm
    # condensed
    def narrow(requirement: Requirement) -> list[Plain]:
        if requirement.mark == "un-number":
            return [Plain(160, 15), Plain(90, 15, step=1, fonts=("condensed",))]
        return list(forms(requirement))

    roomy = place(Solid.box(400, 300, 300), [label("3"), NUMBER], AIR, forms=narrow)
    tight = place(Solid.box(153, 153, 170), [label("3"), NUMBER], AIR, forms=narrow)
    assert roomy.items[1].artwork.fonts == () and tight.items[1].artwork.fonts == ("condensed",)


def test_labels_are_reduced_by_road_and_sea_with_a_caution_and_all_alike() -> None:
    # UN Model Regulations 5.2.2.2.1.1.3, from memory; 49 CFR 172.407(c)(1)(i): in proportion when the package is small
    placement = put(Solid.box(250, 170, 125), label("3", modes=SURFACE), label("6.1", modes=SURFACE))
    assert [p.artwork.side for p in placement.items] == [80, 80]
    assert codes(placement) == [("caution", "reduced-label")] * 2
    assert placement.findings[0].cite == ("ADR 5.2.2.2.1.1.3 (from memory)", "IMDG 5.2.2.2.1.1.3 (from memory)")


def test_other_marks_are_reduced_before_any_label_is() -> None:
    """A label is reduced only where the size of the package requires it (49 CFR 172.407(c)(1)(i)): not for a mark that can be
    smaller itself. Front: the label alone (141.4 + 2 x 3); back: 86 mm high, so the battery mark of 100 x 70 mm."""
    clear = [Area(face, Box(0, 0, 90, 149), "handle") for face in (Face.LEFT, Face.RIGHT)]
    clear.append(Area(Face.BACK, Box(0, 0, 160, 63), "maker's name"))
    solid = Solid.box(160, 90, 149, PackageForm.JERRICAN)
    placement = put(solid, label("3", modes=SURFACE), need("battery", modes=SURFACE), keep_clear=clear)
    assert found(placement, "hazard-label", "3")[0].artwork.side == 100
    assert (found(placement, "battery")[0].face, found(placement, "battery")[0].height) == (Face.BACK, 70)
    assert placement.steps[-1].name == "marks other than labels reduced"


def test_by_air_no_label_is_reduced_and_the_refusal_says_what_is_needed_and_what_there_is() -> None:
    placement = put(Solid.box(250, 170, 125), label("3"), label("6.1"))
    assert placement.items == () and placement.refused
    text = placement.findings[0].text
    # 141.4 + 2 x 3 = 147.4; 2 x 141.4 + 5 + 2 x 3 = 293.8; set into each other's gaps, 5 mm between their edges, what they
    # are moved across and up adds up to 148.5: 141.4 + 75 + 6 = 222.4 and 141.4 + 73.5 + 6 = 220.9 (cells of a tenth of a mm)
    assert "Hazard label 3 and hazard label 6.1 need at least 148 x 294 mm or 221 x 223 mm or 294 x 148 mm on one face" in text
    assert (
        "front 250 x 125 mm" in text and "top 250 x 170 mm" in text and "by air no hazard label may be reduced" in text
    )
    assert codes(placement) == [("refuse", "does-not-fit")]


def test_a_reduction_needs_every_leg_to_be_without_air_for_that_label_only() -> None:
    # the environmental mark has a reduction of its own (49 CFR 172.322(e)(2)(i)(A)), by air too
    placement = put(Solid.box(250, 200, 149), label("3"), need("environmentally-hazardous"), NUMBER)
    sides = {p.requirement.mark: p.artwork.side for p in placement.items}
    assert sides["hazard-label"] == 100


@pytest.mark.parametrize(("edge", "fits"), [(147.3, False), (147.6, True)])
def test_a_label_keeps_three_millimetres_from_every_edge(edge: float, fits: bool) -> None:
    # own choice: marks/tables/placing.toml, mark-to-edge
    assert put(Solid.box(edge, edge, edge), label("3")).refused is not fits


def test_a_flat_box_bears_its_labels_on_the_top_and_says_so() -> None:
    # 49 CFR 172.406(a)(1)(i) bars the bottom only
    placement = put(Solid.box(400, 300, 120), label("3"), NUMBER, ARROWS)
    assert placement.working is Face.TOP and codes(placement) == [("caution", "marks-on-top")]
    assert {p.face for p in found(placement, "orientation-arrows")} == {Face.LEFT, Face.RIGHT}


def test_number_and_name_leave_the_labels_only_when_no_face_takes_both_and_a_person_is_told() -> None:
    # 49 CFR 172.406(a)(1)(ii): same surface as the proper shipping name, if the package is big enough
    placement = put(Solid.box(150, 150, 150), label("3"), NUMBER, NAME)
    assert found(placement, "hazard-label", "3")[0].face is Face.FRONT
    assert found(placement, "un-number")[0].face is found(placement, "proper-shipping-name")[0].face is Face.RIGHT
    assert codes(placement) == [("caution", "name-apart"), ("note", "carrier-label")]


def test_the_environmental_mark_leaves_the_labels_before_the_package_is_refused() -> None:
    placement = put(Solid.box(300, 200, 160), label("3"), label("8"), FISH)
    assert found(placement, "environmentally-hazardous")[0].face is not Face.FRONT
    assert codes(placement) == [("caution", "mark-apart")]


def test_arrows_that_find_no_two_opposite_faces_are_refused_by_their_paragraph() -> None:
    taken = [Area(face, Box(0, 0, 400, 300), "handle") for face in (Face.LEFT, Face.BACK)]
    placement = put(Solid.box(400, 300, 300), label("3"), ARROWS, keep_clear=taken)
    assert codes(placement) == [("refuse", "does-not-fit")]
    assert placement.findings[0].cite[0] == "49 CFR 172.312(a)(2)" or "Orientation arrows" in placement.findings[0].text


# --- round -----------------------------------------------------------------------------------------------------------


def test_on_a_drum_the_labels_keep_to_a_quarter_of_the_way_round() -> None:
    placement = put(Solid.drum(585, 880), label("3"), label("6.1"), CARGO, NUMBER, NAME)
    assert placement.findings == ()
    assert max(p.box.right for p in placement.items) <= 3.14159 * 585 / 4 - 3


def test_a_slim_drum_uses_a_third_of_the_way_round_and_says_so() -> None:
    placement = put(Solid.drum(170, 600), label("3"), NUMBER)  # a quarter: 133 mm, a third: 178 mm
    assert placement.solid.share == pytest.approx(1 / 3)
    assert codes(placement) == [("caution", "third-of-the-way-round")]


# --- what is there already -------------------------------------------------------------------------------------------


def test_nothing_stands_on_an_area_kept_clear() -> None:
    clear = Area(Face.FRONT, Box(0, 150, 200, 160), "maker's mark")
    placement = put(BOX, label("3"), NUMBER, NAME, keep_clear=[clear])
    assert placement.keep_clear == (clear,)
    assert not any(p.box.overlaps(clear.box) for p in placement.on(Face.FRONT))
    assert found(placement, "hazard-label", "3")[0].face is Face.FRONT


def test_marks_flow_round_a_keep_clear_area_in_the_middle() -> None:
    clear = Area(Face.FRONT, Box(160, 100, 60, 100), "hand hole")
    placement = put(BOX, label("3"), NUMBER, NAME, keep_clear=[clear])
    assert {p.face for p in placement.items} == {Face.FRONT}


def test_a_front_kept_clear_altogether_moves_the_work_to_the_back() -> None:
    placement = put(BOX, label("3"), NUMBER, keep_clear=[Area(Face.FRONT, Box(0, 0, 380, 310), "window")])
    assert placement.working is Face.BACK and {p.face for p in placement.items} == {Face.BACK}


def test_preprinted_arrows_with_a_stated_place_stay_there_and_take_room() -> None:
    arrows = need("orientation-arrows", preprinted=True)
    there = [There("orientation-arrows", None, face, Box(10, 180, 90, 120)) for face in (Face.FRONT, Face.BACK)]
    placement = put(BOX, label("3"), NUMBER, arrows, there=there)
    assert [(p.face, p.box, p.there, p.assumed) for p in found(placement, "orientation-arrows")] == [
        (Face.FRONT, Box(10, 180, 90, 120), True, False), (Face.BACK, Box(10, 180, 90, 120), True, False),
    ]  # fmt: skip
    assert found(placement, "hazard-label", "3")[0].x >= 105
    assert placement.findings == ()


def test_preprinted_arrows_without_a_place_are_assumed_and_reported() -> None:
    placement = put(
        BOX, label("3"), NUMBER, need("orientation-arrows", preprinted=True), there=[There("orientation-arrows")]
    )
    assert all(p.there and p.assumed for p in found(placement, "orientation-arrows"))
    assert "already there; place not stated" in placement.findings[0].text


def test_where_only_one_of_two_places_is_stated_the_other_is_assumed_opposite() -> None:
    there = [There("orientation-arrows", None, Face.LEFT, Box(20, 150, 74, 105))]
    placement = put(BOX, label("3"), need("orientation-arrows", preprinted=True), there=there)
    left, right = sorted(found(placement, "orientation-arrows"), key=lambda p: p.face)
    assert (left.assumed, right.assumed, right.face) == (False, True, Face.RIGHT)


def test_a_preprinted_label_draws_the_others_to_its_face() -> None:
    there = [There("hazard-label", "3", Face.BACK, Box(20, 100, 142, 142))]
    placement = put(BOX, label("3", preprinted=True), label("6.1"), NUMBER, there=there)
    assert {p.face for p in placement.items} == {Face.BACK}


def test_a_mark_that_is_there_but_not_asked_for_takes_room_and_is_shown() -> None:
    there = [There("battery", None, Face.FRONT, Box(10, 150, 150, 150))]
    placement = put(BOX, label("3"), there=there)
    assert [area.name for area in placement.others] == ["battery"]
    assert not placement.items[0].box.overlaps(placement.others[0].box)


def test_the_specification_mark_is_shown_where_there_is_room() -> None:
    placement = put(BOX, label("3"), spec_mark="4G/Y27/S/26/N/ACME")
    assert [(area.face, area.name) for area in placement.others] == [
        (Face.BACK, "UN specification mark 4G/Y27/S/26/N/ACME")
    ]


# --- the check of its own --------------------------------------------------------------------------------------------


def broken(placement: Placement, **change: object) -> str:
    from msgspec.structs import replace

    items = (replace(placement.items[0], **change), *placement.items[1:])  # type: ignore[arg-type]
    with pytest.raises(Misplaced) as raised:
        verify(replace(placement, items=items), [p.requirement for p in placement.items], AIR)
    return str(raised.value)


def test_the_check_sees_every_hard_fault() -> None:
    placement = put(Solid.box(600, 400, 400), label("3"), label("8"), CARGO, NUMBER)
    assert "nothing may stand on the bottom" in broken(placement, face=Face.BOTTOM)
    assert "over an edge" in broken(placement, x=2.9)
    assert "mm apart" in broken(placement, x=placement.items[1].x + 20)
    assert "not on one face" in broken(placement, face=Face.BACK)
    assert "not upright" in broken(placement, turn=90)
    assert "reduced though a leg goes by air" in broken(
        placement, artwork=square(80, True), width=square(80).width, height=square(80).height
    )
    assert "not said to be reduced" in broken(
        placement, artwork=square(80), width=square(80).width, height=square(80).height
    )
    assert "its artwork" in broken(placement, width=100.0)


def test_the_check_counts_marks_and_sees_labels_far_apart() -> None:
    from msgspec.structs import replace

    placement = put(Solid.box(900, 400, 400), label("3"), label("8"))
    with pytest.raises(Misplaced, match="stands 0 times, 1 were asked for"):
        verify(replace(placement, items=placement.items[1:]), [p.requirement for p in placement.items], AIR)
    # 49 CFR 172.406(c): within 150 mm; here 200 mm
    assert "more than 150 mm apart" in broken(placement, x=placement.items[1].box.right + 200)


def test_the_check_sees_a_mark_on_a_keep_clear_area_and_arrows_that_are_not_opposite() -> None:
    from msgspec.structs import replace

    placement = put(BOX, ARROWS)
    clear = replace(placement, keep_clear=(Area(Face.RIGHT, Box(0, 0, 285, 310), "handle"),))
    with pytest.raises(Misplaced, match="overlap"):
        verify(clear, [ARROWS], AIR)
    assert "no two opposite upright faces" in broken(placement, face=Face.FRONT)


def test_labels_far_from_the_one_that_is_there_are_told() -> None:
    """Near each other: UN Model Regulations 5.2.2.1.6 (from memory); within 150 mm on the same surface, 49 CFR 172.406(c)."""
    there = [There("hazard-label", "3", Face.BACK, Box(20, 100, 142, 142))]

    def told(solid: Solid, **more: object) -> list[str]:
        asked = (label("3", preprinted=True), label("8"), NUMBER)
        return [one.text for one in put(solid, *asked, there=there, **more).findings if one.code == "labels-apart"]

    wide = Solid.box(1200, 400, 400)
    assert told(wide) == []
    full = [Area(Face.BACK, Box(165, 0, 700, 400), "window"), Area(Face.BACK, Box(0, 245, 165, 155), "window"),
            Area(Face.BACK, Box(0, 0, 165, 97), "window")]  # fmt: skip
    (text,) = told(wide, keep_clear=full)
    assert "no room within 150 mm of the label that is there already" in text


def test_a_mark_that_is_there_and_asked_for_by_nobody_is_told() -> None:
    found = put(BOX, label("3"), there=[There("battery"), There("overpack", None, Face.BACK, Box(0, 0, 90, 40))])
    (note,) = [one for one in found.findings if one.code == "place-not-stated"]
    assert "Already there but not asked for, place not stated: battery." in note.text


def test_modes_of_the_call_count_where_a_requirement_has_none() -> None:
    bare = label("3", modes=())
    assert place(Solid.box(130, 130, 130), [bare], (Mode.AIR,), forms=forms).refused
    assert not place(Solid.box(130, 130, 130), [bare], (Mode.ROAD,), forms=forms).refused


def test_level_names() -> None:
    assert put(Solid.box(50, 50, 50), label("3")).findings[-1].level is Level.REFUSE
