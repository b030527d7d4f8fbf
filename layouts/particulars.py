"""What the diagram and the checklist of one package say at their head, and how they name marks and measures."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from layouts.faces import ORDER, Solid
from layouts.placement import Placed, Placement
from layouts.units import number
from marks.requirement import Requirement
from marks.terms import Face, Mode


class Particulars(Struct, frozen=True):
    """reference: the shipper's own; package: its letter; digest: sha256 of the record; packaging: code and words
    ("4G fibreboard box"); spec_mark: as it stands on the packaging; editions: the rules held, one text each; what: it
    is a package or an overpack."""

    reference: str
    package: str
    count: int
    digest: str
    modes: tuple[Mode, ...]
    packaging: str = ""
    spec_mark: str = ""
    editions: tuple[str, ...] = ()
    what: str = "package"

    @property
    def called(self) -> str:
        """ "Package A", "Overpack P1"."""
        return f"{self.what.capitalize()} {self.package}"

    @property
    def code(self) -> str:
        """The packaging's code, "4G"; empty where it has none."""
        first = self.packaging.split(" ")[0]
        return first if first[:1].isdecimal() else ""

    @property
    def short_digest(self) -> str:
        return self.digest[:16]

    @property
    def pieces(self) -> str:
        return f"1 {self.what}" if self.count == 1 else f"{self.count} identical packages"


def mm(value: float) -> str:
    """Millimetres as a packer reads them: at most one decimal."""
    return number(value, 1)


def outer(solid: Solid) -> str:
    """ "380 x 285 x 310 mm", "Ø 585 x 880 mm"."""
    if solid.round:
        return f"Ø {mm(solid.length)} × {mm(solid.height)} mm"
    return f"{mm(solid.length)} × {mm(solid.width)} × {mm(solid.height)} mm"


def title(requirement: Requirement) -> str:
    """The mark's name for a line of its own: "Hazard label 3", "UN number"."""
    name = requirement.mark.replace("-", " ")
    name = {"un number": "UN number"}.get(name, name[:1].upper() + name[1:])
    return f"{name} {requirement.variant}" if requirement.variant else name


def face_title(face: Face) -> str:
    """ "FRONT  2": the name and the number of ISO 2206, which shoulder and tag have none of."""
    return f"{face.value.upper()}  {face.iso2206}" if face.iso2206 else face.value.upper()


def said(requirement: Requirement) -> str:
    """The words of a mark in one line."""
    return ", ".join(word for word in requirement.words if word.strip())


def says_itself(requirement: Requirement) -> bool:
    """Whether its words begin with its name already ("Net quantity 4 L")."""
    return said(requirement).casefold().startswith(title(requirement).casefold())


def size(item: Placed) -> str:
    """ "100 mm edge" of a square on its point, "120 × 110" of the rest."""
    art = item.artwork
    if art.side and not item.there:
        return f"{mm(art.side)} mm edge"
    return f"{mm(item.width)} × {mm(item.height)} mm"


def travels(modes: Iterable[Mode]) -> str:
    """The modes in one line."""
    return ", ".join(mode.value for mode in modes)


def spoken(placement: Placement, about: Particulars) -> str:
    """The text of the QR code: reference, package, digest, and the marks of each face."""
    lines = [about.reference, f"{about.what} {about.package}, {about.count} pcs", f"record {about.short_digest}"]
    for face in ORDER:
        items = placement.on(face)
        if items:
            lines.append(f"{face}: {'; '.join(_short(item) for item in items)}")
    if placement.refused:
        lines.append("NOT PLACED: see the findings")
    return "\n".join(lines)


def _short(item: Placed) -> str:
    requirement = item.requirement
    words = said(requirement) if requirement.mark == "un-number" else requirement.variant
    return " ".join(filter(None, (requirement.mark, words, "(there)" if item.there else "")))
