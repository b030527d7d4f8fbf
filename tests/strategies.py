"""Hypothesis strategies: quantities as people write them, parties, goods, packages, whole records.

``record_data`` draws a record as the keys and texts a file would hold; ``records`` reads it. The goods are entries with
one line in the list, in quantities small enough for any of them, so that every record drawn can be planned.
"""

from __future__ import annotations

from decimal import Decimal

from hypothesis import strategies as st

from marks.quantity import UNITS
from marks.reading import record_from

# Single-line entries: number, unit of its quantities, what it may be packed in.
GOODS = (("1090", "mL"), ("1294", "mL"), ("1593", "mL"), ("1498", "g"), ("0336", "g"))

NUMBERS = st.decimals(Decimal("0.001"), Decimal("99999"), places=3, allow_nan=False)


def plain(number: Decimal) -> str:
    return f"{number:f}"


@st.composite
def quantity_texts(draw: st.DrawFn, *kinds: str) -> str:
    """A quantity of one of the kinds (of any, where none is named), in one of the spellings people write."""
    kind = draw(st.sampled_from(kinds or tuple(UNITS)))
    spelling = draw(st.sampled_from([s for spellings in UNITS[kind].values() for s in spellings]))
    return f"{plain(draw(NUMBERS))}{draw(st.sampled_from(['', ' ']))}{spelling}"


# Letters of several European scripts, figures, and the signs of an address.
TEXTS = st.text(
    st.sampled_from("ABCabcxyzÆØÅæøåÄÖÜßÉéèçŁłŚśŻżČčĞğΑΩαωЖжя0123456789 .,-/&'()"), min_size=1, max_size=40
).filter(lambda text: text.strip() and not text.strip().isdigit())


def parties() -> st.SearchStrategy[dict[str, object]]:
    return st.fixed_dictionaries(
        {
            "name": TEXTS,
            "address": st.lists(TEXTS, min_size=1, max_size=4),
            "country": st.sampled_from(["NO", "DE", "GR", "PL", "US"]),
        }
    )


@st.composite
def goods_data(draw: st.DrawFn) -> dict[str, object]:
    """One line of goods, in inner packagings or not."""
    un, unit = draw(st.sampled_from(GOODS))
    amount = f"{draw(st.integers(1, 500))} {unit}"
    if draw(st.booleans()):
        return {"un": un, "net": amount}
    inner = {
        "count": str(draw(st.integers(1, 12))),
        "holds": amount,
        "of": draw(st.sampled_from(["glass bottle", "metal tin", "plastics bottle"])),
        "absorbent": draw(st.sampled_from(["none", "some", "full"])),
        "gas_tight": draw(st.sampled_from(["true", "false"])),
    }
    return {"un": un, "inner": inner}


@st.composite
def package_data(draw: st.DrawFn, letter: str = "A") -> dict[str, object]:
    """One package, a box or a drum, heavier than anything drawn into it."""
    sides = st.integers(200, 900).map(lambda mm: f"{mm} mm")
    is_box = draw(st.booleans())
    return {
        "package": letter,
        "count": str(draw(st.integers(1, 5))),
        "packaging": "4G" if is_box else "1A2",
        "spec_mark": "4G/X60/S/26/N/Example" if is_box else "1A2/X100/S/26/N/Example",
        "size": {key: draw(sides) for key in (("length", "width", "height") if is_box else ("diameter", "height"))},
        "gross_mass": f"{draw(st.integers(25, 60))} kg",
        "goods": draw(st.lists(goods_data(), min_size=1, max_size=3)),
    }


@st.composite
def record_data(draw: st.DrawFn) -> dict[str, object]:
    """A whole record, as keys and texts."""
    letters = "ABCD"[: draw(st.integers(1, 4))]
    return {
        "record": "sixface/1",
        "reference": f"T-{draw(st.integers(1, 99999))}",
        "date": "2026-11-25",
        "modes": draw(st.lists(st.sampled_from(["road", "sea", "air"]), min_size=1, unique=True)),
        "shipper": draw(parties()),
        "consignee": draw(parties()),
        "packages": [draw(package_data(letter)) for letter in letters],
    }


def records() -> st.SearchStrategy[object]:
    """Records, read."""
    return record_data().map(record_from)
