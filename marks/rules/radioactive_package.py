"""Radioactive material: type of the package, gross mass, consignor; what an excepted package has instead of a label."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content
from marks.check import check
from marks.quantity import show, to
from marks.radioactive import group_of, is_excepted, is_radioactive, type_of
from marks.requirement import Finding
from marks.rule import EVERY_MODE, Answer, Needs, Spares, caution, note, refuse, rule
from marks.tables import limit
from marks.terms import Mode

_TYPE = {Mode.ROAD: "ADR 5.2.1.7.4", Mode.SEA: "IMDG 5.2.1.5.4", Mode.AIR: "ICAO TI 5;2.4.5"}
_APPROVED = {Mode.ROAD: "ADR 5.2.1.7.5", Mode.SEA: "IMDG 5.2.1.5.5", Mode.AIR: "ICAO TI 5;2.4.5"}
_WHO = {Mode.ROAD: "ADR 5.2.1.7.1", Mode.SEA: "IMDG 5.2.1.5.1"}
_INSIDE = {Mode.ROAD: "ADR 2.2.7.2.4", Mode.SEA: "IMDG 2.7.2.4", Mode.AIR: "ICAO TI 2;7.2.4"}
_MASS = {Mode.ROAD: "ADR 5.2.1.7.3", Mode.SEA: "IMDG 5.2.1.5.3", Mode.AIR: "ICAO TI 5;2.4.5"}


def _has_radioactive(case: Case) -> bool:
    return any(is_radioactive(content) for content in case.contents)


@rule("package-type", cite=_TYPE, concerns=_has_radioactive)
def package_type(case: Case) -> Iterator[Answer]:
    """TYPE IP-1 to TYPE C in letters of 13 mm (49 CFR 172.310(b)), and the country of the design behind it.

    Differences of law: 49 CFR 172.310(c) asks for the country's vehicle code on IP-1, IP-2, IP-3 and type A; the
    international text on IP-2, IP-3 and type A (from memory).
    """
    for content in case.contents:
        if is_radioactive(content):
            yield from _type(content, case)


def _type(content: Content, case: Case) -> Iterator[Answer]:
    named, kind, stated = content.described_as(), type_of(content), content.goods.package_type
    country = content.goods.design_country
    if stated and stated != kind:
        yield refuse(
            "package-type-contradicts",
            f"{named}: the record says type {stated}, the entry is for type {kind}; choose the entry of the package",
            _TYPE[case.mode],
        )
    elif kind is None and group_of(content):
        yield refuse(
            "package-type-missing",
            f"{named}: the package shows its type; write package_type: IP-1, IP-2 or IP-3, as it is built",
            _TYPE[case.mode],
        )
    elif kind is None:
        yield caution(
            "package-type-open",
            f"{named}: the type of the package stands in its approval certificate; write package_type where it is one "
            "of IP-1 to C, which it then shows",
            _TYPE[case.mode],
        )
    elif kind == "excepted":
        yield Spares(f"{named}: an excepted package shows no type")
    else:
        if country is None and kind in ("IP-2", "IP-3", "A"):
            yield refuse(
                "design-country-missing",
                f"{named}: type {kind} shows the vehicle code of the country of its design; write design_country: D or "
                "another",
                _TYPE[case.mode],
                "49 CFR 172.310(c)",
            )
        words = (f"TYPE {kind}", country) if country and kind in ("IP-1", "IP-2", "IP-3", "A") else (f"TYPE {kind}",)
        yield Needs(f"{named}: a package of type {kind}", words=words, group="hazard", goods=(content.index,))
        yield _maker(named, kind, case)


def _maker(named: str, kind: str, case: Case) -> Finding:
    if kind in ("B(U)", "B(M)", "C"):
        return caution(
            "approval-marks",
            f"{named}: identification mark and serial number of the approved design, and a trefoil that withstands "
            "fire and water, stand on the packaging already; check them, this program does not print them",
            _APPROVED[case.mode],
            "49 CFR 172.310(d)",
        )
    return note(
        "maker-of-package",
        f"{named}: the maker's name or another identification of the packaging stands on it too",
        _TYPE[case.mode],
    )


@rule("gross-mass", cite=_MASS, concerns=_has_radioactive)
def gross_mass_over_fifty(case: Case) -> Iterator[Answer]:
    """Over 50 kg the gross mass stands on the package; exactly 50 kg need not (49 CFR 172.310(a))."""
    most = limit("radioactive", "gross", case.on, "special")
    if case.gross_kg > most.value:
        yield Needs(
            f"radioactive material, over {most.text} gross (the permissible mass, where the design allows more)",
            words=(f"Gross mass {show(case.package.gross_mass)}",),
            group="hazard",
        )
    else:
        yield Spares(f"radioactive material of {show(case.package.gross_mass)} gross, not over {most.text}")


@rule("shipper", cite=_WHO, concerns=_has_radioactive)
def consignor_or_consignee(case: Case) -> Iterator[Answer]:
    """By road and sea a package of class 7 names consignor or consignee: one suffices, here the consignor."""
    party = case.record.shipper
    words = (party.name, *party.address, party.country_name.upper())
    yield Needs("radioactive material: consignor or consignee are named on the package", words=words, group="address")


@check(modes=EVERY_MODE, concerns=lambda case: any(is_excepted(content) for content in case.contents))
def excepted_package(case: Case) -> Iterator[Finding]:
    """An excepted package has no label; RADIOACTIVE stands inside, and its surface stays within 0.005 mSv/h."""
    most = limit("radioactive", "dose_excepted", case.on, "special")
    for content in (content for content in case.contents if is_excepted(content)):
        named, rate = content.described_as(), content.goods.surface_dose_rate
        if rate is None:
            yield caution(
                "excepted-dose-open",
                f"{named}: an excepted package has at most {most.text} at its surface; write surface_dose_rate as "
                "measured",
                most.paragraph(case.mode),
            )
        elif to(rate, "mSv/h") > most.value:
            yield refuse(
                "excepted-dose-over",
                f"{named}: {show(rate)} at the surface, an excepted package has at most {most.text}; choose the entry "
                "of a labelled package",
                most.paragraph(case.mode),
            )
        yield from _warned(content, case)


def _warned(content: Content, case: Case) -> Iterator[Finding]:
    inside = {
        "2910": "the word RADIOACTIVE stands on an inner surface where it is seen on opening",
        "2911": "each instrument or article bears the word RADIOACTIVE",
        "2908": "former labels of class 7 are no longer to be seen",
    }.get(content.entry.un)
    if inside:
        yield note("radioactive-inside", f"{content.described_as()}: {inside} (from memory)", _INSIDE[case.mode])
    if case.mode is Mode.AIR:
        yield caution(
            "excepted-package-label",
            f"{content.described_as()}: by air a handling label for excepted packages stands on it too (from memory); "
            "this program does not draw it",
            "ICAO TI 5;3.2",
        )
