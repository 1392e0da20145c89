"""A drill as plain values: the question without its answer, and what an answer came to."""

from __future__ import annotations

from typing import Any

from bankside.gauging.structure import JsonObject, structured, unstructured
from bankside.practice.drills.boxes import Boxes, after_answer
from bankside.practice.drills.cards import card_and_seed, error_on
from bankside.practice.drills.find_error import ERRORS, judge, spoilt_sheet
from bankside.practice.drills.question import answered
from bankside.practice.drills.reading_cards import reading_question

__all__ = ["ask_drill", "boxes_of", "judge_answer", "judge_sheet"]


def boxes_of(document: JsonObject | None) -> Boxes:
    """Return somebody's boxes from JSON, new ones where there are none; InputRefused if damaged."""
    return Boxes() if document is None else structured(document, Boxes)


def ask_drill(boxes: Boxes) -> dict[str, Any]:
    """Return the next question: its card and seed, and what is to be seen of it."""
    card, seed = card_and_seed(boxes)
    kind = error_on(card)
    if kind is None:
        question = reading_question(card, seed)
        seen = {"asks": question.asks, "figure": question.figure, "unit": question.unit}
        return {"card": card, "seed": seed, **seen}
    return {
        # Its card would give the answer away.
        "card": None,
        "seed": seed,
        "asks": "One thing on this sheet is wrong. At which tape position, and what is it?",
        "record": unstructured(spoilt_sheet(seed, kind).gauging),
        "kinds": list(ERRORS),
    }


def judge_answer(boxes: Boxes, answer: str) -> dict[str, Any]:
    """Return whether the answer to the present question is right, in words, and the new boxes.

    InputRefused where it is no figure, or the present question asks for a sheet.
    """
    card, seed = card_and_seed(boxes)
    found = answered(reading_question(card, seed), answer)
    return _judged(boxes, card, found.right, found.words)


def judge_sheet(boxes: Boxes, tape: float, kind: str) -> dict[str, Any]:
    """Return whether place and kind of the error on the present sheet are right, and new boxes."""
    card, seed = card_and_seed(boxes)
    found = judge(spoilt_sheet(seed, error_on(card)), tape, kind)
    return _judged(boxes, card, found.place and found.kind, found.words)


def _judged(boxes: Boxes, card: str, right: bool, words: str) -> dict[str, Any]:
    new = after_answer(boxes, card, right)
    return {"card": card, "right": right, "words": words, "boxes": unstructured(new)}
