"""How quick the desk is: ``python -m tests.bench desk`` measures and prints.

Start: from ``sixface desk`` to the first page answered. Typing: from a key that is pressed in the clerk's form to the answer
in the page, in a browser, on every example record.
"""

from __future__ import annotations

import shutil
import time
import urllib.request
from pathlib import Path
from typing import Any

from tests.bench.table import Part
from tests.desk.conftest import CHROMIUM, ROOT, begin, end


def start_seconds(folder: Path) -> float:
    """One start, to the first page."""
    began = time.perf_counter()
    process, url = begin(folder)
    try:
        with urllib.request.urlopen(f"{url}/", timeout=10) as answer:
            assert answer.status == 200 and answer.read()
        return time.perf_counter() - began
    finally:
        end(process)


#: What is typed into: the reference, which changes no drawing, and the shipper's name, which can change every one.
FIELDS = ("f-reference", "f-shipper-name")

#: Types a word into a field and waits until the text of the answer has it, within the page; milliseconds.
TYPE = """async (id) => {
  const field = document.getElementById(id);
  const text = () => document.querySelector(".as-text pre").textContent;
  const word = "K" + Math.random().toString().slice(2, 8);
  field.focus();
  field.value = word;
  const began = performance.now();
  field.dispatchEvent(new InputEvent("input", { bubbles: true }));
  while (!text().includes(word)) await new Promise((done) => setTimeout(done, 1));
  return performance.now() - began;
}"""


def typing_milliseconds(page: Any, record: str, field: str, times: int = 7) -> list[float]:
    """Key to answer, ``times`` over."""
    page.goto(f"/clerk?record={record}")
    page.wait_for_load_state()
    page.evaluate(TYPE, field)  # the first one loads what the following find
    return [page.evaluate(TYPE, field) for _ in range(times)]


def measure(scratch: Path, quick: bool) -> Part:
    """The desk's part of the bench: every example, or four of them."""
    from playwright.sync_api import sync_playwright

    part = Part("6 desk: start to the first page; typing, key to answer in headless Chromium")
    if CHROMIUM is None:
        part.notes.append("Chromium is not installed here: not measured.")
        return part
    records = sorted((ROOT / "examples").glob("*.yaml"))[:: 5 if quick else 1]
    for path in records:
        shutil.copy(path, scratch)
    part.row("start to first page", "ms", [start_seconds(scratch) * 1000 for _ in range(3 if quick else 5)], most=1000)
    typed: dict[str, list[float]] = {field: [] for field in FIELDS}
    process, url = begin(scratch)
    try:
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
            page = browser.new_context(base_url=url, viewport={"width": 1440, "height": 900}).new_page()
            for path in records:
                for field in FIELDS:
                    typed[field] += typing_milliseconds(page, path.name, field, 3 if quick else 5)
            browser.close()
    finally:
        end(process)
    for field, values in typed.items():
        part.row(f"typing in {field[2:]}, {len(records)} records", "ms", values, most=150)
    return part
