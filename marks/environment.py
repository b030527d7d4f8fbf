"""Whether a content counts as hazardous to the environment, and the 5 L / 5 kg relief.

Shared by the rules, by step 2 and by the line for the transport document.
"""

from __future__ import annotations

from marks.case import Case, Content
from marks.quantity import is_volume, show, to
from marks.tables import limit
from marks.terms import State

#: The two entries that exist for the environment alone.
BY_ENTRY = ("3077", "3082")


def hazardous(content: Content) -> bool:
    """Hazardous to the environment by its entry, by the record, else by the list (49 CFR 172.101 Appendix B)."""
    if content.entry.un in BY_ENTRY:
        return True
    stated = content.goods.environmentally_hazardous
    return content.entry.marine_pollutant != "no" if stated is None else stated


def small(content: Content, case: Case) -> str | None:
    """ "4 x 1 L glass bottle, up to 5 L" where each inner (or the single) packaging is within the relief; else None.

    A liquid is held against 5 L and a solid against 5 kg: a liquid given in kilograms is not within the relief, for its
    volume is not known.
    """
    inner = content.goods.inner
    quantity = inner.holds if inner else content.net
    kind = "liquid" if is_volume(quantity) else "solid"
    if content.state in (State.LIQUID, State.SOLID) and content.state != kind:
        return None
    most = limit("environment", kind, case.on)
    if to(quantity, most.unit) > most.value:
        return None
    return f"{content.inner_text if inner else show(quantity)}, up to {most.text}"
