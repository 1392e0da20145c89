"""A question of a drill, and whether an answer to it is right."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown

__all__ = ["Answered", "Question", "answered"]


@attrs.frozen
class Question:
    """What is asked, what is to be seen, and what is right.

    `figure` is what a page draws, as JSON takes it. `answer` is in `unit`; one that is no further
    off than `within` counts as right. `why` explains it, with a source or that it has none.
    """

    card: str
    asks: str
    figure: dict[str, Any]
    answer: Decimal
    within: Decimal
    unit: str
    why: str


@attrs.frozen
class Answered:
    """Whether an answer was right, and a kind sentence about it."""

    right: bool
    words: str


def answered(question: Question, text: str) -> Answered:
    """Return whether what was typed is right; InputRefused where it is no figure."""
    try:
        given = Decimal(text.strip())
    except InvalidOperation:
        given = Decimal("NaN")
    if not given.is_finite():
        message = f'the answer must be a figure such as "1.25" (got {shown(text)})'
        raise InputRefused([Fault(message, path="answer")])
    if abs(given - question.answer) <= question.within:
        return Answered(True, f"Yes: {question.answer} {question.unit}. {question.why}")
    return Answered(False, f"Not yet: it is {question.answer} {question.unit}. {question.why}")
