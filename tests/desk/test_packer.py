"""The packer: face by face, ticks that stay, and the way from a sheet's code."""

from __future__ import annotations

import datetime
import re
from typing import Any

import pytest

from layouts.job import plan_file
from layouts.packing import particulars_of
from layouts.particulars import spoken
from tests.desk.conftest import Desk

RECORD = "isopropanol-three-modes.yaml"


def open_package(page: Any, record: str = RECORD, **more: str) -> None:
    page.goto("/packer?" + "&".join(f"{k}={v}" for k, v in {"record": record, "package": "A", **more}.items()))


def ticked(page: Any, number: int) -> None:
    """Wait until the page says that so many things are ticked on this package."""
    page.locator(".lead", has_text=re.compile(rf"· {number} of \d+ ticked")).wait_for()


def test_ticks_stay_over_a_reload_and_are_dated_beside_the_record(page: Any, desk: Desk) -> None:
    open_package(page, at="front")
    label = page.get_by_role("checkbox", name="Hazard label 3")
    with page.expect_response("**/packer/tick"):
        label.check()
    ticked(page, 1)
    page.reload()
    assert label.is_checked()
    (line,) = desk.log(RECORD)
    when = datetime.datetime.fromisoformat(line[0])
    assert abs((datetime.datetime.now().astimezone() - when).total_seconds()) < 60 and when.tzinfo is not None
    assert line[2:] == ["package A", "1", "mark.1", "done", "Hazard label 3, front"]
    with page.expect_response("**/packer/tick"):
        label.uncheck()
    ticked(page, 0)
    assert [row[5] for row in desk.log(RECORD)] == ["done", "undone"]
    assert plan_file(desk.folder / RECORD).digest.startswith(line[1])  # the record itself is as it was


def test_each_package_of_those_alike_has_its_own_ticks(page: Any, desk: Desk) -> None:
    open_package(page)
    with page.expect_response("**/packer/tick"):
        page.get_by_role("checkbox").first.check()
    ticked(page, 1)
    page.get_by_role("link", name="the next one").click()
    ticked(page, 0)
    page.goto(f"/packer?record={RECORD}")
    said = page.locator(".copies li").all_inner_texts()
    assert [one.rpartition(" of ")[0] for one in said] == ["1 of 2 1", "2 of 2 0"]


def test_every_mark_of_the_placement_has_its_place_in_words(page: Any, desk: Desk) -> None:
    """What the page says of a mark is what the plan says: the same numbers, the same millimetres."""
    placement = plan_file(desk.folder / RECORD).placements[0]
    for face in {item.face for item in placement.items}:
        open_package(page, at=face.value)
        said = [" ".join(one.split()) for one in page.locator(".place").all_inner_texts()]
        for item in placement.on(face):
            assert any(f"→ {item.x:.1f}".rstrip("0").rstrip(".") in one and f"↑ {item.y:g}" in one for one in said)
        shown = page.locator("svg.face:visible")
        assert shown.count() == 1 and f"The {face} of package A" in shown.get_attribute("aria-label")


def test_the_faces_come_by_as_the_package_is_turned(page: Any, desk: Desk) -> None:
    open_package(page)
    seen = []
    while page.locator(".onward .button").last.inner_text().startswith("Next: "):
        page.locator(".onward .button").last.click()
        seen.append(page.locator(".stations [aria-current]").get_attribute("class"))
        if seen[-1] == "at-left":
            assert page.get_by_text("Turn the package half way round: its left now faces you.").is_visible()
    assert seen == ["at-front", "at-right", "at-left", "at-end"]


def test_a_weighed_mass_above_the_record_stops_the_packer(page: Any, desk: Desk) -> None:
    open_package(page)
    page.get_by_label("Weighed").fill("17,9 kg")
    page.get_by_label("Weighed").press("Tab")
    page.get_by_text("More than the record says: 17.9 kg weighed, 17.2 kg in the record").wait_for()
    assert desk.log(RECORD)[-1][4:] == ["weighed", "weighed", "17.9 kg"]


def test_a_changed_record_keeps_no_ticks(page: Any, desk: Desk) -> None:
    open_package(page)
    with page.expect_response("**/packer/tick"):
        page.get_by_role("checkbox").first.check()
    ticked(page, 1)
    path = desk.folder / RECORD
    path.write_text(path.read_text("utf-8").replace("17.2 kg", "17.3 kg"), "utf-8")
    page.get_by_role("checkbox").nth(1).check()  # of the page that shows the record as it was
    page.get_by_text("The record has changed since this page was opened: nothing was ticked").wait_for()
    page.complaints.clear()  # the browser names the 409
    assert len(desk.log(RECORD)) == 1
    page.reload()
    ticked(page, 0)


def test_a_refused_package_has_nothing_to_tick(page: Any, desk: Desk) -> None:
    open_package(page, "drain-cleaner-refused.yaml")
    assert page.get_by_text("over the cargo aircraft limit of 30 L").is_visible()
    assert page.get_by_role("checkbox").count() == 0


@pytest.mark.parametrize("one_line", [False, True], ids=["as printed", "by a scanner that makes one line of it"])
def test_the_text_of_a_printed_code_opens_the_same_package(page: Any, desk: Desk, one_line: bool) -> None:
    name = "tool-batteries.yaml"
    planned = plan_file(desk.folder / name)
    package, decision = planned.record.packages[1], planned.decided.packages[1]
    about = particulars_of(planned.record, package, planned.digest, tuple(decision.modes), ())
    text = spoken(planned.placements[1], about)  # what diagram and checklist print as their code
    page.goto("/")
    field = page.get_by_label("The text of the sheet's code, scanned or pasted")
    field.fill(" ".join(text.split()) if one_line else text)
    if one_line:  # else the page opens it by itself when the digest is there
        page.get_by_role("button", name="Open the package").click()
    page.get_by_role("heading", name="Package B").wait_for()
    assert f"record={name}" in page.url and "package=B" in page.url


def test_a_code_of_another_state_of_the_record_is_told_apart(page: Any, desk: Desk) -> None:
    page.goto("/")
    page.get_by_label("The text of the sheet's code").fill(
        "HD-26-0101\npackage A, 2 pcs\nrecord 0123456789abcdef\nfront: x"
    )
    page.get_by_text("printed from another state of it").wait_for()
    page.complaints.clear()


def test_without_script_ticks_are_kept_by_a_button(browser: Any, desk: Desk) -> None:
    context = browser.new_context(java_script_enabled=False, base_url=desk.url)
    page = context.new_page()
    open_package(page, at="front")
    page.get_by_role("checkbox").first.check()
    page.get_by_role("button", name="Keep these ticks").click()
    ticked(page, 1)
    assert page.get_by_role("checkbox").first.is_checked()
    context.close()
