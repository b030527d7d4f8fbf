"""The wider fonts of the extra ``fonts``: what sets a line that has a letter Fira Sans lacks.

FiraGO, its wider relation, has the Georgian letters; Noto Sans has the Armenian ones. With Latin, Greek and Cyrillic those
are the scripts in living use that the Unicode Standard files under Europe (chapter 7, Europe-I). Both fonts: OFL 1.1.
"""

from __future__ import annotations

import io
from functools import cache
from importlib.util import find_spec
from typing import Any

#: What stands in for each of our fonts, in the order they are asked.
STAND_INS = {
    "regular": ("wide", "wide-armenian"),
    "bold": ("wide-bold", "wide-armenian-bold"),
    "condensed": ("wide-bold", "wide-armenian-bold"),
    "condensed-regular": ("wide", "wide-armenian"),
}
_FIRA_GO = {"wide": "figo", "wide-bold": "figbo"}
_WEIGHTS = {"wide-armenian": ("Regular", 400), "wide-armenian-bold": ("Bold", 700)}
WIDER = (*_FIRA_GO, *_WEIGHTS)
#: Scripts that are set letter after letter; others need shaping or run from the right, which no writer here does.
PLAIN_SCRIPTS = ("LATIN", "GREEK", "CYRILLIC", "GEORGIAN", "ARMENIAN")
#: What an Armenian line needs besides its own letters: Latin ones, figures and the marks between them.
_BESIDES = (*range(0x20, 0x250), *range(0x2010, 0x2023))


@cache
def wider_fonts() -> bool:
    """Whether the extra ``fonts`` is installed."""
    return all(find_spec(name) is not None for name in ("pymupdf_fonts", "manimgx_fonts"))


@cache
def wide_file(font: str) -> bytes:
    """The TrueType file of a wider font. KeyError for a font that is none of ``WIDER``."""
    if font in _FIRA_GO:
        from pymupdf_fonts import myfont

        return bytes(myfont(_FIRA_GO[font]))
    return _armenian(*_WEIGHTS[font])


def _armenian(style: str, weight: int) -> bytes:
    """Noto Sans keeps its Armenian letters in a file of their own, and both files in all weights at once; a line is set
    in one font, so the two are joined at one weight."""
    from fontTools.merge import Merger
    from fontTools.misc.timeTools import timestampFromString

    joined = Merger().merge(
        [_part("NotoSans[wght].ttf", weight, _BESIDES), _part("NotoSansArmenian[wght].ttf", weight)]
    )
    joined.recalcTimestamp = False  # the same bytes today and tomorrow
    for record in joined["name"].names:
        if record.nameID == 6:
            record.string = f"NotoSansArmenian-{style}"
    joined["head"].created = joined["head"].modified = timestampFromString("Sat Sep 26 00:00:00 2026")
    file = io.BytesIO()
    joined.save(file)
    return file.getvalue()


def _part(name: str, weight: int, codes: tuple[int, ...] = ()) -> io.BytesIO:
    """One file's letters at one weight, without what only shaping or a screen needs."""
    from importlib.resources import files

    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont
    from fontTools.varLib.instancer import instantiateVariableFont

    font: Any = TTFont(io.BytesIO(files("manimgx_fonts").joinpath(name).read_bytes()))
    options = Options(hinting=False, notdef_outline=True, layout_features=[])
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "STAT"]
    subset = Subsetter(options)
    subset.populate(unicodes=codes or tuple(font.getBestCmap()))
    subset.subset(font)
    file = io.BytesIO()
    instantiateVariableFont(font, {"wght": weight}).save(file)
    file.seek(0)
    return file
