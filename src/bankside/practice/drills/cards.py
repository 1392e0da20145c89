"""All cards of the drills, and which comes next for somebody."""

from __future__ import annotations

from typing import Final

from bankside.practice.drills.boxes import Boxes, next_card
from bankside.practice.drills.find_error import ERRORS, ErrorKind
from bankside.practice.drills.reading_cards import READING_CARDS

__all__ = ["CARDS", "card_and_seed", "error_on"]

_ERROR: Final = "find: "
CARDS: Final = (*READING_CARDS, *(f"{_ERROR}{kind}" for kind in ERRORS))
"""Every card: reading and setting, then a kind of error that is to be found on a sheet."""


def card_and_seed(boxes: Boxes) -> tuple[str, int]:
    """Return the card to ask, and a seed that makes another question of it in every round."""
    return next_card(boxes, CARDS), boxes.round


def error_on(card: str) -> ErrorKind | None:
    """Return the kind of error that a card has on its sheet, None for a card on reading."""
    for kind in ERRORS:
        if card == f"{_ERROR}{kind}":
            return kind
    return None
