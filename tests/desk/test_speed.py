"""The desk keeps pace with who types in it, by counting what it asks for. ``python -m tests.bench desk`` measures how soon
it answers: a time is nothing a test can hold on every machine."""

from __future__ import annotations

from typing import Any

import pytest

from tests.desk.conftest import Desk, answered
from tests.desk.speed import FIELDS


@pytest.mark.parametrize("field", FIELDS)
def test_what_is_typed_while_an_answer_is_awaited_is_asked_for_once(page: Any, desk: Desk, field: str) -> None:
    """Twelve keys pressed while the first key's answer is on its way cost one more question, not twelve; the answer that
    then stands is that of the last key."""
    page.goto("/clerk?record=laboratory-mixed-package.yaml")
    answered(page)
    held: list[Any] = []
    asked: list[str] = []

    def hold(route: Any) -> None:
        asked.append(route.request.url)
        if len(asked) == 1:
            held.append(route)
        else:
            route.continue_()

    page.route("**/*", lambda route: hold(route) if route.request.method == "POST" else route.continue_())
    box = page.locator(f"#{field}")
    box.fill("")  # the first question
    while not held:
        page.wait_for_timeout(5)
    box.press_sequentially("Zweiundvierz")
    assert len(asked) == 1
    held[0].continue_()
    page.locator(".as-text pre", has_text="Zweiundvierz").wait_for(state="attached")
    answered(page)
    assert len(asked) == 2
