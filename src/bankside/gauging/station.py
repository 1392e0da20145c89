"""The verticals of a channel on their way into the kernel: in SI, in the order of the tape."""

import attrs

from bankside.gauging.records import Vertical

__all__ = ["ReadStation", "Section", "Station"]


@attrs.frozen
class ReadStation:
    """What was read at a vertical: its velocity is None where there was water and no reading.

    `index` is its place among those called; `measured` says whether its velocity comes from
    readings made there, `neighbours` at which tapes, as called, it was taken from others instead.
    """

    index: int
    vertical: Vertical
    tape_m: float
    depth_m: float
    velocity_ms: float | None = None
    velocity_from: str = ""
    measured: bool = False
    neighbours: tuple[float, ...] = ()


@attrs.frozen
class Station:
    """One vertical ready for the kernel; the fields are those of `ReadStation`."""

    index: int
    vertical: Vertical
    tape_m: float
    depth_m: float
    velocity_ms: float
    velocity_from: str
    measured: bool
    neighbours: tuple[float, ...]


@attrs.frozen
class Section:
    """The stations of a channel, and the sequences that the kernel takes."""

    stations: tuple[Station, ...]
    tape: list[float]
    depth: list[float]
    velocity: list[float]

    @classmethod
    def of(cls, stations: tuple[Station, ...]) -> "Section":
        """Return the section of these stations."""
        return cls(
            stations,
            [station.tape_m for station in stations],
            [station.depth_m for station in stations],
            [station.velocity_ms for station in stations],
        )
