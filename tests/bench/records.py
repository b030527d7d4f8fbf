"""Records for a batch, made from the examples: every one has its own reference and consignee, so none is drawn twice."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"

#: Nine records that may go, with 22 label and mark sheets between them: 2.4 a record.
MIXED = (
    "hairspray-aerosols",
    "jubilee-fireworks",
    "laboratory-mixed-package",
    "perfume-limited-quantity-by-air",
    "perfume-samples-excepted",
    "reagent-bottles-v-box",
    "xylenes-drum",
    "drain-acid-ibc",
    "isopropanol-three-modes",
)
#: The lightest of them, for ten thousand records in a few minutes.
LIGHT = ("perfume-samples-excepted",)


def write_records(folder: Path, count: int, of: tuple[str, ...] = MIXED, first: int = 1) -> Path:
    """``count`` records as YAML files in ``folder`` (made if missing), counted from ``first``; the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    texts = [(EXAMPLES / f"{name}.yaml").read_text("utf-8") for name in of]
    for n in range(first, first + count):
        text = re.sub(r"(?m)^reference: .*$", f"reference: B-{n:06}", texts[(n - 1) % len(texts)])
        text = re.sub(r"(?m)^(consignee:\n  name: )(.*)$", rf"\g<1>\g<2> {n}", text)
        (folder / f"{n:06}.yaml").write_text(text, "utf-8")
    return folder
