"""What a provision takes out of single rules: a mark that certain goods need not bear although their class has it.

Goods that are out of all the rules of a mode are told by ``marks.beyond.outside``; here one mark falls away.
"""

from __future__ import annotations

from marks.case import Case, Content

Reason = tuple[str, tuple[str, ...]]


def freed(mark: str, content: Content, case: Case) -> Reason | None:
    """Why this content does not ask for the mark, with the paragraphs; None where the rules decide."""
    return None
