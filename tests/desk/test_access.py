"""Everybody can use it: axe-core on every view, small and large windows, print, no colour."""

from __future__ import annotations

import os
import shutil
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.desk.conftest import ROOT, Desk, answered

VIEWS = {
    "records": "/",
    "clerk, empty": "/clerk",
    "clerk": "/clerk?record=isopropanol-three-modes.yaml",
    "clerk, refused": "/clerk?record=drain-cleaner-refused.yaml",
    "packer, which": "/packer?record=tool-batteries.yaml",
    "packer, pack": "/packer?record=isopropanol-three-modes.yaml&package=A",
    "packer, face": "/packer?record=isopropanol-three-modes.yaml&package=A&at=front",
    "packer, drum": "/packer?record=xylenes-drum.yaml&package=A&at=front",
    "packer, end": "/packer?record=isopropanol-three-modes.yaml&package=A&at=end",
    "trainer": "/trainer?record=paint-limited-quantity.yaml",
    "quiz": "/quiz?record=paint-limited-quantity.yaml",
}


@cache
def axe() -> str:
    """The text of axe-core; the test is skipped where it is not installed."""
    places = [os.environ.get("SIXFACE_AXE", ""), str(ROOT / "node_modules/axe-core/axe.min.js")]
    if npm := shutil.which("npm"):
        found = subprocess.run([npm, "root", "-g"], capture_output=True, text=True, check=False).stdout.strip()
        places.append(f"{found}/axe-core/axe.min.js")
    for place in places:
        if place and Path(place).is_file():
            return Path(place).read_text("utf-8")
    pytest.skip("axe-core is not installed: the views are not examined by it (npm install -g axe-core, or SIXFACE_AXE)")


def examine(page: Any) -> list[str]:
    """What axe-core finds serious or critical, a line each."""
    page.evaluate(axe())
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    return [
        f"{one['impact']}: {one['id']}: {one['help']}: {one['nodes'][0]['html'][:150]}"
        for one in found
        if one["impact"] in ("serious", "critical")
    ]


@pytest.fixture
def open_page(browser: Any, desk: Desk) -> Any:
    """Opens a view in a window of a width; axe-core needs the page's own policy out of its way."""
    contexts = []

    def opened(path: str, width: int = 1440, **more: Any) -> Any:
        context = browser.new_context(
            viewport={"width": width, "height": 850}, base_url=desk.url, bypass_csp=True, **more
        )
        contexts.append(context)
        page = context.new_page()
        page.goto(path)
        page.wait_for_load_state()
        return page

    yield opened
    for context in contexts:
        context.close()


def test_axe_would_find_it(open_page: Any) -> None:
    """A test of the test."""
    page = open_page("/")
    page.evaluate("document.querySelector('main').innerHTML = '<input><p id=a>a</p><img src=x>'")
    assert any("label" in one for one in examine(page))


@pytest.mark.parametrize("view", VIEWS)
def test_axe_finds_nothing_serious(open_page: Any, view: str) -> None:
    assert examine(open_page(VIEWS[view])) == []
    assert examine(open_page(VIEWS[view], 360)) == []


def test_axe_finds_nothing_serious_while_the_page_is_used(open_page: Any) -> None:
    """Faults shown, entries open, answers of a quiz shown."""
    page = open_page(VIEWS["clerk"])
    page.get_by_label("Gross mass of one").fill("heavy")
    answered(page)
    number = page.get_by_role("combobox", name="UN number, or a part of the name")
    number.press("ControlOrMeta+a")
    number.press_sequentially("paint")
    page.locator(".entry [role=option]").first.wait_for()
    page.keyboard.press("ArrowDown")
    assert examine(page) == []
    page = open_page(VIEWS["quiz"])
    page.get_by_role("button", name="Show the marks").click()
    page.locator("#score").wait_for()
    assert examine(page) == []


@pytest.mark.parametrize("view", VIEWS)
def test_no_view_is_wider_than_its_window(open_page: Any, view: str) -> None:
    page = open_page(VIEWS[view])
    for width in (360, 820, 1920):
        page.set_viewport_size({"width": width, "height": 850})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, width


def test_at_360_px_what_is_pressed_is_large_enough(open_page: Any) -> None:
    """24 by 24 CSS px: WCAG 2.2, 2.5.8 (links in sentences are exempt)."""
    for view in ("clerk", "packer, face", "trainer"):
        page = open_page(VIEWS[view], 360)
        small = page.evaluate("""() => [...document.querySelectorAll("button, select, input:not([type=hidden]), textarea")]
            .filter((one) => one.offsetParent)
            .map((one) => [one.name || one.textContent, (one.closest("label.tick") || one).getBoundingClientRect()])
            .filter(([, box]) => box.width < 24 || box.height < 24).map(([name]) => name)""")
        assert small == [], view


def test_on_paper_the_answer_stands_and_the_buttons_do_not(open_page: Any) -> None:
    page = open_page(VIEWS["clerk"])
    page.emulate_media(media="print")
    assert page.get_by_text("Marks and labels").is_visible() and page.locator("#strip").is_visible()
    assert not page.get_by_role("button", name="Save the record").is_visible()
    page = open_page(VIEWS["packer, face"])
    page.emulate_media(media="print")
    assert page.locator("svg.face.wide").is_visible() and page.locator(".place").first.is_visible()


def test_nothing_hangs_on_colour(open_page: Any) -> None:
    """Outside the drawings every colour of the page is a grey, or nearly one: what is told is told otherwise."""
    for view in ("clerk, refused", "packer, face", "trainer"):
        page = open_page(VIEWS[view])
        colours = page.evaluate("""() => [...new Set([...document.querySelectorAll("body, body *:not(svg, svg *)")]
            .flatMap((one) => { const s = getComputedStyle(one);
              return [s.color, s.backgroundColor, s.borderTopColor, s.borderLeftColor, s.outlineColor]; }))]""")
        for colour in colours:
            numbers = [float(one) for one in colour[colour.index("(") + 1 : -1].split(",")[:3]]
            assert max(numbers) - min(numbers) <= 16, (view, colour)
