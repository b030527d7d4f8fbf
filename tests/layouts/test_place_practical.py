"""What is wished for beyond the law (own choice, common practice, no source), and the last steps for small and odd packages."""

from __future__ import annotations

from itertools import pairwise

import pytest
from msgspec.structs import replace

from layouts.exact import Unfinished, pack
from layouts.faces import Solid
from layouts.place import place
from layouts.placement import Placement
from marks.requirement import Requirement
from marks.terms import Face, Mode, PackageForm
from tests.layouts.checked import face_size
from tests.layouts.packages import a_package
from tests.layouts.placing_given import AIR, ARROWS, NAME, NUMBER, SURFACE, forms, label, need

TAPED = replace(Solid.box(600, 400, 400), taped=True)
US = (Mode.US_GROUND,)


def put(solid: Solid, *wanted: Requirement, modes: tuple[Mode, ...] = AIR) -> Placement:
    return place(solid, [replace(one, modes=modes) for one in wanted], modes, forms=forms)


# --- practical ---------------------------------------------------------------------------------------------------------


def test_labels_stand_on_one_foot_line_with_equal_gaps_of_at_least_five_millimetres() -> None:
    row = [p for p in put(TAPED, label("3"), label("6.1"), label("8"), NUMBER).items if p.artwork.side]
    assert len({(p.face, p.y) for p in row}) == 1
    gaps = {round(b.x - a.box.right, 3) for a, b in pairwise(row)}
    assert len(gaps) == 1 and gaps.pop() >= 5


def test_arrows_keep_clear_of_tape_and_hand_holes_and_say_so() -> None:
    arrows = [
        p
        for p in put(TAPED, label("3"), NUMBER, ARROWS).items
        if p.requirement is not None and p.face is not Face.FRONT
    ]
    assert {p.face for p in arrows} == {Face.LEFT, Face.RIGHT}
    for p in arrows:
        assert not any(area.box.overlaps(p.box) for area in TAPED.shunned() if area.face is p.face)
        assert "clear of tape and hand hole" in p.why_here


def test_over_the_tape_a_mark_stands_only_for_want_of_other_room_and_says_so() -> None:
    ends = replace(
        Solid.box(160, 90, 150), taped=True
    )  # the arrows need 37 x 52 mm; the tape leaves 15 mm on each side of it
    arrows = [p for p in put(ends, label("3"), ARROWS).items if p.requirement.mark == "orientation-arrows"]
    over = [any(area.box.overlaps(p.box) for area in ends.shunned() if area.face is p.face) for p in arrows]
    assert over == ["for want of other room" in p.why_here for p in arrows] == [True, True]


def test_the_room_left_for_the_carriers_label_is_free_and_large_enough() -> None:
    left = 0
    for seed in range(150):
        package = a_package(seed)
        placement = place(package.solid, package.wanted, forms=forms, keep_clear=package.clear)
        if placement.refused or placement.carrier is None:
            continue
        left += 1
        face, box = placement.carrier.face, placement.carrier.box
        width, height = face_size(placement, face.value)
        assert sorted((box.width, box.height)) == [105, 150]
        assert box.x >= 0 and box.right <= width and box.y >= 0 and box.top <= height
        assert not any(p.box.overlaps(box) for p in placement.on(face))
        assert not any(area.box.overlaps(box) for area in package.clear if area.face is face)
    assert left > 50


# --- cylinder, tag, refusal ---------------------------------------------------------------------------------------------

CYLINDER = Solid.drum(140, 800, PackageForm.CYLINDER)
SMALL = Solid.box(120, 90, 80)


def outcome(placement: Placement) -> tuple[set[str], list[str]]:
    return {p.face.value for p in placement.items}, [
        one.code for one in placement.findings if one.code != "carrier-label"
    ]


