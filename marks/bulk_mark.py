"""The UN specification mark of an intermediate bulk container (IBC) or a large packaging, taken apart.

IBC: UN Model Regulations 6.5.2.1.1; large packaging: 6.6.3.1; both from memory. The elements are those of smaller
packagings up to X, Y or Z; then come month and year, state, maker, the load of the stacking test and the gross mass.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Self

from msgspec import Struct

from marks.errors import Unreadable
from marks.packaging import GROUPS, Packaging, read_code
from marks.quantity import quoted
from marks.terms import PackingGroup

_FORM = "code/X, Y or Z/month and year/state/maker/stacking load/gross mass, as in 31H1/Y/05 26/N/maker/1900/1200"


class BulkMark(Struct, frozen=True):
    """packaging: the type its code names. performance: X, Y or Z. month, year: of making, two figures of the year.

    stacking_kg: the load of the stacking test; 0: not made to be stacked. gross_kg: what it may weigh, filled.
    """

    text: str
    packaging: Packaging
    performance: str
    month: int
    year: int
    state: str
    maker: str
    stacking_kg: Decimal
    gross_kg: Decimal

    @property
    def code(self) -> str:
        """The packaging code with the letter behind it: ``31HA1``, ``50AT``."""
        return self.packaging.code + (self.packaging.letter or "")

    def allows_group(self, group: PackingGroup | str) -> bool:
        """Whether X, Y or Z covers a packing group."""
        return str(group) in GROUPS[self.performance]

    @classmethod
    def parse(cls, text: str) -> Self:
        """Take a mark apart; "UN" may stand in front. Raises Unreadable, which names the element that can't stand."""
        written = " ".join(text.split())
        bare = re.sub(r"^(?:U ?N|u ?n)[ /]*", "", written)
        part, _, rest = bare.partition("/")
        packaging = _code_of(part.strip())
        found = re.match(r"([XYZ])[ /]?(?=[0-9])", rest)
        if not found:
            raise _bad(rest.split("/")[0], "performance", "it is X, Y or Z", "as in Y")
        rest = rest[found.end() :]
        dated = re.match(r"(0[1-9]|1[0-2])[ /]?([0-9]{2})(?![0-9])[ /]*", rest)
        if not dated:
            raise _bad(rest.split("/")[0], "date of making", "it is month and year, two figures each", "as in 05 26")
        rest = rest[dated.end() :]
        state = re.match(r"([A-Z]{1,3})(?![A-Za-z0-9])[ /]*", rest)
        if not state:
            raise _bad(rest.split("/")[0], "state", "it is the sign of the approving state", "as in N, D or USA")
        rest = rest[state.end() :]
        masses = re.search(r"[ /]([0-9]{1,5})(?: ?kg)?[ ]?/[ ]?([0-9]{1,5})(?: ?kg)?$", rest)
        if not masses or not int(masses[2]):
            why = "the load of the stacking test and the gross mass end the mark, in kg"
            raise _bad(rest.split("/")[-1], "masses", why, "as in 1900/1200, or 0/1200 where it is not to be stacked")
        maker = rest[: masses.start()].strip(" /")
        return cls(
            written, packaging, found[1], int(dated[1]), int(dated[2]), state[1], maker,
            Decimal(masses[1]), Decimal(masses[2]),
        )  # fmt: skip


def _code_of(part: str) -> Packaging:
    try:
        packaging = read_code(part)
    except Unreadable as no:
        raise Unreadable(f"{quoted(part)} as its packaging code", no.why, no.write) from None
    if packaging.kind not in ("ibc", "large"):
        why = f"{packaging.code} is a {packaging.text}, and its mark has other elements"
        raise _bad(part, "packaging code", why, "the code of an IBC or large packaging, as in 31H1 or 50A")
    return packaging


def _bad(part: str, element: str, why: str, write: str) -> Unreadable:
    read = f"{quoted(part)} as its {element}" if part else f"no {element}"
    return Unreadable(read, f"{why} (UN Model Regulations 6.5.2.1.1, 6.6.3.1)", f"write {write}; the form is {_FORM}")
