"""Measures the four fonts and writes ``letters.json``, so that measuring a text at run time loads no font library.

Run it after changing the fonts' versions:  python -m layouts.letters_build
"""

from __future__ import annotations

import json
import string
from pathlib import Path
from typing import Any

from layouts.letters import METRICS, font_file
from layouts.pen import FONTS


def measured(font: str) -> dict[str, Any]:
    """The metrics of one font in font units: em, cap, least, ascent, descent and the advances as runs of code points.

    cap: the height of H. least: the height of the lowest of A-Z and 0-9 (its own box, top to bottom): whoever promises
    a letter height promises it of that one. advances: [first code point, [advance, ...]] for every unbroken run.
    """
    from fontTools.ttLib import TTFont

    with TTFont(font_file(font)) as ttf:
        glyphs, cmap, advance = ttf["glyf"], ttf.getBestCmap(), ttf["hmtx"]

        def height(letter: str) -> int:
            glyph = glyphs[cmap[ord(letter)]]
            return int(glyph.yMax - glyph.yMin)

        runs: list[tuple[int, list[int]]] = []
        for code in sorted(cmap):
            if not runs or runs[-1][0] + len(runs[-1][1]) != code:
                runs.append((code, []))
            runs[-1][1].append(advance[cmap[code]][0])
        return {
            "name": str(ttf["name"].getDebugName(6)),
            "em": ttf["head"].unitsPerEm,
            "cap": height("H"),
            "least": min(map(height, string.ascii_uppercase + string.digits)),
            "ascent": ttf["hhea"].ascent,
            "descent": ttf["hhea"].descent,
            "advances": runs,
        }


def text() -> str:
    """The whole file, one run of code points a line: a new version of the fonts shows as a readable difference."""
    out = []
    for font in FONTS:
        facts = measured(font)
        runs = facts.pop("advances")
        head = json.dumps(facts)[1:-1]
        body = ",\n".join(json.dumps(run, separators=(",", ":")) for run in runs)
        out.append(f'"{font}": {{{head}, "advances": [\n{body}\n]}}')
    return "{\n" + ",\n".join(out) + "\n}\n"


if __name__ == "__main__":
    Path(METRICS).write_text(text(), encoding="ascii")
