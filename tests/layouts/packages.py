"""Packages by chance: every form, sizes from 60 mm to 3 m, one to fourteen marks, up to three areas kept clear. The same number
gives the same package on every computer.

    SIXFACE_PLACE_CASES=5000 python -m pytest tests/layouts/test_place_properties.py
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from random import Random

from msgspec.structs import replace

from layouts.faces import Area, Solid
from layouts.geometry import Box
from marks.requirement import Requirement
from marks.terms import Face, Mode, PackageForm
from tests.layouts.placing_given import AIR, SURFACE, label, need

#: How many packages the properties are asked of. The suite takes fewer, for time.
CASES = int(os.environ.get("SIXFACE_PLACE_CASES", "500"))
US = (Mode.US_GROUND,)
VARIANTS = ("2.1", "2.2", "3", "4.1", "5.1", "6.1", "7-II", "8", "9")
OTHERS = (
    "un-number", "proper-shipping-name", "shipper", "consignee", "net-quantity", "gross-mass", "battery",
    "orientation-arrows", "environmentally-hazardous", "limited-quantity", "magnetized-material",
)  # fmt: skip


def _solid(r: Random) -> Solid:
    def edge() -> int:
        return r.choice((r.randint(60, 300), r.randint(60, 800), r.randint(300, 3000)))

    form = r.choice([*PackageForm, PackageForm.BOX, PackageForm.BOX])
    if form in (PackageForm.DRUM, PackageForm.CYLINDER):
        return Solid.drum(edge(), edge(), form)
    if form is PackageForm.JERRICAN and r.random() < 0.3:
        return Solid.drum(edge(), edge(), form)
    return replace(Solid.box(edge(), edge(), edge(), form), taped=form is PackageForm.BOX and r.random() < 0.7)


def _marks(r: Random, most: int) -> list[Requirement]:
    """One to fourteen marks of one journey, the arrows and what stands on two sides counted once."""
    modes = r.choice((SURFACE, AIR, US))
    labels = r.sample(VARIANTS, r.choice((0, 1, 1, 2, 2, 3, 4)))
    twice = r.random() < 0.15
    found = [label(v, modes=modes, twice=twice or v == "7-II") for v in labels]
    if labels and modes is AIR and r.random() < 0.5:
        found.append(need("cargo-aircraft-only", modes=modes))
    rest = r.sample(OTHERS, r.randint(0, max(0, min(most - len(found), len(OTHERS)))))
    pairs = ("un-number", "proper-shipping-name", "environmentally-hazardous")
    found += [need(mark, None, mark, modes=modes, twice=twice and mark in pairs, goods=(0,)) for mark in rest]
    return found or [need("un-number", None, "UN 1", modes=modes)]


def _areas(r: Random, solid: Solid) -> list[Area]:
    faces = [face for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT) if solid.takes_marks(face)]
    found: list[Area] = []
    for _ in range(r.choice((0, 0, 1, 2, 3)) if faces else 0):
        face = r.choice(faces)
        w, h = solid.size(face)
        x, y = r.random() * w * 0.8, r.random() * h * 0.8
        found.append(Area(face, Box(x, y, r.random() * (w - x), r.random() * (h - y)), f"area {len(found)}"))
    return found


@dataclass(frozen=True)
class Package:
    """What is to be placed on what; chance: for whatever else a test leaves to it."""

    solid: Solid
    wanted: list[Requirement]
    clear: list[Area]
    chance: Random


def a_package(seed: int, most: int = 14) -> Package:
    r = Random(seed)
    solid = _solid(r)
    return Package(solid, _marks(r, most), _areas(r, solid), r)
