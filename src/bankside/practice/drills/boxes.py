"""Which card comes next: what was wrong soon again, what was right later and later.

The boxes of Leitner (from memory): a card that is answered rightly goes one box up, one that is
answered wrongly back to the first. A card in box k comes up every 2^(k − 1) rounds.
"""

from collections.abc import Iterator
from typing import ClassVar, Final

import attrs

from bankside.gauging.checked import Checked, Rule
from bankside.gauging.faults import Fault
from bankside.gauging.fields import Index, Many, Text, about
from bankside.gauging.journal.kinds import Counted

__all__ = ["MOST_BOX", "Boxes", "CardState", "after_answer", "next_card"]

MOST_BOX: Final = 5
"""How many boxes there are."""


def _in_a_box(state: "CardState") -> Iterator[Fault]:
    """There are so many boxes and no more."""
    if state.box > MOST_BOX:
        yield Fault(f"box must be from 1 to {MOST_BOX} (got {state.box})", path="box")


@attrs.frozen
class CardState(Checked):
    """Where a card is: its box, from 1, the round in which it is due, and how it went so far."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("box",), _in_a_box),)

    card: str = attrs.field(metadata=about(Text(), "the card"))
    box: int = attrs.field(metadata=about(Counted(), "the box it is in"))
    due: int = attrs.field(metadata=about(Index(), "the round in which it comes up again"))
    right: int = attrs.field(
        default=0, metadata=about(Index(), "how often it was answered rightly")
    )
    wrong: int = attrs.field(default=0, metadata=about(Index(), "how often wrongly"))


@attrs.frozen
class Boxes(Checked):
    """The cards of one person; a round is one answer."""

    round: int = attrs.field(default=0, metadata=about(Index(), "how many answers were given"))
    cards: tuple[CardState, ...] = attrs.field(
        default=(), metadata=about(Many(CardState), "the cards that were asked before")
    )

    def state(self, card: str) -> CardState:
        """Return where a card is; one that never came up is in the first box, and due."""
        for one in self.cards:
            if one.card == card:
                return one
        return CardState(card, 1, 0)


def next_card(boxes: Boxes, cards: tuple[str, ...]) -> str:
    """Return the card to ask: of those that are due the one longest due, lower boxes first.

    Where none is due, the one that is due first. ValueError without cards.
    """
    if not cards:
        raise ValueError("there must be a card to ask")
    order = {card: place for place, card in enumerate(cards)}
    states = [boxes.state(card) for card in cards]
    due = [one for one in states if one.due <= boxes.round]
    if due:
        return min(due, key=lambda one: (one.box, one.due, order[one.card])).card
    return min(states, key=lambda one: (one.due, one.box, order[one.card])).card


def after_answer(boxes: Boxes, card: str, right: bool) -> Boxes:
    """Return the boxes after a card was answered."""
    was, now = boxes.state(card), boxes.round + 1
    box = min(MOST_BOX, was.box + 1) if right else 1
    new = CardState(
        card,
        box,
        now + 2 ** (box - 1),
        was.right + right,
        was.wrong + (not right),
    )
    others = tuple(one for one in boxes.cards if one.card != card)
    return Boxes(now, (*others, new))
