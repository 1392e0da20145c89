"""What may lie between the verticals of a gauging, as its own readings tell.

`kernel.bridge` says how likely readings are, and how far mid-section errs, where a section is so
smooth and so rough. Here every one of a few dozen such choices is weighed by the readings, and all
of them count: few verticals leave many choices open, and the interval is the wider for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import product

import attrs

from bankside.gauging.bridge_prior import (
    ROUGHNESS,
    ROUGHNESS_LENGTHS_M,
    SHAPE_LENGTHS,
    prior_weight,
)
from bankside.kernel.bridge import (
    bridge_evidence,
    bridge_variance,
    interval_variance,
    local_scale,
)

__all__ = ["Bridge", "Character", "Line", "bridge_over"]

# How far unit discharge departs from 0 by its smooth shape, over its mean (ours, fitted).
_SHAPE_DEVIATION = 1.2
# What every reading is uncertain by at least, over the mean unit discharge: so that the edges of
# water, which are known to carry nothing, are no more than that (ours, of no weight).
_LEAST_DEVIATION = 2e-4


@attrs.frozen
class Line:
    """The stations of one water from bank to bank, as the model sees them.

    `tape_m` in m, strictly increasing; `unit_discharge` depth times mean velocity in m²/s;
    `reading_variance` the variance of each by itself, in m⁴/s². Edges of water are among them.
    """

    tape_m: tuple[float, ...]
    unit_discharge: tuple[float, ...]
    reading_variance: tuple[float, ...]

    @cached_property
    def width_m(self) -> float:
        """From the first station to the last."""
        return self.tape_m[-1] - self.tape_m[0]

    @cached_property
    def mean(self) -> float:
        """The mean amount of unit discharge, in m²/s."""
        tape, amounts = self.tape_m, self.unit_discharge
        total = 0.0
        for i in range(len(tape) - 1):
            total += (tape[i + 1] - tape[i]) * (abs(amounts[i]) + abs(amounts[i + 1])) / 2.0
        return total / self.width_m

    @cached_property
    def scale(self) -> tuple[float, ...]:
        """How large roughness is at each station, for a roughness of 1."""
        return tuple(
            local_scale(self.tape_m, self.unit_discharge, i) for i in range(len(self.tape_m))
        )

    def with_station(self, tape_m: float) -> Line:
        """Return the line with one more station, on the straight line between its neighbours.

        What would be read there nobody knows; the variance between verticals rests on where
        stations are, not on what they read. ValueError where there is one, or beyond the ends.
        """
        tape = self.tape_m
        if not tape[0] < tape_m < tape[-1] or tape_m in tape:
            raise ValueError("a new station lies between two others")
        after = next(i for i in range(len(tape)) if tape[i] > tape_m)
        part = (tape_m - tape[after - 1]) / (tape[after] - tape[after - 1])

        def put_in(values: Sequence[float]) -> tuple[float, ...]:
            low, high = values[after - 1], values[after]
            return (*values[:after], low + (high - low) * part, *values[after:])

        return Line(
            (*tape[:after], tape_m, *tape[after:]),
            put_in(self.unit_discharge),
            put_in(self.reading_variance),
        )


@attrs.frozen
class Character:
    """How smooth and how rough a section may be: one choice of the model's three figures.

    `shape_length` is a fraction of the width, `roughness` one of the local scale, and
    `roughness_length_m` in m.
    """

    shape_length: float
    roughness: float
    roughness_length_m: float

    def evidence(self, line: Line) -> float:
        """Return the logarithm of how likely the readings of a line are, but for a constant."""
        least = (_LEAST_DEVIATION * line.mean) ** 2
        return bridge_evidence(
            line.tape_m,
            line.unit_discharge,
            [variance + least for variance in line.reading_variance],
            line.scale,
            _SHAPE_DEVIATION * line.mean,
            self.shape_length * line.width_m,
            self.roughness,
            self.roughness_length_m,
        )

    def variance(self, line: Line) -> float:
        """Return the variance of mid-section's error between the stations of a line, m⁶/s²."""
        return bridge_variance(
            line.tape_m,
            line.unit_discharge,
            line.scale,
            _SHAPE_DEVIATION * line.mean,
            self.shape_length * line.width_m,
            self.roughness,
            self.roughness_length_m,
        )

    def interval_variance(self, line: Line, i: int) -> float:
        """Return that of the interval from station `i` to the next, by itself, m⁶/s²."""
        return interval_variance(
            line.tape_m,
            line.unit_discharge,
            line.scale,
            _SHAPE_DEVIATION * line.mean,
            self.shape_length * line.width_m,
            self.roughness,
            self.roughness_length_m,
            i,
        )


