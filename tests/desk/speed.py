"""How quick the desk is: ``python -m tests.desk.speed`` measures and prints.

Start: from ``sixface desk`` to the first page answered. Typing: from a key that is pressed in the clerk's form to the answer
in the page, in a browser, on every example record.
"""

from __future__ import annotations

import shutil
import statistics
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from typing import Any

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


def main() -> None:
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        records = sorted((ROOT / "examples").glob("*.yaml"))
        for path in records:
            shutil.copy(path, folder)
        starts = [start_seconds(folder) for _ in range(5)]
        print(
            f"start to first answer: best {min(starts):.2f} s, median {statistics.median(starts):.2f} s of {len(starts)}"
        )
        process, url = begin(folder)
        try:
            with sync_playwright() as play:
                browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
                page = browser.new_context(base_url=url, viewport={"width": 1440, "height": 900}).new_page()
                for path in records:
                    words = []
                    for field in FIELDS:
                        found = typing_milliseconds(page, path.name, field)
                        words.append(
                            f"{field[2:]} median {statistics.median(found):4.0f} ms, worst {max(found):4.0f} ms"
                        )
                    print(f"typing to answer: {'; '.join(words)}  {path.name}")
                browser.close()
        finally:
            end(process)


if __name__ == "__main__":
    sys.exit(main())
