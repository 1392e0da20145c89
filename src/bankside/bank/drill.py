"""Drills of reading and of finding errors: a question, and what an answer to it is worth."""

from __future__ import annotations

from typing import Any

from bankside.bank.request import Request
from bankside.gauging.faults import Fault, InputRefused
from bankside.practice.drills.as_json import ask_drill, boxes_of, judge_answer, judge_sheet
from bankside.practice.drills.cards import card_and_seed, error_on

__all__ = ["drill", "drill_answer"]


def drill(request: Request) -> dict[str, Any]:
    """Return the next question for somebody with these boxes; its answer is not in it."""
    boxes = request.document("boxes")
    request.done()
    return ask_drill(boxes_of(boxes))


def drill_answer(request: Request) -> dict[str, Any]:
    """Return whether the answer to the present question is right, and the new boxes."""
    document, answer = request.document("boxes"), request.text("answer")
    tape, kind = request.figure("tape"), request.text("kind")
    request.done()
    boxes = boxes_of(document)
    card, _ = card_and_seed(boxes)
    if error_on(card) is None:
        if answer is None:
            raise InputRefused([Fault("answer must be given for this question", path="answer")])
        return judge_answer(boxes, answer)
    if tape is None or kind is None:
        raise InputRefused([Fault("tape and kind must be given for this sheet", path="tape")])
    return judge_sheet(boxes, float(tape), kind)
