"""Cards on rod and tape: read them, set them, and keep tenths apart from inches."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Final

from bankside.gauging.rod import rod_points, scale_for
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.practice.drills.question import Question
from bankside.practice.parameters import seeded

__all__ = ["READING_CARDS", "reading_question"]

_ROD: Final = "A top-setting rod holds the meter at 0.4 of its setting above the bed (from memory)."
_INCHES: Final = (
    "A foot has 12 inches and 10 tenths: inches are divided by 12. Tenths, never inches: Missouri "
    "Stream Team discharge guidance (read)."
)
_NO_SOURCE: Final = "(common practice, no source)"
_HUNDREDTH: Final = Decimal("0.01")


def reading_question(card: str, seed: int) -> Question:
    """Return the question of a card that belongs to a seed; KeyError for an unknown card."""
    return READING_CARDS[card](card, seeded("drill", card, seed))


def _rod_in_metres(card: str, rng: random.Random) -> Question:
    depth = _hundredths(rng, 8, 95)
    return _rod(card, depth, "m", "a mark every centimetre, two at 5 and three at 10", rng)


def _rod_in_feet(card: str, rng: random.Random) -> Question:
    words = "a mark every tenth, two at the half foot and three at the foot"
    return _rod(card, _hundredths(rng, 25, 290), "ft", words, rng)


def _rod(card: str, depth: Decimal, unit: str, marks: str, rng: random.Random) -> Question:
    """Ask for a depth at a rod: the surface swings, and heaps up on the side of the flow.

    marks: how the rod is marked, in words.
    """
    swing = _hundredths(rng, 1, 3)
    return Question(
        card,
        f"Read the depth on the rod in {unit}, to a hundredth: {marks}.",
        {
            "draw": "rod",
            "unit": unit,
            "surface": float(depth),
            "swing": float(swing),
            "heaped": float(swing * 2),
        },
        depth,
        max(_HUNDREDTH, swing / 2),
        unit,
        f"Read the middle of the swing, at the side of the rod, not where water heaps up "
        f"{_NO_SOURCE}.",
    )


def _tape(card: str, rng: random.Random) -> Question:
    """Ask where the water ends on a tape, from whichever side it is read."""
    mark = _hundredths(rng, 120, 1890)
    if rng.random() < 0.4:
        # Where most are misread: just below the next whole number.
        mark = mark.to_integral_value() - _hundredths(rng, 1, 8)
    backwards = rng.random() < 0.5
    return Question(
        card,
        "Read the tape where the water ends, to a hundredth of a metre."
        + (" You stand on the far side: numbers grow to the left." if backwards else ""),
        {"draw": "tape", "unit": "m", "edge": float(mark), "backwards": backwards},
        mark,
        _HUNDREDTH,
        "m",
        f"The whole number is the one that was passed, not the one that is nearest {_NO_SOURCE}.",
    )


def _setting(card: str, rng: random.Random) -> Question:
    """Ask what the scale of a top-setting rod is set to."""
    # As often where two points are read as where one is.
    depth = _hundredths(rng, *rng.choice(((30, 249), (250, 320))))
    points = rod_points(depth, "ft", load_rule_set(BASE))
    fraction = Decimal(str(rng.choice(points).fraction))
    return Question(
        card,
        f"The depth is {depth} ft. What is the scale of the top-setting rod set to for {fraction} "
        "of the depth below the surface?",
        {"draw": "setting", "unit": "ft", "depth": float(depth), "fraction": float(fraction)},
        scale_for(depth, fraction).normalize() + Decimal("0.00"),
        _HUNDREDTH,
        "ft",
        f"The depth itself for 0.6, twice of it for 0.2, half of it for 0.8. {_ROD}",
    )


def _inches(card: str, rng: random.Random) -> Question:
    """Ask for feet and inches in tenths of a foot."""
    feet, inches = rng.randrange(0, 3), rng.randrange(1, 12)
    value = feet + Decimal(inches) / 12
    return Question(
        card,
        f"Somebody calls {feet} feet {inches} inches. What is written, in feet with two decimals?",
        {"draw": "words", "feet": feet, "inches": inches},
        value.quantize(_HUNDREDTH),
        _HUNDREDTH,
        "ft",
        _INCHES,
    )


def _spacing(card: str, rng: random.Random) -> Question:
    """Ask for the spacing of equally spaced verticals."""
    count, step = rng.choice((19, 24, 29)), _hundredths(rng, 20, 90)
    left = _hundredths(rng, 10, 300)
    right = left + step * (count + 1)
    # The width over the number of verticals is what is done wrongly: it lies step / count away.
    within = min(_HUNDREDTH, (step / count * Decimal("0.4")).quantize(Decimal("0.0001")))
    return Question(
        card,
        f"The edges of water are at {left} and {right} m. How far apart are {count} equally spaced "
        "verticals, in m?",
        {"draw": "edges", "left": float(left), "right": float(right), "verticals": count},
        step,
        within,
        "m",
        f"There is one gap more than verticals: the width over {count + 1} {_NO_SOURCE}.",
    )


def _hundredths(rng: random.Random, low: int, high: int) -> Decimal:
    return Decimal(rng.randint(low, high)).scaleb(-2)


READING_CARDS: Final[Mapping[str, Callable[[str, random.Random], Question]]] = {
    "rod in metres": _rod_in_metres,
    "rod in feet": _rod_in_feet,
    "tape": _tape,
    "setting of the rod": _setting,
    "inches and tenths": _inches,
    "spacing": _spacing,
}
"""Every card on reading and setting, from easy to hard."""
