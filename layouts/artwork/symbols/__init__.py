"""The symbols: one original drawing per file, constructed on a grid its docstring states.

A drawing is a function named like its file that answers with a ``Symbol``. ``symbol(name)`` loads a drawing when it
is first asked for.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from layouts.artwork.symbols.outline import Symbol

NAMES = (
    "aircraft", "arrows", "battery_group", "corrosion", "crescents", "cryogenic", "division_figures",
    "exploding_bomb", "excepted", "fish_and_tree", "flame", "flame_over_circle", "gas_cylinder", "heat_rays",
    "heated_package", "magnet", "packaging", "skull", "trefoil", )  # fmt: skip


@cache
def symbol(name: str) -> Symbol:
    """The drawing of that name; KeyError for a name that is none of ours."""
    if name not in NAMES:
        raise KeyError(name)
    drawn: Symbol = getattr(import_module(f"layouts.artwork.symbols.{name}"), name)()
    return drawn
