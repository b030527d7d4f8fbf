"""What is remembered of a face: never more than what was asked implies."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from layouts.exact import Unfinished
from layouts.told import Kind, Memory, Places, Told

LABEL: Kind = ("label", True)
TEXT: Kind = ("text", False)


class Asked:
    """A ground that notes what it has to search."""

    def __init__(self) -> None:
        self.searched: list[int] = []
        self.told: Told = Memory().of("ground")

    def ask(
        self,
        kinds: list[Kind],
        answer: Places | None,
        steps: int = 10,
        accept: Callable[[Places], bool] | None = None,
        ends: bool = False,
        wish: bool = False,
    ) -> Places | None:
        def search() -> Places | None:
            self.searched.append(len(kinds))
            if ends:
                raise Unfinished
            return answer

        return self.told.ask(kinds, steps, search, accept, wish)


def test_a_part_of_what_goes_goes_too_and_pieces_of_a_kind_are_alike() -> None:
    one = Asked()
    assert one.ask([TEXT, LABEL, TEXT], ["a", "b", "c"]) == ["a", "b", "c"]
    assert one.ask([LABEL, TEXT], None) == ["b", "a"]
    assert one.searched == [3]
    assert one.ask([TEXT, TEXT, TEXT], ["d", "e", "f"]) == ["d", "e", "f"]  # three were not among them
    assert one.searched == [3, 3]


def test_what_does_not_go_does_not_go_with_more() -> None:
    one = Asked()
    assert one.ask([TEXT, TEXT], None) is None
    assert one.ask([LABEL, TEXT, TEXT], ["never asked"]) is None
    assert one.ask([LABEL, TEXT], ["a", "b"]) == ["a", "b"]
    assert one.searched == [2, 2]


def test_labels_that_lie_too_far_apart_may_go_with_one_more_between_them() -> None:
    def together(places: Places) -> bool:
        return places != [0, 2]

    one = Asked()
    assert one.ask([LABEL, LABEL], None, accept=together) is None
    assert one.ask([LABEL, LABEL, TEXT], None, accept=together) is None
    assert one.searched == [2]
    assert one.ask([LABEL, LABEL, LABEL], [0, 2, 1], accept=together) == [0, 2, 1]  # the third links them
    assert one.searched == [2, 3]


def test_a_part_of_what_goes_must_meet_the_condition_by_itself() -> None:
    one = Asked()
    assert one.ask([LABEL, LABEL, LABEL], [0, 2, 1], accept=lambda places: True) == [0, 2, 1]
    assert one.ask([LABEL, LABEL], [5, 6], accept=lambda places: places != [0, 2]) == [5, 6]
    assert one.searched == [3, 2]


def test_a_search_that_was_ended_is_begun_again_only_with_more_steps() -> None:
    one = Asked()
    for steps in (10, 10, 5):
        with pytest.raises(Unfinished):
            one.ask([TEXT], None, steps, ends=True)
    assert one.searched == [1]
    assert one.ask([TEXT], ["a"], 11) == ["a"]
    assert one.searched == [1, 1]


def test_for_a_wish_no_more_is_asked_than_what_could_not_be_told() -> None:
    one = Asked()
    for kinds, steps in (([TEXT, LABEL], 10), ([LABEL, TEXT, TEXT], 10), ([TEXT, LABEL], 5)):
        with pytest.raises(Unfinished):
            one.ask(kinds, ["never asked"], steps, ends=True, wish=True)
    assert one.searched == [2]
    assert one.ask([TEXT, TEXT], ["a", "b"], wish=True) == ["a", "b"]  # the label was not among them
    assert one.ask([LABEL, TEXT, TEXT], ["a", "b", "c"], 11, wish=True) == ["a", "b", "c"]
    assert one.searched == [2, 2, 3]


def test_where_law_asks_all_is_searched_for_though_some_could_not_be_told() -> None:
    one = Asked()
    with pytest.raises(Unfinished):
        one.ask([TEXT], None, ends=True)
    assert one.ask([TEXT, TEXT], ["a", "b"]) == ["a", "b"]
    assert one.searched == [1, 2]


def test_grounds_have_nothing_in_common() -> None:
    memory = Memory()
    assert memory.of("one").ask([TEXT], 10, lambda: None) is None
    assert memory.of("two").ask([TEXT], 10, lambda: ["a"]) == ["a"]
    assert memory.pack([[(2, 2)], [(2, 2)]], (4, 2), [], (100,), None, (), False) is not None
    assert memory.pack([[(2, 2)], [(2, 2)]], (4, 2), [(0, 0, 1, 1)], (100,), None, (), False) is None
