"""Velocities for water in which none was read: at steep edges and at soundings.

This is the only place that puts one, and every time it does it says so. Water that reaches no
velocity at all without dry ground in between is refused: nobody knows whether it stood still.
"""

from collections.abc import Iterable, Iterator, Sequence

import attrs

from bankside.gauging.faults import Fault
from bankside.gauging.notes import Note, tape_positions
from bankside.gauging.station import ReadStation, Station
from bankside.gauging.units import LengthUnit
from bankside.kernel.edge import wall_velocity

__all__ = ["completed", "unknown_waters", "with_walls"]


def unknown_waters(read: Sequence[ReadStation], unit: LengthUnit) -> Iterator[Fault]:
    """Yield a fault for every stretch of water between dry places in which no velocity was read."""
    for stretch in _stretches(read):
        if any(station.velocity_ms is not None for station in stretch):
            continue
        where = tape_positions([station.vertical.tape for station in stretch], unit)
        yield Fault(
            "velocity must be read at least once in every stretch of water between banks or dry "
            f"places (got none at {where}); a 0 there would be right if the water was slack; a "
            "sheet that leaves the velocity of slack water empty can be read with empty as zero",
            path=f"verticals[{stretch[0].index}].velocity",
        )


def _stretches(read: Sequence[ReadStation]) -> Iterator[list[ReadStation]]:
    stretch: list[ReadStation] = []
    for station in read:
        if station.depth_m > 0:
            stretch.append(station)
        elif stretch:
            yield stretch
            stretch = []
    if stretch:
        yield stretch


def with_walls(read: Sequence[ReadStation], notes: list[Note]) -> list[ReadStation]:
    """Return the stations with a velocity at an end that has depth but no reading."""
    filled = list(read)
    for place, inward in ((0, read[1:]), (len(read) - 1, read[-2::-1])):
        end = read[place]
        if end.velocity_ms is None:
            neighbour = next(other for other in inward if other.velocity_ms is not None)
            velocity = _wall_velocity(end, neighbour, notes)
            filled[place] = attrs.evolve(
                end,
                velocity_ms=velocity,
                velocity_from="wall factor",
                neighbours=(neighbour.vertical.tape,),
            )
        elif end.measured and end.vertical.wall_factor is not None:
            notes.append(
                Note(
                    "The wall factor at {at} is not used, as a velocity was read there.",
                    end.vertical.tape,
                )
            )
    return filled


def _wall_velocity(end: ReadStation, neighbour: ReadStation, notes: list[Note]) -> float:
    vertical = end.vertical
    inside = neighbour.velocity_ms or 0.0
    distance = abs(neighbour.tape_m - end.tape_m)
    if vertical.wall_factor is not None:
        factor = f"{vertical.wall_factor:g}"
        velocity = vertical.wall_factor * inside
        source = ", as the record says"
    else:
        factor = f"{wall_velocity(1.0, distance, end.depth_m):.2g}"
        velocity = wall_velocity(inside, distance, end.depth_m)
        source = " (smooth wall, USGS WSP 2175, from memory)"
        if vertical.bank == "undercut":
            source += ", a stand-in: this bank is undercut, and there is no table for such a bank"
    notes.append(
        Note(
            f"No velocity was read at the edge with depth at {{at}}: it is taken as {factor} of "
            f"that at tape {neighbour.vertical.tape:.10g} {{length}}{source}.",
            vertical.tape,
        )
    )
    notes += _unused_angle(end)
    return velocity


def completed(read: Sequence[ReadStation], notes: list[Note]) -> tuple[Station, ...]:
    """Return the stations, soundings between others with velocities in proportion to the tape."""
    stations: list[Station] = []
    for place, station in enumerate(read):
        velocity, velocity_from = station.velocity_ms, station.velocity_from
        neighbours = station.neighbours
        if velocity is None:
            before = next(s for s in reversed(read[:place]) if s.velocity_ms is not None)
            after = next(s for s in read[place + 1 :] if s.velocity_ms is not None)
            velocity, velocity_from = _between(before, station, after), "interpolated"
            neighbours = (before.vertical.tape, after.vertical.tape)
            notes.append(
                Note(
                    "No velocity was read at {at}: it is interpolated along the tape between the "
                    "nearest verticals on both sides that have one.",
                    station.vertical.tape,
                )
            )
            notes += _unused_angle(station)
        stations.append(
            Station(
                station.index,
                station.vertical,
                station.tape_m,
                station.depth_m,
                velocity,
                velocity_from,
                station.measured,
                neighbours,
            )
        )
    return tuple(stations)


def _between(before: ReadStation, station: ReadStation, after: ReadStation) -> float:
    low, high = before.velocity_ms or 0.0, after.velocity_ms or 0.0
    part = (station.tape_m - before.tape_m) / (after.tape_m - before.tape_m)
    return low + (high - low) * part


def _unused_angle(station: ReadStation) -> Iterable[Note]:
    vertical = station.vertical
    if vertical.angle is not None or vertical.angle_coefficient is not None:
        yield Note("The angle at {at} is not used, as no velocity was read.", vertical.tape)
