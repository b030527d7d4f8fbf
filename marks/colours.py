"""Colours the law leaves to whoever prints, as far as the goods decide whether they may be chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marks.tables import dated
from marks.terms import PackageForm

if TYPE_CHECKING:
    from datetime import date

    from marks.record import Package


def in_receptacle_colour(package: Package, label: str | None, on: date) -> bool:
    """Whether the label may show its symbol in the colour of the receptacle itself: a cylinder of liquefied petroleum gas
    (49 CFR 172.407(d)(2)(iv); ADR 5.2.2.2.1.6, from memory)."""
    if package.form_derived is not PackageForm.CYLINDER:
        return False
    numbers = {goods.un for goods in package.goods}
    return any(row["label"] == label and numbers <= set(row["numbers"]) for row in dated("colours", "receptacle", on))
