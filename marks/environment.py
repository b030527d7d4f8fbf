"""Whether a content counts as hazardous to the environment, and the 5 L / 5 kg relief. Shared by rules, step 2 and the paper."""

from __future__ import annotations

from marks.case import Case, Content
from marks.quantity import is_volume, show, to
from marks.tables import limit

#: The two entries that exist for the environment alone.
BY_ENTRY = ("3077", "3082")


def hazardous(content: Content) -> bool:
    """Hazardous to the environment by its entry, by the record, else by the list (49 CFR 172.101 Appendix B)."""
    if content.entry.un in BY_ENTRY:
        return True
    stated = content.goods.environmentally_hazardous
    return content.entry.marine_pollutant != "no" if stated is None else stated


def small(content: Content, case: Case) -> str | None:
    """ "4 x 1 L glass bottle, up to 5 L" where each inner (or the single) packaging is within the relief; else None."""
    inner = content.goods.inner
    quantity = inner.holds if inner else content.net
    most = limit("environment", "liquid" if is_volume(quantity) else "solid", case.on)
    if to(quantity, most.unit) > most.value:
        return None
    return f"{content.inner_text if inner else show(quantity)}, up to {most.text}"
