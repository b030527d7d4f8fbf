"""README's pictures of the desk: ``python -m tests.desk.screenshots`` makes them anew in ``examples/pictures``."""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from pathlib import Path
from typing import Any

from tests.desk.conftest import CHROMIUM, ROOT, answered, begin, end

PICTURES = ROOT / "examples" / "pictures"
#: So many shades are kept: the pages are ink on paper, but for the labels.
SHADES = 200


def clerk(page: Any) -> None:
    page.goto("/clerk?record=isopropanol-three-modes.yaml")
    page.evaluate("document.querySelector('#f-packages-0').scrollIntoView({block: 'start'})")


def packer(page: Any) -> None:
    page.goto("/packer?record=isopropanol-three-modes.yaml&package=A&at=front")
    for name in ("Hazard label 3", "Cargo aircraft only"):
        page.get_by_role("checkbox", name=name).check()
        answered(page)


def trainer(page: Any) -> None:
    page.goto("/trainer?record=isopropanol-three-modes.yaml")
    count = page.get_by_label("How many of them", exact=True)
    for number in ("5", "6"):
        count.fill(number)
        answered(page)
    page.get_by_text("Cargo aircraft only appears: Air").wait_for()


VIEWS = {"clerk": (clerk, 1280, 860), "packer": (packer, 1280, 860), "trainer": (trainer, 1280, 1240)}


def picture(page: Any) -> bytes:
    """What the window shows, as a small PNG."""
    from PIL import Image

    page.wait_for_load_state("networkidle")
    shown = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    out = io.BytesIO()
    shown.quantize(SHADES, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def main() -> None:
    from playwright.sync_api import sync_playwright

    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        for path in (ROOT / "examples").glob("*.yaml"):
            shutil.copy(path, name)
        process, url = begin(Path(name))
        try:
            with sync_playwright() as play:
                browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
                for view, (show, width, height) in VIEWS.items():
                    page = browser.new_context(
                        base_url=url, viewport={"width": width, "height": height}, locale="en-GB"
                    ).new_page()
                    show(page)
                    (PICTURES / f"desk-{view}.png").write_bytes(picture(page))
                    print(f"written: {PICTURES}/desk-{view}.png")
                browser.close()
        finally:
            end(process)


if __name__ == "__main__":
    sys.exit(main())
