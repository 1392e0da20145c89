"""A virtual visit as the record of a gauging, with everything that is true beside it."""

import datetime
from collections.abc import Sequence

import attrs

from bankside.gauging.practice_mark import PRACTICE_ID
from bankside.gauging.records import Channel, Gauging, Meter, Site, Units, Vertical
from bankside.practice.called import edge_record, vertical_record
from bankside.practice.crew import Crew
from bankside.practice.measuring import Waded, wade
from bankside.practice.mistakes import Mistake, with_mistakes
from bankside.practice.parameters import seeded
from bankside.practice.stream import SimulatedStream
from bankside.practice.wading import Wading

__all__ = ["SimulatedGauging", "simulate_gauging"]


@attrs.frozen
class SimulatedGauging:
    """A gauging as it stands on the sheet, and what is behind it.

    `stream` has the truth at every tape position, `waded` what the crew read, `mistakes` where
    the sheet says something else, `seconds` how long the crew was in the water.
    """

    stream: SimulatedStream
    crew: Crew
    gauging: Gauging
    waded: Waded
    mistakes: tuple[Mistake, ...]
    seconds: float


def simulate_gauging(
    stream: SimulatedStream,
    crew: Crew,
    seed: int,
    positions: int | Sequence[float],
    started: datetime.datetime | None = None,
) -> SimulatedGauging:
    """Let a crew gauge a stream and write its sheet; positions as in `wade`.

    With `started`, the gauging has its times and every vertical the moment at which it was read;
    no clock is asked.
    """
    wading = Wading(stream, crew, seed)
    waded = wade(wading, positions)
    rng = seeded("mistakes", stream.kind, stream.seed, seed)
    verticals, mistakes = with_mistakes(_verticals(wading, waded, started), crew.mistakes, rng)
    gauging = Gauging(
        id=f"{PRACTICE_ID}{stream.kind} {stream.seed} {seed}".replace(" ", "-"),
        practice=True,
        units=Units(length=crew.length_unit, velocity=crew.velocity_unit),
        site=Site(stream="simulated stream", name=f"{stream.kind} {stream.seed}"),
        channels=(Channel(verticals=verticals),),
        meter=Meter(kind="simulated"),
        date=None if started is None else started.date(),
        started=started,
        ended=_later(started, wading.seconds_spent),
        no_gauge=True,
    )
    return SimulatedGauging(stream, crew, gauging, waded, mistakes, wading.seconds_spent)


def _verticals(wading: Wading, waded: Waded, started: datetime.datetime | None) -> list[Vertical]:
    """Return what was called, by tape."""
    read = [
        attrs.evolve(vertical_record(reading), at=_later(started, spent))
        for reading, spent in zip(waded.verticals, waded.spent, strict=True)
    ]
    read += [Vertical(tape=wading.mark(end), dry=True) for gap in waded.gaps for end in gap]
    read.sort(key=lambda vertical: vertical.tape)
    return [edge_record(waded.left, "left"), *read, edge_record(waded.right, "right")]


def _later(started: datetime.datetime | None, seconds: float) -> datetime.datetime | None:
    if started is None:
        return None
    return started + datetime.timedelta(seconds=round(seconds))
