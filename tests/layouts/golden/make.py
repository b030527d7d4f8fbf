"""The golden diagrams: ``python -m tests.layouts.golden.make [NAME ...]`` draws the first page of each anew.

Look at every picture before it is committed. ``test_golden.py`` draws them again and compares; ``STRANGER.md`` beside them
says what a reader without knowledge of the project read off each.
"""

from __future__ import annotations

import io
import sys
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from layouts.job import plan
from layouts.output import heading_of
from layouts.packing import packing_sheets
from layouts.planned import Planned
from layouts.sheet import Sheet
from layouts.stock import read_stock
from marks.reading import read_text
from tests.pictures import rendered

FOLDER = Path(__file__).parent
DPI = 72
#: What all records share.
HEAD: dict[str, Any] = {
    "record": "sixface/1",
    "date": "2026-12-03",
    "shipper": {
        "name": "Tangvik Prøveverk AS", "address": ["Ingenmannsvei 3", "5999 Fiktvik"], "country": "NO",
        "phone": "+47 00 00 00 20",
    },
    "consignee": {
        "name": "Fabulant Stoffe GmbH", "address": ["Am Erdachten Kai 8", "20999 Hamburg"], "country": "DE",
        "phone": "+49 00 000 000",
    },
    "emergency_phone": "+47 00 00 00 29",
}  # fmt: skip


@cache
def records() -> dict[str, str]:
    """Each record as a file would hold it."""
    found = yaml.safe_load((FOLDER / "records.yaml").read_text("utf-8"))
    return {
        name: yaml.safe_dump(HEAD | {"reference": f"GOLDEN-{n}"} | given, allow_unicode=True)
        for n, (name, given) in enumerate(found.items(), 1)
    }


@cache
def planned(name: str) -> Planned:
    return plan(read_text(records()[name], f"{name}.yaml", "yaml"))


@cache
def pages(name: str) -> tuple[Sheet, ...]:
    """All pages of the packer's; of an overpack's record, those of the overpack."""
    made = packing_sheets(planned(name), heading_of(planned(name), f"{name}.yaml"), read_stock("A4"))
    return tuple(sheet for sheet in made if sheet.page.title.startswith("Overpack") or "overpack" not in name)


def picture(name: str) -> Any:
    """The first page, the diagram, in greys and colours of print."""
    from layouts.draw import to_svg

    return rendered(to_svg(pages(name)[0]), DPI)


def packed(image: Any) -> bytes:
    out = io.BytesIO()
    image.quantize(32).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    for one in sys.argv[1:] or records():
        data = packed(picture(one))
        (FOLDER / f"{one}.png").write_bytes(data)
        print(f"{one}.png: {len(data) / 1000:.0f} kB")
