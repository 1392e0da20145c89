"""Mistakes in what is called or written down, each beside what it should have been."""

import random
from collections.abc import Callable, Sequence
from typing import Literal

import attrs

from bankside.gauging.records import Vertical

__all__ = ["Mistake", "MistakeKind", "one_mistake", "with_mistakes"]

MistakeKind = Literal[
    "decimal slip",
    "digits swapped",
    "metres and feet",
    "depth and velocity exchanged",
    "vertical doubled",
    "edge forgotten",
]
Change = Callable[[float], float]

_METRE_IN_FEET = 1.0 / 0.3048
# How many decimals a crew writes down at most (ours).
_DECIMALS = 3


@attrs.frozen
class Mistake:
    """One mistake: the vertical as it was read, and as it stands in the gauging.

    `called` is None where an edge of water was left out.
    """

    kind: MistakeKind
    read: Vertical
    called: Vertical | None


def with_mistakes(
    verticals: Sequence[Vertical], chance: float, rng: random.Random
) -> tuple[tuple[Vertical, ...], tuple[Mistake, ...]]:
    """Return verticals of which each has a mistake with this chance, and the mistakes made.

    An edge of water can only be forgotten. Elsewhere one of the mistakes is made that change what
    the vertical says; where it is dry there is none.
    """
    called: list[Vertical] = []
    mistakes: list[Mistake] = []
    for place, read in enumerate(verticals):
        if rng.random() >= chance:
            called.append(read)
            continue
        before = verticals[place - 1] if place else None
        made = one_mistake(read, before, rng)
        if made is None:
            called.append(read)
            continue
        mistakes.append(made)
        called += [made.called] if made.called else []
    return tuple(called), tuple(mistakes)


def one_mistake(read: Vertical, before: Vertical | None, rng: random.Random) -> Mistake | None:
    """Return the mistake that is made at a vertical, None where there is no figure to spoil.

    before: the vertical before it, whose readings may be written again.
    """
    if read.edge is not None:
        return Mistake("edge forgotten", read, None)
    spoil = rng.choice((_spoilt_depth, _spoilt_velocity))
    up = rng.random() < 0.5
    ways: dict[MistakeKind, Vertical] = {
        "decimal slip": spoil(read, lambda x: x * 10.0 if up else x / 10.0),
        "digits swapped": spoil(read, _swapped),
        "metres and feet": spoil(read, lambda x: x * _METRE_IN_FEET if up else x / _METRE_IN_FEET),
        "depth and velocity exchanged": _exchanged(read),
        "vertical doubled": _doubled(read, before),
    }
    possible = [kind for kind, called in ways.items() if called != read]
    if not possible:
        return None
    kind = rng.choice(possible)
    return Mistake(kind, read, ways[kind])


def _spoilt_depth(read: Vertical, change: Change) -> Vertical:
    return _with_depth(read, change(read.depth or 0.0))


def _spoilt_velocity(read: Vertical, change: Change) -> Vertical:
    """Spoil the first of the velocities."""
    if not read.velocity:
        return read
    return _with_velocity(read, change(read.velocity[0].value or 0.0))


def _with_depth(read: Vertical, depth: float) -> Vertical:
    """Return the vertical with another depth; itself where no depth would be left."""
    depth = round(depth, _DECIMALS)
    return attrs.evolve(read, depth=depth) if read.depth and depth > 0.0 else read


def _with_velocity(read: Vertical, velocity: float) -> Vertical:
    first, *others = read.velocity
    spoilt = attrs.evolve(first, value=round(velocity, _DECIMALS))
    return attrs.evolve(read, velocity=(spoilt, *others))


def _swapped(figure: float) -> float:
    """Return a figure with its two last decimals of hundredths exchanged: 0.36 becomes 0.63."""
    hundredths = round(abs(figure) * 100.0)
    tens, ones = divmod(hundredths % 100, 10)
    swapped = (hundredths - hundredths % 100 + ones * 10 + tens) / 100.0
    return -swapped if figure < 0.0 else swapped


def _exchanged(read: Vertical) -> Vertical:
    """Return the vertical with its one velocity, if it runs downstream, in the place of depth."""
    velocity = read.velocity[0].value if len(read.velocity) == 1 else None
    if not read.depth or not velocity or velocity < 0.0:
        return read
    return _with_velocity(_with_depth(read, velocity), read.depth)


def _doubled(read: Vertical, before: Vertical | None) -> Vertical:
    """Return the vertical with the readings of the one before it, called or written again."""
    if before is None or not before.velocity or not before.depth or read.dry:
        return read
    return attrs.evolve(read, depth=before.depth, velocity=before.velocity)
