"""The trainer: a quantity crosses a limit and the answers turn; the quiz hides them first."""

from __future__ import annotations

from typing import Any

from tests.desk.conftest import Desk, answered


def cell(page: Any, mark: str, mode: str) -> Any:
    row = page.locator("tr").filter(has=page.locator("th").get_by_text(mark, exact=True))
    return row.locator(f"td[data-mode='{mode}']")


def test_over_the_passenger_limit_the_label_appears_with_its_paragraph(page: Any, desk: Desk) -> None:
    """UN 1219 in full: 5 L a package on passenger aircraft, 60 L on cargo aircraft: 49 CFR 172.101, columns 9A and 9B."""
    page.goto("/trainer?record=isopropanol-three-modes.yaml")
    count = page.get_by_label("How many of them", exact=True)
    count.fill("5")
    page.get_by_text("Cargo aircraft only vanishes: Air").wait_for()
    assert "not asked for" in cell(page, "Cargo aircraft only", "Air").inner_text()
    count.fill("6")
    page.get_by_text("Cargo aircraft only appears: Air").wait_for()
    said = cell(page, "Cargo aircraft only", "Air").inner_text()
    assert "asked for" in said and "not asked" not in said and "49 CFR 172.101" in said
    assert "new" in said  # told by a word, not by a colour
    assert "ICAO TI 5;3.2.9" in page.locator("#changes").inner_text()


def test_the_slider_stops_at_a_limit_and_just_over_it(page: Any, desk: Desk) -> None:
    """UN 1263 III: 5 L an inner packaging as a limited quantity: ADR Table A column 7a."""
    page.goto("/trainer?record=paint-limited-quantity.yaml")
    page.get_by_label("How many of them", exact=True).fill("2")  # well under the 30 kg of ADR 3.4.2
    answered(page)
    slider = page.get_by_role("slider", name="Each inner packaging holds, moved")
    field = page.get_by_label("Each inner packaging holds", exact=True)
    slider.focus()
    seen = {}
    for _ in range(40):
        page.keyboard.press("ArrowRight")
        answered(page)
        seen[field.input_value()] = page.locator("#changes .now").inner_text()
        if field.input_value() == "5.01 L":
            break
    assert "5 L" in seen and "5.01 L" in seen
    assert "MAY GO" in seen["5 L"].split("Sea")[0] and "MAY NOT GO" in seen["5.01 L"].split("Sea")[0]
    assert slider.get_attribute("aria-valuetext") == "5.01 L"


def test_a_rung_of_the_ladder_sets_the_quantity(page: Any, desk: Desk) -> None:
    page.goto("/trainer?record=paint-limited-quantity.yaml")
    page.locator(".rungs li", has_text="limited quantity by air, per inner").get_by_role("button").click()
    page.locator("#t-holds[value='0.5 L']").wait_for()
    assert page.get_by_label("Each inner packaging holds", exact=True).input_value() == "0.5 L"
    assert page.get_by_text("this package, per inner packaging").is_visible()


def test_another_packaging_takes_its_mark_and_shape_along_and_says_so(page: Any, desk: Desk) -> None:
    page.goto("/trainer?record=isopropanol-three-modes.yaml")
    page.get_by_label("Packaging", exact=True).select_option("1A2")
    page.locator("#followed").wait_for()
    said = page.locator("#followed").inner_text()
    assert "1A2/Y24" in said and "round" in said
    assert "1A2" in page.locator("pre").first.text_content()


def test_what_cannot_be_read_is_said_and_the_last_answer_does_not_stay(page: Any, desk: Desk) -> None:
    page.goto("/trainer?record=isopropanol-three-modes.yaml")
    page.get_by_label("Each inner packaging holds", exact=True).fill("a lot")
    page.locator("#faults").wait_for()
    assert "holds" in page.locator("#faults").inner_text() and page.locator("#compared").count() == 0
    page.complaints.clear()  # the browser names the 422


def test_the_quiz_hides_the_marks_until_asked(page: Any, desk: Desk) -> None:
    page.goto("/quiz?record=isopropanol-three-modes.yaml&package=A")
    assert page.locator("main svg").count() == 0 and page.locator("main cite").count() == 0
    air = page.get_by_role("region", name="Air")
    air.get_by_label("Cargo aircraft only").check()
    air.get_by_label("it may", exact=True).check()
    air.get_by_label("Limited quantity", exact=True).check()
    page.get_by_role("button", name="Show the marks").click()
    page.locator("#score").wait_for()
    right = air.locator("li", has=page.get_by_label("Cargo aircraft only"))
    assert "right" in right.inner_text() and "ICAO TI 5;3.2.9" in right.inner_text()
    wrong = air.locator("li", has=page.get_by_label("Limited quantity", exact=True))
    assert "too many" in wrong.inner_text()
    missed = page.get_by_role("region", name="Road").locator("li", has=page.get_by_label("Hazard label 3"))
    assert "missed" in missed.inner_text() and missed.locator("svg").count() == 1


def test_every_example_has_its_trainer_and_quiz(page: Any, desk: Desk) -> None:
    for path in sorted(desk.folder.glob("*.yaml")):
        for kind in ("trainer", "quiz"):
            answer = page.request.get(f"/{kind}?record={path.name}")
            assert answer.status == 200, path.name
