"""US highway, hazards: labels of column 6, INHALATION HAZARD, POISON on plastics; the sea's mark is left out."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case, Content, listed
from marks.environment import hazardous
from marks.goods import us
from marks.ground_limits import GROUND, figure, labels, spared_flammable
from marks.outside import BoxSize
from marks.quantity import to
from marks.requirement import Where
from marks.rule import Answer, Needs, Spares, caution, note, rule
from marks.terms import ShipAs

_RELIEVED = {ShipAs.LIMITED: (GROUND,), ShipAs.EXCEPTED: (GROUND,)}
_EXCEPTED = {ShipAs.EXCEPTED: (GROUND,)}
#: Labels US law draws otherwise for what is poisonous by inhalation, in our variants: a white skull on a black diamond.
_BY_INHALATION = {"2.3": "2.3-inhalation", "6.1": "6.1-inhalation"}
#: Labels that US law gives another section than column 6 or the UN list would make one look for.
_OWN = {"2.3-inhalation": "49 CFR 172.416", "6.1-inhalation": "49 CFR 172.429", "9A": "49 CFR 172.447"}


@rule("hazard-label", cite={GROUND: "49 CFR 172.400(b)"}, spared=_RELIEVED)
def labels_of_column_6(case: Case) -> Iterator[Answer]:
    """Primary and subsidiary labels as column 6 lists them, each once; on two sides of a package of 1.8 m3 or more.

    The words on labels of classes 1 to 6 and 8 are optional (172.405(a)), so none are printed. A label of UN design
    may stand for the US one (172.407(f)), not for what is poisonous by inhalation: there the US design is asked for.
    Hazards that the list does not name (172.402(a)(2)) are the record's to add, as further_hazards.
    """
    wanted: dict[str, list[Content]] = {}
    ranks: dict[str, int] = {}
    for content in case.contents:
        found = labels(content, case.on)
        if not found:
            yield from _no_label(content)
        yield from _left_open(content, case)
        for place, label in enumerate(found):
            variant = _variant(label, content)
            if variant == "7":  # its category is not held; step 2 refuses the package
                continue
            wanted.setdefault(variant, []).append(content)
            ranks[variant] = min(place, ranks.get(variant, place))
    yield from _unlike(case)
    where, why_two, also = _sides(case)
    for variant in sorted(wanted, key=lambda one: ranks[one]):
        contents = wanted[variant]
        role = "primary hazard" if ranks[variant] == 0 else "subsidiary hazard"
        yield Needs(
            f"{listed(content.described_as() for content in contents)}: {role}{why_two}",
            variant=variant,
            group="hazard",
            where=where,
            goods=case.indices(contents),
            also=(_OWN.get(variant, "49 CFR 172.402(a)(1)"), *also),
        )


def _variant(label: str, content: Content) -> str:
    """The label as it is drawn: what is poisonous by inhalation takes the US design (172.407(f), 172.400(b))."""
    return _BY_INHALATION.get(label, label) if us.inhalation(content.entry) is not None else label


def _no_label(content: Content) -> Iterator[Answer]:
    combustible = content.entry.id in us.COMBUSTIBLE
    what = "a combustible liquid takes none" if combustible else "column 6 of its line reads None"
    yield Spares(f"{content.described_as()}: {what}", cite=("49 CFR 172.101 column 6", "49 CFR 172.400(b)"))


def _left_open(content: Content, case: Case) -> Iterator[Answer]:
    """What column 6 alone does not settle."""
    entry = content.entry
    if spared := spared_flammable(content, case.on):
        yield Spares(
            f"{content.described_as()}: a subsidiary hazard of class 3 with a flash point of {spared.text} or more",
            variant="3",
            cite=(spared.paragraph(GROUND),),
        )
    if us.IF_IT_IS in entry.us_provisions:
        yield caution(
            "inhalation-open",
            f"{content.described_as()}: special provision 5: if the material is poisonous by inhalation, another "
            "shipping name that says so must be chosen (from memory)",
            "49 CFR 172.102(c)(1)",
        )
    settled = content.goods.explosive_label_waived_by or "1" in content.goods.further_hazards
    if us.is_self_reactive_b(entry) and not settled:
        yield caution(
            "explosive-label-open",
            f"{content.described_as()}: column 6 reads 4.1 alone; type B also bears the explosive label by the UN "
            "list (4.1 and 1), unless an approval says otherwise",
            "49 CFR 172.101 column 6",
            "49 CFR 173.224",
        )


def _unlike(case: Case) -> Iterator[Answer]:
    hazards = dict.fromkeys(us.hazards(content.entry)[0] for content in case.contents)
    if len(hazards) > 1:
        yield caution(
            "unlike-hazards",
            f"goods of {listed(hazards)} share one outer packaging: nothing in it may react dangerously with the "
            "rest, which the shipper has to know",
            "49 CFR 173.24(e)",
        )


def _sides(case: Case) -> tuple[Where, str, tuple[str, ...]]:
    """Two sides or two ends from 1.8 m3 on; opposite ones are chosen here, which the law does not ask for."""
    least = figure("labels", "two_sides", case.on)
    volume = _volume_m3(case)
    if volume < least.value:
        return Where.ONE, "", ()
    text = f"; the package measures {volume:.3f} m3, so labels go on two sides"
    return Where.TWO_OPPOSITE, text, (least.paragraph(GROUND),)


def _volume_m3(case: Case) -> Decimal:
    """The outer volume; of a drum or cylinder, that of its round body."""
    size = case.package.size
    assert size is not None  # a record without one is refused
    if isinstance(size, BoxSize):
        return to(size.length, "m") * to(size.width, "m") * to(size.height, "m")
    radius = to(size.diameter, "m") / 2
    return Decimal("3.14159265358979") * radius * radius * to(size.height, "m")


def _inhaled(case: Case) -> list[Content]:
    return [content for content in case.contents if us.inhalation(content.entry) is not None]


@rule(
    "inhalation-hazard",
    cite={GROUND: "49 CFR 172.313(a)"},
    spared=_RELIEVED,
    elsewhere="words of US law alone",
    concerns=lambda case: bool(_inhaled(case)),
)
def inhalation_words(case: Case) -> Iterator[Answer]:
    """Beside the label and the name; our labels carry no words, so these are always printed."""
    contents = _inhaled(case)
    for content in contents:
        if us.inhalation(content.entry) == "" and not content.goods.hazard_zone:
            yield caution(
                "zone-open",
                f"{content.described_as()}: the list does not tell its hazard zone, which the shipping paper names; "
                "write hazard_zone: A, B, C or D",
                "49 CFR 172.203(m)",
            )
    yield Needs(
        f"{listed(content.described_as() for content in contents)}: poisonous by inhalation, and the label drawn "
        "bears no words",
        words=("INHALATION HAZARD",),
        group="hazard",
        goods=case.indices(contents),
    )


def _poisons(case: Case) -> list[Content]:
    return [content for content in case.contents if us.hazards(content.entry)[0] == "6.1"]


def _plastic(case: Case) -> bool:
    """A single or composite packaging whose outside is of plastics: 1H1, 3H2, 4H2, 5H4, 6HH1 and the like."""
    code = case.package.kind.code
    outer = code[2:3] if code.startswith("6") else code[1:2]
    return outer == "H" and not case.combination


@rule(
    "poison",
    cite={GROUND: "49 CFR 172.313(b)"},
    spared=_EXCEPTED,
    elsewhere="a mark of US law alone",
    concerns=lambda case: bool(_poisons(case)) and _plastic(case),
)
def poison_on_plastics(case: Case) -> Iterator[Answer]:
    """POISON on the plastics itself, for good, near the closure: embossed or the like (from memory)."""
    contents = _poisons(case)
    letters = figure("poison", "lettering", case.on)
    if not case.preprinted("poison"):
        near = figure("poison", "from_closure", case.on)
        yield caution(
            "poison-not-permanent",
            f"{listed(c.described_as() for c in contents)} in {case.package.packaging}: POISON (or TOXIC) must be on "
            f"the packaging for good, embossed or the like, within {near.text} of the closure; a printed mark does "
            "not do. Write it under preprinted once the packaging bears it",
            letters.paragraph(GROUND),
        )
    yield Needs(
        f"{listed(c.described_as() for c in contents)} in an outer packaging of plastics",
        words=("POISON",),
        goods=case.indices(contents),
        measures={"lettering": letters.value},
    )


@rule("environmentally-hazardous", cite={GROUND: "49 CFR 172.322(a)"})
def sea_mark_left_out(case: Case) -> Iterator[Answer]:
    """The marine pollutant mark is for vessels; on the highway a package need not bear it."""
    for content in case.contents:
        if hazardous(content):
            yield Spares(f"{content.described_as()}: a marine pollutant bears the mark by vessel only")
            if us.hazards(content.entry)[0] == "9" and content.entry.un in ("3077", "3082"):
                yield note(
                    "pollutant-by-highway",
                    f"{content.described_as()}: in a non-bulk packaging by highway a marine pollutant that is no "
                    "hazardous substance or waste need not be shipped as one (from memory); it is marked here as if "
                    "it were",
                    "49 CFR 171.4(c)",
                )
        else:
            yield Spares(f"{content.described_as()}: no marine pollutant, and the mark is for vessels only")
