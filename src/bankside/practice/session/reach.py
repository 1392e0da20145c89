"""A reach with several sections to choose from: one discharge, one section clearly better."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import count, islice
from typing import Any, Final

import attrs

from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.kernel.discharge import mid_section_discharge
from bankside.practice.making import stream_of
from bankside.practice.parameters import Range, seeded
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.session.high_water import HighWater, Signs, high_water, strength
from bankside.practice.session.practice_streams import PRACTICE_STREAMS, PracticeStream
from bankside.practice.session.water import Water
from bankside.practice.stream import SimulatedStream

__all__ = ["Candidate", "Reach", "calmed", "make_reach", "section_error"]

_NAMES: Final = ("A", "B", "C")
# By how much what makes a section bad is less in the better one (ours).
_CALMER: Final = 0.35
_ROUGH: Final = (
    *("bed_roughness", "bed_waves", "stones", "weed_share", "velocity_roughness"),
    *("angle", "angle_deviation", "distortion", "intensity", "pulsation", "softness"),
)
# The better section errs no more than this part of what the next one does (ours).
_CLEARLY: Final = 0.5
# Velocities of a section are changed by no more than this factor to give it the discharge (ours).
_FACTOR: Final = 1.8
# The better section stays so far below the limits from which the leader decides (ours): a point is
# read faster than the mean of its vertical, and no weaker section is to be preferred to it.
_WELL_BELOW: Final = 0.8
_VERTICALS: Final = 20
_OFFSETS: Final = 8
_HOUR: Final = 3600.0
# Of so many calm sections the better one is taken, and so many others are looked at (ours).
_TRIED: Final = 3
_SEARCHED: Final = 30

_Made = list[tuple[SectionType, SimulatedStream, float]]


@attrs.frozen(eq=False)
class Candidate:
    """A section of a reach, `along` metres below its upper end, as it is and after clearing.

    `error` is the root mean square of what 20 equally spaced verticals without any other error are
    off, over several ways to begin, as a part of the discharge.
    """

    name: str
    along: float
    water: Water
    cleared: Water
    error: float


@attrs.frozen(eq=False)
class Reach:
    """The sections of a practice stream; `best` is the name of the better one.

    `high` is the water in which nobody should go in, None where it can be waded.
    """

    kind: PracticeStream
    seed: int
    sections: tuple[Candidate, ...]
    best: str
    high: HighWater | None = None

    @property
    def signs(self) -> Signs:
        """What shows from the bank beside the sections."""
        return Signs() if self.high is None else self.high.signs

    def wood_below(self, section: Candidate) -> float | None:
        """Return how far below a section wood lies across the water, in m; None where none does."""
        wood = self.signs.wood
        return None if wood is None else self.sections[-1].along + wood - section.along

    def section(self, name: str) -> Candidate:
        """Return a section by its name; KeyError where there is none."""
        for one in self.sections:
            if one.name == name:
                return one
        raise KeyError(name)


@lru_cache(maxsize=16)
def make_reach(name: str, seed: int) -> Reach:
    """Return the reach of a practice stream that belongs to a seed, the same one everywhere.

    KeyError for a stream that does not exist.
    """
    kind = PRACTICE_STREAMS[name]
    rng = seeded("reach", name, seed)
    high = high_water(name, seed) if kind.swells else None
    made = next(found for _ in count() if (found := _drawn(kind, high, rng)) is not None)
    first = made[0][1]
    order = list(range(len(made)))
    rng.shuffle(order)
    along, sections, best = 0.0, [], ""
    for letter, place in zip(_NAMES, order, strict=True):
        section_type, stream, error = made[place]
        along += 12.0 + 20.0 * rng.random()
        cleared = _carrying(_cleared(section_type, stream), first.discharge)
        water, bare = _water(kind, high, stream), _water(kind, high, cleared)
        sections.append(Candidate(letter, round(along, 1), water, bare, error))
        best = letter if place == 0 else best
    return Reach(kind, seed, tuple(sections), best, high)


def _drawn(kind: PracticeStream, high: HighWater | None, rng: random.Random) -> _Made | None:
    """Return the sections of a reach, the better one first; None where they do not go together."""
    bad, beside = SECTION_TYPES[kind.kind], SECTION_TYPES[kind.beside]
    if high is not None:
        bad, beside = high.swollen(bad), high.swollen(beside)
    first_fits = _is_easily_waded if high is None else high.holds
    fits = _is_waded if high is None else high.holds
    calm = calmed(bad)
    tried = islice(_streams(calm, rng.getrandbits(32)), _TRIED)
    errors = [
        (section_error(one), place, one) for place, one in enumerate(tried) if first_fits(one)
    ]
    if not errors:
        return None
    best_error, _, first = min(errors)
    made = [(calm, first, best_error)]
    for section_type in (bad, beside):
        for stream in _fitting(section_type, rng.getrandbits(32), first, fits):
            error = section_error(stream)
            if error * _CLEARLY >= best_error:
                made.append((section_type, stream, error))
                break
        else:
            return None
    return made


def calmed(section_type: SectionType) -> SectionType:
    """Return a section type with less of all that makes a gauging hard, in the same form."""
    changes: dict[str, Any] = {}
    for name in _ROUGH:
        drawn: Range = getattr(section_type, name)
        low, high = drawn.low * _CALMER, drawn.high * _CALMER
        changes[name] = attrs.evolve(drawn, low=low, high=high)
    return attrs.evolve(section_type, name=f"calm {section_type.name}", **changes)


def section_error(stream: SimulatedStream) -> float:
    """Return how far 20 verticals without other errors are off, as a part of the discharge.

    The root mean square over eight ways to begin.
    """
    width, total = stream.right - stream.left, 0.0
    for offset in range(_OFFSETS):
        part = (offset + 0.5) / _OFFSETS
        tapes = [stream.left + width * (i + part) / _VERTICALS for i in range(_VERTICALS)]
        tapes = [stream.left, *tapes, stream.right]
        depths = [stream.depth_at(tape) for tape in tapes]
        velocities = [stream.velocity_at(tape) for tape in tapes]
        off = mid_section_discharge(tapes, depths, velocities) / stream.discharge - 1.0
        total += off * off
    return float((total / _OFFSETS) ** 0.5)


def _streams(section_type: SectionType, seed: int) -> Iterator[SimulatedStream]:
    return (stream_of(section_type, seed + more) for more in count())


def _fitting(
    section_type: SectionType,
    seed: int,
    first: SimulatedStream,
    fits: Callable[[SimulatedStream], bool],
) -> Iterator[SimulatedStream]:
    """Yield streams of a type that can carry the discharge of the first at likely velocities."""
    for stream in islice(_streams(section_type, seed), _SEARCHED):
        factor = first.discharge / stream.discharge
        if 1.0 / _FACTOR <= factor <= _FACTOR:
            carrying = _carrying(stream, first.discharge)
            if fits(carrying):
                yield carrying


def _carrying(stream: SimulatedStream, discharge: float) -> SimulatedStream:
    """Return a stream whose velocities are all changed by one factor to carry a discharge."""
    factor = discharge / stream.discharge
    return attrs.evolve(
        stream,
        velocities=[velocity * factor for velocity in stream.velocities],
        drawn={**stream.drawn, "velocity": stream.drawn["velocity"] * factor},
    )


def _cleared(section_type: SectionType, stream: SimulatedStream) -> SimulatedStream:
    """Return the section with stones and weed moved out of it by hand, all else as it was."""
    none = Range(0.0, 0.0, section_type.stones.unit)
    bare = attrs.evolve(section_type, stones=none, weed_beds=attrs.evolve(none, unit="1"))
    return stream_of(bare, stream.seed)


def _is_waded(stream: SimulatedStream) -> bool:
    """Return whether a section is below the limit at which nobody wades, and nowhere too deep."""
    rules = load_rule_set(BASE)
    return (
        stream.discharge > 0.0
        and strength(stream) < rules.si("wade_product_stop")
        and max(stream.depths) <= rules.si("wade_depth_caution")
    )


def _is_easily_waded(stream: SimulatedStream) -> bool:
    """Return whether a section is well below the limits from which the leader decides."""
    most = load_rule_set(BASE).si("wade_product_caution")
    return _is_waded(stream) and strength(stream) < _WELL_BELOW * most


def _water(kind: PracticeStream, high: HighWater | None, stream: SimulatedStream) -> Water:
    if high is not None:
        return Water(stream, high.rise, high.quicken)
    return Water(stream, kind.rise / _HOUR, kind.quicken / _HOUR)
