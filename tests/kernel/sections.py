"""Sections made up for tests: at random, and as strategies for Hypothesis."""

import random
from typing import NamedTuple

from hypothesis import strategies as st


class Section(NamedTuple):
    tape: list[float]
    depth: list[float]
    velocity: list[float]


def random_section(rng: random.Random) -> Section:
    """A section of 2 to 40 verticals with dry places, steep banks and water that runs back."""
    count = rng.randint(2, 40)
    tape = [rng.uniform(-5.0, 20.0)]
    for _ in range(count - 1):
        tape.append(tape[-1] + rng.uniform(0.01, 2.0))
    depth = [rng.choice((0.0, rng.uniform(0.0, 1.5), rng.uniform(0.0, 1.5))) for _ in tape]
    velocity = [rng.choice((0.0, -0.0, rng.gauss(0.4, 0.5), rng.gauss(0.4, 0.5))) for _ in tape]
    if rng.random() < 0.7:
        depth[0] = depth[-1] = 0.0
    return Section(tape, depth, velocity)


def sixteenths(least: float, most: float) -> st.SearchStrategy[float]:
    """Numbers n/16: sums and products of three of them are exact in floating point."""
    return st.integers(int(least * 16), int(most * 16)).map(lambda n: n / 16)


DEPTHS = st.one_of(st.just(0.0), sixteenths(0, 3))
VELOCITIES = sixteenths(-1, 3)


@st.composite
def sections(
    draw: st.DrawFn,
    least: int = 2,
    depths: st.SearchStrategy[float] = DEPTHS,
    velocities: st.SearchStrategy[float] = VELOCITIES,
) -> Section:
    """Sections on a grid of sixteenths, so that what is equal on paper is equal to the bit."""
    steps = draw(st.lists(sixteenths(1 / 16, 4), min_size=least - 1, max_size=15))
    tape = [draw(sixteenths(-8, 8))]
    for step in steps:
        tape.append(tape[-1] + step)
    count = len(tape)
    depth = draw(st.lists(depths, min_size=count, max_size=count))
    velocity = draw(st.lists(velocities, min_size=count, max_size=count))
    return Section(tape, depth, velocity)


# Sections in which no water runs back.
forward = sections(velocities=sixteenths(0, 3))
