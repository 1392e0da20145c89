"""What may lie between the verticals of a gauging, as its own readings tell.

`kernel.between` says how likely readings are, and how far mid-section errs, where a section is so
smooth and so rough. Here every one of a few dozen such choices is weighed by the readings, and all
of them count: few verticals leave many choices open, and the interval is the wider for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import product

import attrs

from bankside.gauging.between_line import Line
from bankside.kernel import between_prior
from bankside.kernel.between import between_evidence, between_variance
from bankside.kernel.between_prior import (
    SHAPE_LENGTHS,
    UNEVENNESS,
    UNEVENNESS_LENGTHS_M,
    least_variance,
    prior_weight,
    weight_of,
    weighted_sum,
)
from bankside.kernel.totals import total_of

__all__ = ["CHARACTERS", "Between", "Character", "between_over"]


@attrs.frozen
class Character:
    """How smooth and how rough a section may be: one choice of the model's three figures.

    `shape_length` is a fraction of the width, `unevenness` one of the local scale, and
    `unevenness_length_m` in m.
    """

    shape_length: float
    unevenness: float
    unevenness_length_m: float

    def _of(self, line: Line) -> tuple[float, float, float, float]:
        """Return deviation and length of the shape, unevenness and its length, for the kernel."""
        return (
            between_prior.SHAPE_DEVIATION * line.mean,
            self.shape_length * line.width_m,
            self.unevenness,
            self.unevenness_length_m,
        )

    def evidence(self, line: Line) -> float:
        """Return the logarithm of how likely the readings of a line are, but for a constant."""
        least = least_variance(line.mean)
        return between_evidence(
            line.tape_m,
            line.unit_discharge,
            [variance + least for variance in line.reading_variance],
            line.scale,
            *self._of(line),
        )

    def variance(self, line: Line) -> float:
        """Return the variance of mid-section's error between the stations of a line, m⁶/s²."""
        return between_variance(
            line.tape_m,
            line.unit_discharge,
            line.scale,
            *self._of(line),
            0,
            len(line.tape_m) - 1,
        )

    def interval_variance(self, line: Line, i: int) -> float:
        """Return that of the interval from station `i` to the next, by itself, m⁶/s²."""
        return between_variance(
            line.tape_m,
            line.unit_discharge,
            line.scale,
            *self._of(line),
            i,
            i + 1,
        )

    def cut_variance(self, line: Line, i: int, pieces: int) -> float:
        """Return that of the same interval cut into equal pieces by new stations, m⁶/s².

        The pieces' variances are added up: what two of them share is small beside each.
        """
        tape, amounts, scale = line.tape_m, line.unit_discharge, line.scale
        width = (tape[i + 1] - tape[i]) / pieces

        def at(values: Sequence[float], k: int) -> float:
            return values[i] + (values[i + 1] - values[i]) * k / pieces

        return math.fsum(
            between_variance(
                (0.0, width),
                (at(amounts, k), at(amounts, k + 1)),
                (at(scale, k), at(scale, k + 1)),
                *self._of(line),
                0,
                1,
            )
            for k in range(pieces)
        )


CHARACTERS: tuple[Character, ...] = tuple(
    Character(shape, rough, length)
    for shape, rough, length in product(SHAPE_LENGTHS, UNEVENNESS, UNEVENNESS_LENGTHS_M)
)
"""The characters that are weighed."""


