"""The tape as it is read: lengths in exact decimals, and positions that stand on its graduations.

0.1 ft steps stay 3.3 and never become 3.3000000000000003. Inside, positions are counted in
graduations from the tape's zero, as exact fractions, so that nothing is rounded before the end.
"""

import math
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Final

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.units import LengthUnit, metres_per

__all__ = [
    "Tape",
    "is_length",
    "length_in_words",
    "nearest",
    "nearest_onward",
    "on_graduations",
    "tape_between",
]

# Distances on a tape: below a million of any unit, with six decimals at most.
_MOST_LENGTH: Final = 10**6
_DECIMALS: Final = 6
_MOST_DIGITS: Final = 30


@attrs.frozen
class Tape:
    """The tape between two edges, counted in graduations that grow from the one to the other.

    `sign` is -1 where the figures on the tape fall on the way. `step` is the fewest graduations
    between neighbouring verticals, and `limit` says in words what sets it.
    """

    start: Fraction
    end: Fraction
    step: int
    sign: int
    resolution: Decimal
    unit: LengthUnit
    limit: str

    @property
    def width(self) -> Fraction:
        """The distance between the edges."""
        return self.end - self.start

    @property
    def first(self) -> int:
        """The first graduation after the edge at the start."""
        return math.floor(self.start) + 1

    @property
    def last(self) -> int:
        """The last graduation before the edge at the end."""
        return math.ceil(self.end) - 1

    @property
    def room(self) -> int:
        """How many verticals at most keep the step."""
        return (self.last - self.first) // self.step + 1

    def position(self, graduation: int) -> Decimal:
        """Return what the tape says at a graduation."""
        return self.sign * graduation * self.resolution

    def length(self, graduations: Fraction) -> Decimal:
        """Return a distance in the tape's unit, to a hundredth of a graduation."""
        return round(graduations * 100) * self.resolution / 100

    def words(self, graduations: Fraction) -> str:
        """Return a distance as it is written in a sentence."""
        return length_in_words(self.length(graduations), self.unit)


def tape_between(
    edges: tuple[Decimal, Decimal],
    *,
    names: tuple[str, str],
    unit: LengthUnit,
    resolution: Decimal,
    minimum_spacing: Decimal | None,
) -> Tape:
    """Return the tape from the first edge to the second; all lengths are in `unit`.

    InputRefused if a length makes no sense or no graduation lies between the edges; `names` tell
    the edges apart in those sentences.
    """
    metres_per(unit)  # refuses a unit that it does not know
    lengths = {**dict(zip(names, edges, strict=True)), "tape's resolution": resolution}
    lengths |= {} if minimum_spacing is None else {"minimum spacing": minimum_spacing}
    faults = [
        Fault(f"the {name} must be a length below 1000000 with at most 6 decimals (got {value})")
        for name, value in lengths.items()
        if not is_length(value)
    ]
    if faults:
        raise InputRefused(faults)
    if resolution <= 0 or (minimum_spacing is not None and minimum_spacing <= 0):
        raise InputRefused([Fault("the tape's resolution and minimum spacing must be above 0")])
    spacing = minimum_spacing or Decimal(0)
    sign = 1 if edges[1] > edges[0] else -1
    tape = Tape(
        start=sign * Fraction(edges[0]) / Fraction(resolution),
        end=sign * Fraction(edges[1]) / Fraction(resolution),
        step=max(1, math.ceil(Fraction(spacing) / Fraction(resolution))),
        sign=sign,
        resolution=resolution,
        unit=unit,
        limit=f"the minimum spacing of {length_in_words(spacing, unit)}"
        if spacing > resolution
        else f"the tape, read to {length_in_words(resolution, unit)},",
    )
    if tape.last < tape.first:
        got = " and ".join(length_in_words(edge, unit) for edge in edges)
        raise InputRefused(
            [
                Fault(
                    f"there must be a graduation of the tape between the edges (got {got} on a "
                    f"tape read to {length_in_words(resolution, unit)})"
                )
            ]
        )
    return tape


def is_length(length: Decimal) -> bool:
    """Return whether this can be a length on a tape: finite, and neither too long nor too fine."""
    exponent = length.as_tuple().exponent
    # A bound on the exponent first: 1e-999999999 as a fraction would fill the memory.
    if not isinstance(exponent, int) or abs(exponent) > _MOST_DIGITS or abs(length) >= _MOST_LENGTH:
        return False
    return (Fraction(length) * 10**_DECIMALS).denominator == 1


def on_graduations(wanted: Sequence[Fraction], tape: Tape) -> list[int]:
    """Return the graduations nearest to what is wanted, inside the edges and a step or more apart.

    Taking k steps off the k-th position turns "a step apart" into "never falling"; neighbours that
    fall are pooled at their mean, which moves them least in the sense of least squares.
    """
    pools: list[tuple[Fraction, int]] = []
    for k, position in enumerate(wanted):
        total, count = position - k * tape.step, 1
        while pools and pools[-1][0] * count >= total * pools[-1][1]:
            total, count = total + pools[-1][0], count + pools[-1][1]
            pools.pop()
        pools.append((total, count))
    levels = [total / count for total, count in pools for _ in range(count)]
    highest = tape.last - (len(wanted) - 1) * tape.step
    return [
        min(max(nearest(level), tape.first), highest) + k * tape.step
        for k, level in enumerate(levels)
    ]


def nearest(value: Fraction) -> int:
    """Return the nearest whole number; of two equally near, the one closer to the start."""
    return math.ceil(value - Fraction(1, 2))


def nearest_onward(value: Fraction) -> int:
    """Return the nearest whole number; of two equally near, the one further from the start."""
    return math.floor(value + Fraction(1, 2))


def length_in_words(length: Decimal, unit: LengthUnit) -> str:
    """Return a length with its unit, without zeros at its end."""
    return f"{length.normalize():f} {unit}"
