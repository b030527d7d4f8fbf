"""The journey: the union over the legs. A package is marked once, for all its legs."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from marks.case import listed
from marks.requirement import ModeDecision, Requirement
from marks.rule import merged
from marks.terms import Mode, VerdictWord


def journey(modes: Mapping[Mode, ModeDecision]) -> tuple[VerdictWord, tuple[Requirement, ...]]:
    """The verdict over all legs and the marks that are really printed.

    One refused leg refuses the journey. The limited quantity mark with the Y stands for the plain one on every leg (ADR
    3.4.8, IMDG 3.4.6, from memory; 49 CFR 172.315(a)), so where both are asked for only the Y is printed.
    """
    verdicts = {decision.verdict for decision in modes.values()}
    if VerdictWord.REFUSE in verdicts:
        verdict = VerdictWord.REFUSE
    elif verdicts == {VerdictWord.NOT_SUBJECT}:
        verdict = VerdictWord.NOT_SUBJECT
    else:
        verdict = VerdictWord.SHIP
    union = merged(requirement for mode in Mode if mode in modes for requirement in modes[mode].marks)
    by_air = next((one for one in union if one.mark == "limited-quantity-air"), None)
    plain = next((one for one in union if one.mark == "limited-quantity"), None)
    if by_air and plain:
        joined = merged([by_air, _as_air(plain)])[0]
        union = tuple(joined if one is by_air else one for one in union if one is not plain)
    return verdict, union


def _as_air(plain: Requirement) -> Requirement:
    by_mode = {Mode.ROAD: "ADR 3.4.8", Mode.SEA: "IMDG 3.4.6", Mode.US_GROUND: "49 CFR 172.315(a)"}
    accepting = [mode for mode in plain.modes if mode in by_mode]
    verb = "accepts" if len(accepting) == 1 else "accept"
    return replace(
        plain,
        mark="limited-quantity-air",
        why=f"{listed(accepting)} {verb} the mark with the Y in place of the plain one",
        cite=tuple(dict.fromkeys((*plain.cite, *(by_mode[mode] for mode in accepting)))),
    )
