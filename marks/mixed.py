"""Which goods may stand together: mixed packing provisions of the list, and pairs that react. Figures in mixed.toml.

Shared by the checks of packages and by those of overpacks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import TYPE_CHECKING, Any

from marks.case import Content, amount
from marks.quantity import read_quantity, show
from marks.tables import dated, table

if TYPE_CHECKING:
    from datetime import date


def reacting(contents: Sequence[Content]) -> Iterator[str]:
    """One sentence for each pair of contents that the table of pairs names."""
    for one, other in combinations(contents, 2):
        for pair in table("mixed")["pair"]:
            for a, b in ((one, other), (other, one)):
                if _is(pair["a"], a) and _is(pair["b"], b):
                    yield (
                        f"{a.described_as()} ({pair['a']['words']}) and {b.described_as()} ({pair['b']['words']}): "
                        f"{pair['why']}"
                    )
                    break


def _is(said: Mapping[str, Any], content: Content) -> bool:
    entry = content.entry
    if entry.classification_code in said.get("codes", ()):
        return True
    if set(said.get("labels", ())) & set(entry.model_labels or entry.labels):
        return True
    return any(word in name.upper() for word in said.get("names", ()) for name in (content.name, entry.name))


def obstacles(content: Content, others: Sequence[Content], on: date) -> tuple[str, bool] | None:
    """What the mixed packing provisions of the entry have against these goods beside it, by road; None where one of them
    lets it stand there. True: they forbid it whatever the amount; False: the amount is too much."""
    found: list[tuple[str, bool]] = []
    for code in content.entry.mixed_packing:
        row = next((row for row in dated("mixed", "provision", on) if row["code"] == code), None)
        against = _against(row, content, others) if row else None
        if against is None:
            return None
        found.append((f"{code}: {against[0]}", against[1]))
    if not found:
        return None
    return "; ".join(text for text, _ in found), all(forbidden for _, forbidden in found)


def _against(row: Mapping[str, Any], content: Content, others: Sequence[Content]) -> tuple[str, bool] | None:
    match row["with"]:
        case "none":
            return "not together with other goods", True
        case "numbers" if any(other.entry.un not in row["numbers"] for other in others):
            return f"together with {' and '.join(row['numbers'])} alone", True
        case "class" if any(other.entry.hazard_class != content.entry.hazard_class for other in others):
            return f"together with goods of class {content.entry.hazard_class} alone", True
    inner = content.goods.inner
    for key, held, words in (
        ("inner", inner.holds if inner else content.net, "in one inner packaging"),
        ("package", content.net, "in the package"),
    ):
        if key not in row:
            continue
        (value, unit), (most, of) = amount(held), amount(read_quantity(row[key]))
        if unit == of and value > most:
            return f"{show(held)} {words}, the limit beside other goods is {row[key]}", False
    return None
