"""The shipping description of 49 CFR 172.202, with the words 172.203 adds: what paper and package must agree in."""

from __future__ import annotations

from marks.case import Case, Content
from marks.goods import us
from marks.ground_limits import GROUND, labels
from marks.ground_substance import reportable, told_by_name
from marks.terms import ShipAs


def description(content: Content, case: Case) -> str:
    """Number, name, class, subsidiary hazards in brackets, packing group, nothing in between (172.202(a), (b)).

    "UN2744, Cyclobutyl chloroformate, 6.1, (8, 3), PG II". RQ stands before (172.203(c)), the added words after. On the
    highway neither an excepted nor, as a rule, a limited quantity needs a shipping paper; its words are for one that
    goes along all the same.
    """
    relief = content.goods.ship_as_for(GROUND)
    if relief is ShipAs.EXCEPTED:
        return f"no shipping paper on the highway (49 CFR 173.4a(h)): {content.described_as()} in excepted quantity"
    entry = content.entry
    parts = [f"{entry.prefix}{entry.un}", content.marked_name, us.shown_class(entry)]
    if further := labels(content, case.on)[1:]:
        parts.append(f"({', '.join(further)})")
    if group := us.packing_group(entry):
        parts.append(f"PG {group}")
    if substance := reportable(content, case):
        parts.insert(0, "RQ")
        if not told_by_name(substance, content):
            parts.append(f"({substance})")
    if (zone := us.inhalation(entry)) is not None:
        zone = zone or content.goods.hazard_zone or ""
        parts.append("Poison-Inhalation Hazard" + (f", Zone {zone}" if zone else ""))
    if relief is ShipAs.LIMITED:
        parts.append("Ltd Qty")
    residue = "RESIDUE: Last Contained " if content.goods.residue else ""  # 172.203(e)
    return residue + ", ".join(parts)
