"""A parameter of a simulation: between which bounds it is drawn, in which unit, and who says so."""

import random
from statistics import NormalDist

import attrs

__all__ = ["Range", "normal", "of", "seeded"]

_QUANTILE = NormalDist().inv_cdf


@attrs.frozen
class Range:
    """A number that is drawn evenly between `low` and `high`; equal bounds make it a constant.

    `source` is a publication, "from memory", or "assumed".
    """

    low: float
    high: float
    unit: str = "1"
    source: str = "assumed"

    def draw(self, rng: random.Random) -> float:
        """Return a value of the range; one number is taken from `rng`, also for a constant."""
        return self.low + (self.high - self.low) * rng.random()


def of(low: float, high: float | None = None, unit: str = "1", source: str = "assumed") -> Range:
    """Return a range, or a constant where no upper bound is given."""
    return Range(low, low if high is None else high, unit, source)


def seeded(*words: object) -> random.Random:
    """Return a generator of random numbers that depends on the words alone, on every machine."""
    return random.Random(" ".join(["bankside practice", *map(str, words)]))


def normal(rng: random.Random) -> float:
    """Return a number of the standard normal distribution, for one number taken from `rng`.

    A third of the time of `random.gauss`, and nothing is kept between two calls.
    """
    return _QUANTILE(rng.random() or 0.5)
