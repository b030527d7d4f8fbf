"""What a provision takes out of single rules: a mark that certain goods need not bear although their class has it.

Goods that are out of all the rules of a mode are told by ``marks.beyond.outside``; here one mark falls away.
"""

from __future__ import annotations

from marks.case import Case, Content
from marks.radioactive import UPRIGHT_ANYWAY, is_excepted, is_radioactive, type_of
from marks.terms import Mode

Reason = tuple[str, tuple[str, ...]]

_NAMELESS = {Mode.ROAD: "ADR 5.2.1.7.2", Mode.SEA: "IMDG 5.2.1.5.2", Mode.AIR: "ICAO TI 5;2.4.5"}
_UPRIGHT = {Mode.ROAD: "ADR 5.2.1.10.2 (d)", Mode.SEA: "IMDG 5.2.1.7.2 (d)", Mode.AIR: "ICAO TI 5;3.2.12"}
_TYPES = {Mode.ROAD: "ADR 6.1.1.1", Mode.SEA: "IMDG 6.1.1.1", Mode.AIR: "ICAO TI 6;1.1"}


def freed(mark: str, content: Content, case: Case) -> Reason | None:
    """Why this content does not ask for the mark, with the paragraphs; None where the rules decide.

    Paragraphs and reliefs of radioactive material from memory but for the arrows (49 CFR 172.312(c)(7)).
    """
    if is_radioactive(content) and case.mode in _NAMELESS:
        return _radioactive(mark, content, case.mode)
    return None


def _radioactive(mark: str, content: Content, mode: Mode) -> Reason | None:
    named = content.described_as()
    if mark == "proper-shipping-name" and is_excepted(content):
        return f"{named}: an excepted package bears its UN number and no name", (_NAMELESS[mode],)
    if mark == "net-quantity":
        return f"{named}: its activity stands on the label", ("ICAO TI 5;2.4.3",)
    if mark == "orientation-arrows" and type_of(content) in UPRIGHT_ANYWAY:
        return f"{named}: a package of type {type_of(content)} is tight in every position", (_UPRIGHT[mode],)
    if mark == "specification-mark":
        return f"{named}: its packaging is built by chapter 6.4 and shows its type", (_TYPES[mode],)
    return None