CHARACTERS: tuple[Character, ...] = tuple(
    Character(shape, rough, length)
    for shape, rough, length in product(SHAPE_LENGTHS, ROUGHNESS, ROUGHNESS_LENGTHS_M)
)
"""The characters that are weighed."""


@attrs.frozen
class Bridge:
    """The lines of a gauging, and how likely each character is after its readings.

    `weights` belong to `CHARACTERS` and add up to 1.
    """

    lines: tuple[Line, ...]
    weights: tuple[float, ...]

    @cached_property
    def variances(self) -> tuple[float, ...]:
        """The variance of mid-section's error between verticals by each character, in m⁶/s²."""
        return tuple(
            math.fsum(one.variance(line) for line in self.lines) if weight > 0.0 else 0.0
            for one, weight in zip(CHARACTERS, self.weights, strict=True)
        )

    @cached_property
    def roughness(self) -> float:
        """The roughness that the readings make likely, on average."""
        return math.fsum(
            weight * one.roughness for one, weight in zip(CHARACTERS, self.weights, strict=True)
        )

    @property
    def variance(self) -> float:
        """The variance of mid-section's error between verticals, in m⁶/s²."""
        return self.mean(self.variances)

    def mean(self, values: Sequence[float]) -> float:
        """Return the mean of values that belong to the characters."""
        return math.fsum(w * value for w, value in zip(self.weights, values, strict=True))

    def interval_shares(self, line: Line) -> tuple[float, ...]:
        """Return which part of the variance between verticals each interval of a line has.

        Taken by itself, over the sum of all intervals of all lines; they add up to 1 over these.
        All are 0 where nothing flows.
        """
        of_lines = [tuple(self._interval_variances(one)) for one in self.lines]
        whole = math.fsum(value for values in of_lines for value in values)
        here = of_lines[self.lines.index(line)]
        return tuple(value / whole if whole > 0.0 else 0.0 for value in here)

    def _interval_variances(self, line: Line) -> Iterator[float]:
        for i in range(len(line.tape_m) - 1):
            yield math.fsum(
                weight * one.interval_variance(line, i)
                for one, weight in zip(CHARACTERS, self.weights, strict=True)
                if weight > 0.0
            )


# A character that is so much less likely than the best one has no say: its weight is below what a
# figure resolves.
_NO_SAY = 1e-6


def bridge_over(lines: Sequence[Line]) -> Bridge:
    """Return what the readings of these lines, one for each water, tell of what lies between.

    ValueError where there is no line, or nothing flows in one of them.
    """
    if not lines or any(not line.mean > 0.0 for line in lines):
        raise ValueError("there is a line, and something flows in each")
    logs = [
        math.fsum(one.evidence(line) for line in lines) + math.log(prior_weight(i))
        for i, one in enumerate(CHARACTERS)
    ]
    best = max(logs)
    weights = [math.exp(log - best) for log in logs]
    weights = [weight if weight > _NO_SAY else 0.0 for weight in weights]
    whole = math.fsum(weights)
    return Bridge(tuple(lines), tuple(weight / whole for weight in weights))
