"""The register of checks: what a rule book asks of a package that is no mark. A check yields findings, or nothing.

    @check(modes=EVERY_MODE, spared=(ShipAs.EXCEPTED,))
    def room_for_expansion(case):
        yield refuse("filled-too-full", "...", "ADR 4.1.1.4")

``spared`` names the reliefs under which the check does not apply; ``concerns`` the packages it speaks of.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct

from marks.case import Case
from marks.requirement import Finding
from marks.rule import every_package
from marks.terms import Mode, ShipAs


class Check(Struct, frozen=True):
    """A registered check: by which modes and for which packages its findings are made."""

    name: str
    modes: tuple[Mode, ...]
    find: Callable[[Case], Iterator[Finding]]
    spared: tuple[ShipAs, ...] = ()
    concerns: Callable[[Case], bool] = every_package

    def findings(self, case: Case) -> Iterator[Finding]:
        """What it finds on a package it speaks of; nothing on others."""
        if case.mode in self.modes and case.relief not in self.spared and self.concerns(case):
            yield from self.find(case)


CHECKS: list[Check] = []


def check(
    *, modes: tuple[Mode, ...], spared: tuple[ShipAs, ...] = (), concerns: Callable[[Case], bool] = every_package
) -> Callable[[Callable[[Case], Iterator[Finding]]], Check]:
    """Register a generator of findings as a check of the modes named."""

    def register(find: Callable[[Case], Iterator[Finding]]) -> Check:
        made = Check(find.__name__, modes, find, spared, concerns)
        CHECKS.append(made)
        return made

    return register


def checked(case: Case) -> Iterator[Finding]:
    """What every check finds, in the order in which they are registered."""
    for one in CHECKS:
        yield from one.findings(case)
