"""Simulated gaugings whose true discharge is known: those that figures are fitted on, and others.

Each gauging has its own stream, so that they err independently of each other. The seeds of the
gaugings that judge lie beyond all that are fitted on.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Iterable, Iterator
from itertools import product
from multiprocessing import get_context
from typing import Literal, TypeVar, get_args

import attrs

from bankside.gauging.records import Gauging
from bankside.practice.crew import CAREFUL, PERFECT, Crew, draw_crew
from bankside.practice.making import make_stream
from bankside.practice.measuring import even_positions
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.simulated_gauging import simulate_gauging
from bankside.practice.stream import SimulatedStream
from bankside.practice.wading import Wading

__all__ = ["CREWS", "FITTING", "JUDGING", "VERTICALS", "Case", "CrewName", "cases", "in_parallel"]

CrewName = Literal["perfect", "careful", "drawn"]
CREWS: tuple[CrewName, ...] = get_args(CrewName)
VERTICALS = (8, 10, 12, 15, 20, 25, 30, 40)
"""How many verticals a crew sets out to place."""

FITTING, JUDGING = 0, 10_000_000
"""The first seeds of either."""

# A crew sets its rod no nearer to where it stood than this, in m (assumed).
_NEAREST = 0.1
# One gauging in so many has unequal distances (assumed), where the largest is so many times the
# smallest at most.
_UNEVEN_EVERY, _LARGEST_GAP = 4, 4.0

Given = TypeVar("Given")
Found = TypeVar("Found")


@attrs.frozen
class Case:
    """One simulated gauging: a stream of this type, how it is measured, and the seed of all."""

    kind: str
    verticals: int
    crew: CrewName
    seed: int

    def stream(self) -> SimulatedStream:
        """Return the first stream from the seed on that is wide enough for so many verticals."""
        attempts = (make_stream(self.kind, self.seed + i) for i in range(100))
        least = (self.verticals + 1) * _NEAREST
        return next(one for one in attempts if one.drawn["width"] >= least)

    def gauging(self, stream: SimulatedStream) -> Gauging:
        """Return the record that the crew makes of the stream, free of blunders."""
        crew = self._crew()
        positions: int | list[float] = self.verticals
        if self.seed // 200 % _UNEVEN_EVERY == 0:
            positions = self._uneven(stream, crew)
        return simulate_gauging(stream, crew, self.seed, positions).gauging

    def _crew(self) -> Crew:
        if self.crew == "drawn":
            drawn = draw_crew(self.seed, in_feet=self.seed // 100 % 2 == 1)
            return attrs.evolve(drawn, mistakes=0.0)
        return PERFECT if self.crew == "perfect" else CAREFUL

    def _uneven(self, stream: SimulatedStream, crew: Crew) -> list[float]:
        """Return positions at unequal distances, nearer together where the water is deep."""
        left, right = (edge.tape_m for edge in Wading(stream, crew, self.seed).edges())
        rng = random.Random(self.seed)
        deepest = max(stream.depths)
        gaps = [
            rng.uniform(1.0, _LARGEST_GAP / 2.0) * (2.0 - stream.depth_at(y) / deepest)
            for y in [*even_positions(left, right, self.verticals), right]
        ]
        per_gap, at, positions = (right - left) / sum(gaps), left, []
        for gap in gaps[:-1]:
            at += gap * per_gap
            positions.append(at)
        return positions


def cases(first_seed: int, of_each: int, crews: Iterable[CrewName] = CREWS) -> Iterator[Case]:
    """Yield so many cases of each section type, number of verticals and crew."""
    seed = first_seed
    for kind, verticals, crew, _ in product(SECTION_TYPES, VERTICALS, crews, range(of_each)):
        yield Case(kind, verticals, crew, seed)
        seed += 100  # the seeds between are tried where a stream is too narrow


def in_parallel(work: Callable[[Given], Found], given: Iterable[Given]) -> list[Found]:
    """Return what the work finds for each, in their order, on all processors."""
    listed = list(given)
    with get_context("fork").Pool(os.cpu_count()) as pool:
        return pool.map(work, listed, chunksize=20)
