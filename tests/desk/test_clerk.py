"""The clerk, from an empty form to a printed sheet."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.desk.conftest import ROOT, Desk, answered


def fill_isopropanol(page: Any) -> None:
    """A whole record, typed into an empty form: invented firms."""
    page.goto("/clerk")
    page.get_by_label("Your reference").fill("FK-1")
    page.get_by_label("Day it is offered").fill("2026-11-25")
    for mode in ("road", "sea", "air"):
        page.get_by_label(mode, exact=True).check()
    for party, name, line, country in (
        ("Shipper", "Fjellvik Kjemi", "Ingensteds 1", "NO"), ("Consignee", "Nirgendwo GmbH", "Umweg 2", "DE"),
    ):  # fmt: skip
        group = page.get_by_role("group", name=party)
        group.get_by_label("Name").fill(name)
        group.get_by_label("Address, a line each").fill(line)
        group.get_by_label("Country").select_option(country)
    page.get_by_label("Packaging", exact=True).fill("4G")
    for name, value in (("Length", "400 mm"), ("Width", "300 mm"), ("Height", "330 mm")):
        page.get_by_role("group", name="Outside").get_by_label(name).fill(value)
    page.get_by_label("Gross mass of one").fill("6 kg")
    page.get_by_label("Specification mark on it").fill("4G/Y24/S/26/N/NP-2207")
    number = page.get_by_role("combobox", name="UN number, or a part of the name")
    number.press_sequentially("isopropanol", delay=15)
    page.locator(".entry [role=option]").first.wait_for()
    number.press("ArrowDown")
    number.press("Enter")
    answered(page)
    inner = page.get_by_role("group", name="Inner packagings")
    inner.get_by_label("How many").fill("4")
    inner.get_by_label("Each holds", exact=True).fill("1 L")
    inner.get_by_label("What they are").fill("glass bottle")
    inner.get_by_label("Absorbent round them, for").select_option("full")
    page.get_by_text("Nothing is missing").wait_for()
    answered(page)


def test_from_an_empty_form_to_a_pdf_whose_text_is_read_back(page: Any, desk: Desk) -> None:
    fill_isopropanol(page)
    strip = page.locator("#strip")
    strip.get_by_text("MAY GO", exact=True).nth(2).wait_for()
    assert strip.get_by_text("MAY GO", exact=True).count() == 3
    answer = page.locator(".answer")
    answer.get_by_text("Hazard label 3").wait_for()
    answer.get_by_text("Orientation arrows").first.wait_for()
    with page.expect_download() as got:
        page.get_by_role("button", name="Diagrams and checklists, PDF").click()
    assert got.value.suggested_filename == "FK-1-packing.pdf"
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(got.value.path()).pages)
    assert "FK-1" in text and "UN 1219" in text and "Fjellvik Kjemi" in text
    with page.expect_download() as got:
        page.get_by_role("button", name="Black marks, PDF").click()
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(got.value.path()).pages)
    assert "ISOPROPANOL" in text and "Nirgendwo GmbH" in text


def test_plan_record_and_drawings_can_be_taken_along(page: Any, desk: Desk) -> None:
    page.goto("/clerk?record=isopropanol-three-modes.yaml")
    with page.expect_download() as got:
        page.get_by_role("button", name="The plan, JSON").click()
    plan = json.loads(Path(got.value.path()).read_text("utf-8"))
    from layouts.job import plan_file, plan_json

    assert plan == plan_json(plan_file(ROOT / "examples/isopropanol-three-modes.yaml"))  # what shows is what prints
    with page.expect_download() as got:
        page.get_by_role("button", name="All sheets, SVG").click()
    names = zipfile.ZipFile(io.BytesIO(Path(got.value.path()).read_bytes())).namelist()
    assert names and all(name.startswith("HD-26-0101-") and name.endswith(".svg") for name in names)


def test_the_papers_say_what_the_command_line_says(page: Any, desk: Desk) -> None:
    from layouts.job import plan_file
    from marks.papers import papers

    page.goto("/clerk?record=isopropanol-three-modes.yaml")
    with page.expect_download() as got:
        page.get_by_role("button", name="What the papers carry, PDF").click()
    text = " ".join(" ".join(sheet.extract_text() for sheet in PdfReader(got.value.path()).pages).split())
    for paper in papers(plan_file(ROOT / "examples/isopropanol-three-modes.yaml").decided):
        for line in paper.lines:
            assert line.description in text


def test_what_is_saved_is_the_same_record_and_keeps_its_opening_words(page: Any, desk: Desk) -> None:
    from marks.reading import digest, read_record

    name = "laboratory-mixed-package.yaml"
    page.goto(f"/clerk?record={name}")
    page.get_by_role("button", name="Save the record").click()
    page.get_by_text("Saved.").wait_for()
    saved, first = desk.folder / name, ROOT / "examples" / name
    assert digest(read_record(saved)) == digest(read_record(first))
    assert saved.read_text("utf-8").splitlines()[0] == first.read_text("utf-8").splitlines()[0]


def test_another_record_of_that_name_is_not_written_over_unasked(page: Any, desk: Desk) -> None:
    page.goto("/clerk?record=xylenes-drum.yaml")
    before = (desk.folder / "hairspray-aerosols.yaml").read_bytes()
    page.get_by_label("File name in the folder").fill("hairspray-aerosols.yaml")
    page.get_by_role("button", name="Save the record").click()
    page.get_by_text("is there already").wait_for()
    assert (desk.folder / "hairspray-aerosols.yaml").read_bytes() == before
    assert page.get_by_label("Your reference").input_value() == "HD-26-0107"  # nothing typed is lost
    page.complaints.clear()  # the browser names the 409
    page.get_by_label("Replace what is there").check()
    page.get_by_role("button", name="Save the record").click()
    page.get_by_text("Saved.").wait_for()
    assert b"HD-26-0107" in (desk.folder / "hairspray-aerosols.yaml").read_bytes()


def test_a_fault_stands_beside_its_field_in_the_words_of_the_command_line(page: Any, desk: Desk) -> None:
    page.goto("/clerk?record=isopropanol-three-modes.yaml")
    field = page.get_by_label("Gross mass of one")
    field.fill("17.2")
    fault = page.locator("#f-packages-0-gross_mass-said .fault")
    fault.wait_for()
    text = (desk.folder / "isopropanol-three-modes.yaml").read_text("utf-8").replace("17.2 kg", "17.2")
    (desk.folder / "broken.yaml").write_text(text, "utf-8")
    from layouts.job import plan_file
    from marks.errors import RecordError

    with pytest.raises(RecordError) as told:
        plan_file(desk.folder / "broken.yaml")
    (only,) = told.value.faults
    assert fault.inner_text() == f"{only.read}; {only.why}; {only.write}"
    assert field.get_attribute("aria-invalid") == "true" and field.input_value() == "17.2"
    assert page.locator("#summary a").get_attribute("href") == "#f-packages-0-gross_mass"
    field.fill("17.2 kg")
    fault.wait_for(state="detached")
    assert page.locator("#summary").count() == 0


def test_only_what_the_entry_asks_for_is_asked(page: Any, desk: Desk) -> None:
    page.goto("/clerk?record=isopropanol-three-modes.yaml")
    asked = page.locator("#f-packages-0-goods-0")
    assert asked.get_by_label("Technical name", exact=True).count() == 0
    number = page.get_by_role("combobox", name="UN number, or a part of the name")
    number.fill("1993")  # a collective entry in three packing groups: ADR 3.1.2.8, SP 274 asks for a technical name
    group = asked.get_by_label("Packing group")
    group.wait_for()
    answered(page)
    group.select_option("II")
    answered(page)
    for name in ("Proper shipping name", "Line of the list"):
        choice = asked.get_by_label(name)
        if choice.count():
            choice.select_option(index=1)
            answered(page)
    asked.get_by_label("Technical name", exact=True).wait_for()
    asked.get_by_label("Technical name", exact=True).fill("butanone")
    page.locator(".answer").get_by_text("BUTANONE").or_(
        page.locator(".answer").get_by_text("butanone")
    ).first.wait_for()


def test_a_broken_file_opens_as_text_with_its_lines(page: Any, desk: Desk) -> None:
    page.goto("/clerk")
    page.get_by_label("A file from elsewhere, YAML or JSON").set_input_files(
        ROOT / "tests/bad_records/misspelt-key.yaml"
    )
    page.get_by_role("button", name="Read it").click()
    text = page.get_by_label("The record as text")
    text.wait_for()
    from marks.errors import RecordError
    from marks.reading import read_text

    with pytest.raises(RecordError) as told:
        read_text((ROOT / "tests/bad_records/misspelt-key.yaml").read_bytes(), "record")
    shown = page.locator("#text-said .fault").all_inner_texts()
    assert shown == [str(fault) for fault in told.value.faults]


def test_a_row_is_added_and_taken_away_and_the_form_goes_to_text_and_back(page: Any, desk: Desk) -> None:
    page.goto("/clerk?record=xylenes-drum.yaml")
    page.get_by_role("button", name="Another package").click()
    second = page.get_by_role("group", name="Package B")
    second.wait_for()
    answered(page)
    assert page.evaluate("document.activeElement.closest('fieldset').id") == "f-packages-1"  # where one goes on
    second.get_by_role("button", name="Take Package B away").click()
    second.wait_for(state="detached")
    page.get_by_role("button", name="Write it as text").click()
    text = page.get_by_label("The record as text")
    text.wait_for()
    assert "reference: HD-26-0107" in text.input_value()
    text.fill(text.input_value().replace("HD-26-0107", "HD-26-0999"))
    answered(page)
    page.get_by_role("button", name="Write it in the form").click()
    page.get_by_label("Your reference").wait_for()
    assert page.get_by_label("Your reference").input_value() == "HD-26-0999"


def test_by_the_keyboard_alone(page: Any, desk: Desk) -> None:
    """Tab leads through every field in the order it is read; the list of entries opens, moves and closes by keys."""
    page.goto("/clerk")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    seen: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.name || document.activeElement.id || ''"))
    order = ["reference", "date", "modes", "shipper.name", "shipper.address", "consignee.name", "packages.0.packaging",
             "packages.0.size.length", "packages.0.gross_mass", "packages.0.goods.0.un", "packages.0.goods.0.net"]  # fmt: skip
    places = [seen.index(name) for name in order]
    assert places == sorted(places)
    number = page.get_by_role("combobox", name="UN number, or a part of the name")
    number.focus()
    page.keyboard.type("perfum", delay=15)
    page.locator(".entry [role=option]").first.wait_for()
    assert number.get_attribute("aria-expanded") == "true"
    page.keyboard.press("ArrowDown")
    active = number.get_attribute("aria-activedescendant")
    assert active and page.locator(f"#{active}").get_attribute("aria-selected") == "true"
    page.keyboard.press("Escape")
    assert number.get_attribute("aria-expanded") == "false"
    page.keyboard.press("ArrowDown")
    page.locator(".entry [role=option]").first.wait_for()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    answered(page)
    assert number.input_value() == "1266"


def test_an_entry_that_was_pointed_at_stays_so_when_more_is_found(page: Any, desk: Desk) -> None:
    """The answer to the last letter comes after the arrow key."""
    page.goto("/clerk")
    held: list[Any] = []
    page.route("**/entries?q=isopropanol", lambda route: held.append(route))
    number = page.get_by_role("combobox", name="UN number, or a part of the name")
    number.press_sequentially("isopropano", delay=15)
    page.locator(".entry [role=option]").first.wait_for()
    number.press("l")
    number.press("ArrowDown")
    active = page.locator(f"#{number.get_attribute('aria-activedescendant')}")
    keys = active.get_attribute("data-keys")
    with page.expect_response("**/entries?q=isopropanol"):
        held[0].continue_()
    page.wait_for_timeout(100)
    active = page.locator(f"#{number.get_attribute('aria-activedescendant')}")
    assert active.get_attribute("data-keys") == keys and active.get_attribute("aria-selected") == "true"
    number.press("Enter")
    answered(page)
    page.wait_for_function("document.querySelector('[data-entries]').value === '1219'")


def test_without_script_the_buttons_do_it(browser: Any, desk: Desk) -> None:
    context = browser.new_context(java_script_enabled=False, base_url=desk.url)
    page = context.new_page()
    page.goto("/clerk?record=xylenes-drum.yaml")
    page.get_by_label("Gross mass of one").fill("a lot")
    page.get_by_role("button", name="Answer").click()
    page.locator("#f-packages-0-gross_mass-said .fault").wait_for()
    assert page.locator("#f-packages-0-gross_mass-said .fault").count() == 1
    page.get_by_label("Gross mass of one").fill("200 kg")
    page.get_by_role("button", name="Answer").click()
    page.get_by_text("Nothing is missing").wait_for()
    context.close()