@attrs.frozen
class Between:
    """The lines of a gauging, and how likely each character is after its readings.

    `weights` belong to `CHARACTERS` and add up to 1.
    """

    lines: tuple[Line, ...]
    weights: tuple[float, ...]

    @cached_property
    def variances(self) -> tuple[float, ...]:
        """The variance of mid-section's error between verticals by each character, in m⁶/s²."""
        return tuple(
            total_of([one.variance(line) for line in self.lines]) if weight > 0.0 else 0.0
            for one, weight in zip(CHARACTERS, self.weights, strict=True)
        )

    @cached_property
    def unevenness(self) -> float:
        """The unevenness that the readings make likely, on average."""
        return math.fsum(
            weight * one.unevenness for one, weight in zip(CHARACTERS, self.weights, strict=True)
        )

    @property
    def variance(self) -> float:
        """The variance of mid-section's error between verticals, in m⁶/s²."""
        return self.mean(self.variances)

    def emphases(self, place: int) -> tuple[float, ...]:
        """Return for each interval of one line how much more it leaves open than its share says.

        Shape is taken as alike all along the tape, yet kinks and banks are where straight lines err
        most: a part of what is open goes with the square of how far the stations at both ends of an
        interval lie off the straight line between their neighbours. The mean of all intervals,
        weighed by their shares, is 1.
        """
        tape, flow = self.lines[place].tape_m, self.lines[place].unit_discharge
        last = len(tape) - 1
        off = [0.0] * (last + 1)
        for j in range(1, last):
            part = (tape[j] - tape[j - 1]) / (tape[j + 1] - tape[j - 1])
            off[j] = flow[j] - flow[j - 1] - (flow[j + 1] - flow[j - 1]) * part
        off[0], off[last] = off[min(1, last)], off[max(last - 1, 0)]
        squares = [(off[i] * off[i] + off[i + 1] * off[i + 1]) / 2.0 for i in range(last)]
        shares = self.interval_shares[place]
        whole = math.fsum(shares)
        mean = math.fsum(s * q for s, q in zip(shares, squares, strict=True))
        if not (whole > 0.0 and mean > 0.0):
            return (1.0,) * last
        return tuple((1.0 - _KINKED) + _KINKED * q * whole / mean for q in squares)

    def mean(self, values: Sequence[float]) -> float:
        """Return the mean of values that belong to the characters."""
        return weighted_sum(self.weights, list(values))

    @cached_property
    def interval_shares(self) -> tuple[tuple[float, ...], ...]:
        """Which part of the variance between verticals each interval of each line has.

        Taken by itself, over the sum of all intervals of all lines; they add up to 1 over these.
        All are 0 where nothing flows.
        """
        of_lines = [tuple(self._interval_variances(one)) for one in self.lines]
        whole = math.fsum(value for values in of_lines for value in values)
        return tuple(
            tuple(value / whole if whole > 0.0 else 0.0 for value in values) for values in of_lines
        )

    def cut_variance(self, line: Line, i: int, pieces: int) -> float:
        """Return the variance from station `i` to the next, cut into equal pieces, m⁶/s²."""
        return math.fsum(
            weight * one.cut_variance(line, i, pieces)
            for one, weight in zip(CHARACTERS, self.weights, strict=True)
            if weight > 0.0
        )

    def of_the_likely(self, least: float) -> Between:
        """Return the model with those characters alone that weigh so much of the likeliest."""
        least *= max(self.weights)
        kept = [weight if weight >= least else 0.0 for weight in self.weights]
        whole = math.fsum(kept)
        return Between(self.lines, tuple(weight / whole for weight in kept))

    def _interval_variances(self, line: Line) -> Iterator[float]:
        for i in range(len(line.tape_m) - 1):
            yield math.fsum(
                weight * one.interval_variance(line, i)
                for one, weight in zip(CHARACTERS, self.weights, strict=True)
                if weight > 0.0
            )


# Which part of what is open goes with kinks: tried on simulated streams (docs/advice.md).
_KINKED = 0.3


def between_over(lines: Sequence[Line]) -> Between:
    """Return what the readings of these lines, one for each water, tell of what lies between.

    ValueError where there is no line, or nothing flows in one of them.
    """
    if not lines or any(not line.mean > 0.0 for line in lines):
        raise ValueError("there is a line, and something flows in each")
    logs = [
        total_of([one.evidence(line) for line in lines]) + math.log(prior_weight(i))
        for i, one in enumerate(CHARACTERS)
    ]
    best = max(logs)
    weights = [weight_of(log, best) for log in logs]
    whole = total_of(weights)
    return Between(tuple(lines), tuple(weight / whole for weight in weights))
