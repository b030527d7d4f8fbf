"""By air: where the inner packagings, not the quantity, decide on which aircraft a package may go."""

from __future__ import annotations

from collections.abc import Iterator

from marks.aircraft import limit_of
from marks.case import Case
from marks.check import check
from marks.inner_air import over_inner
from marks.requirement import Finding
from marks.rule import caution
from marks.terms import Aircraft, Mode


@check(modes=(Mode.AIR,))
def inner_packagings_decide(case: Case) -> Iterator[Finding]:
    """The limits are those of US law; the packing instruction of the Technical Instructions may set others.

    Whether a package may fly, and on which aircraft, is said by ``marks.aircraft``, which reads the same limits.
    """
    for content in case.contents:
        why = [
            said
            for aircraft in Aircraft
            if limit_of(content, aircraft).kind in ("amount", "unlimited")
            and (said := over_inner(content, case, aircraft, limit_of(content, aircraft).amounts))
        ]
        if why:
            yield caution(
                "inner-limit-of-us-law",
                f"{'; '.join(why)}; the packing instruction of the entry may set another limit: read it, or take "
                "smaller inner packagings",
                "49 CFR 173.27(f)",
                "ICAO TI 4",
            )
