"""The register: what it adds to a rule's answer, and how requirements for one printed mark are joined."""

from __future__ import annotations

from decimal import Decimal

from marks.requirement import Requirement, Where
from marks.rule import RULES, merged
from marks.terms import Mode, ShipAs


def test_rules_stand_in_the_order_of_the_model_text() -> None:
    """UN Model Regulations 5.2: marks of identity, hazards; then what hangs on them; packagings last."""
    import marks.rules  # noqa: F401

    names = list(dict.fromkeys(rule.mark for rule in RULES))
    order = ["un-number", "proper-shipping-name", "hazard-label", "orientation-arrows", "limited-quantity"]
    places = [names.index(name) for name in order]
    assert places == sorted(places)


def test_every_rule_cites_each_mode_by_its_own_law_and_speaks_for_itself() -> None:
    import marks.rules  # noqa: F401

    for rule in RULES:
        assert rule.decide.__doc__, rule.name
        for mode, paragraph in rule.cite.items():
            assert paragraph.startswith(mode.law), f"{rule.name} by {mode}: {paragraph}"
        assert set(rule.spared) <= {ShipAs.LIMITED, ShipAs.EXCEPTED}


def one(**changed: object) -> Requirement:
    given: dict[str, object] = {
        "mark": "hazard-label", "why": "primary hazard", "cite": ("ADR 5.2.2.1.1",), "variant": "3", "goods": (0,),
        "measures": {"side": Decimal(100)}, "modes": (Mode.ROAD,),
    }  # fmt: skip
    return Requirement(**(given | changed))  # type: ignore[arg-type]


def test_what_asks_for_the_same_mark_twice_is_joined() -> None:
    sea = one(why="by sea", cite=("IMDG 5.2.2.1.1",), modes=(Mode.SEA,), goods=(1,), where=Where.TWO_OPPOSITE)
    (joined,) = merged([one(), sea])
    assert joined.modes == (Mode.ROAD, Mode.SEA) and joined.goods == (0, 1)
    assert joined.cite == ("ADR 5.2.2.1.1", "IMDG 5.2.2.1.1") and joined.why == "primary hazard; by sea"
    assert joined.where is Where.TWO_OPPOSITE


def test_the_larger_length_stands_for_both() -> None:
    (joined,) = merged([one(measures={"lettering": Decimal(6)}), one(measures={"lettering": Decimal(12)})])
    assert joined.measures == {"lettering": Decimal(12)}


def test_other_variants_and_other_words_stay_apart() -> None:
    assert len(merged([one(), one(variant="8"), one(words=("UN 1219",))])) == 3