@pytest.mark.parametrize("modes", [SURFACE, AIR])
def test_a_slim_gas_cylinder_bears_its_label_on_the_shoulder(modes: tuple[Mode, ...]) -> None:
    """UN Model Regulations 5.2.2.2.1.2 with ISO 7225, from memory: of 140 mm across, a side of 15 mm at the least."""
    placement = put(CYLINDER, label("2.1"), NUMBER, NAME, modes=modes)
    assert outcome(placement) == ({"shoulder"}, ["shoulder-label"])
    assert placement.items[0].artwork.side >= 15  # type: ignore[operator]
    assert all(one.startswith(("ADR", "IMDG", "ICAO")) for one in placement.steps[-1].cite)


def test_by_us_law_a_cylinders_label_is_reduced_on_its_side() -> None:
    """49 CFR 172.407(c)(1)(i); its 172.400a(a)(1), a marking in place of the label, is not decided here."""
    faces, codes = outcome(put(CYLINDER, label("2.1"), NUMBER, modes=US))
    assert faces == {"front"} and "reduced-label" in codes


@pytest.mark.parametrize(
    ("solid", "modes", "cite"),
    [
        (Solid.box(600, 400, 500, PackageForm.IRREGULAR), SURFACE, "ADR 5.2.2.1.6 (from memory)"),
        (Solid.box(600, 400, 500, PackageForm.IRREGULAR), AIR, "ADR 5.2.2.1.6 (from memory)"),
        (Solid.box(600, 400, 500, PackageForm.IRREGULAR), US, "49 CFR 172.406(b)"),
        (SMALL, SURFACE, "ADR 5.2.2.1.6 (from memory)"),
        (SMALL, US, "49 CFR 172.406(b)"),
    ],
)
def test_what_has_no_face_for_a_label_gets_a_tag_with_its_paragraph(
    solid: Solid, modes: tuple[Mode, ...], cite: str
) -> None:
    placement = put(solid, label("3"), NUMBER, modes=modes)
    assert outcome(placement) == ({"tag"}, ["tag"])
    assert placement.steps[-1].cite[0] == cite and placement.items[0].artwork.side == 100


def test_by_air_a_small_package_gets_no_tag() -> None:
    """ICAO TI 5;3.2, from memory: a tag is for irregular shapes; a package is large enough for its labels (4;1.1)."""
    placement = put(SMALL, label("3"), NUMBER)
    assert placement.refused and "by air no label may hang on a tag here" in placement.findings[-1].text


def test_by_us_law_no_tag_on_a_package_larger_than_its_label_nor_for_radioactive_material() -> None:
    """49 CFR 172.406(b): no radioactive material, and dimensions less than those of the label."""
    taken = Solid.box(160, 160, 160, PackageForm.JERRICAN)
    assert (
        put(taken, *(label(v) for v in ("2.1", "3", "4.1", "5.1", "6.1", "8")), ARROWS, modes=US).working
        is not Face.TAG
    )
    assert put(SMALL, label("7-I"), NUMBER, modes=US).refused


def test_a_search_that_is_ended_never_passes_in_silence(monkeypatch: pytest.MonkeyPatch) -> None:
    def tired(pieces: list[list[tuple[int, int]]], *rest: object) -> object:
        if max(w for piece in pieces for w, _ in piece) > 1400:  # a label of full size
            raise Unfinished
        return pack(pieces, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr("layouts.told.pack", tired)
    placed = put(Solid.box(400, 300, 300), label("3"), modes=SURFACE)
    assert placed.items[0].artwork.side == 80 and "search-ended" in outcome(placed)[1]
    assert all("ended before every arrangement" in step.why_not for step in placed.steps[:-1])
    refused = put(Solid.box(400, 300, 300), label("3"))
    assert refused.refused and "ended before every arrangement" in refused.findings[-1].text


def test_every_step_that_the_law_must_allow_says_by_which_paragraph() -> None:
    for solid, modes in ((SMALL, SURFACE), (SMALL, US), (CYLINDER, AIR)):
        for step in put(solid, label("2.1"), label("3"), NUMBER, NAME, need("battery"), modes=modes).steps:
            if any(word in step.name for word in ("reduced", "tag", "shoulder", "apart", "third", "top")):
                assert step.cite or "gaps" in step.name, step.name
