"""From the verticals of a channel as called to stations in SI that all have a velocity.

A station is a vertical in the order of the tape, with depth in m and mean velocity in m/s. Where
no velocity was read, this is the only place that puts one, and every time it does it says so.
"""

import itertools
from collections.abc import Iterable, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.notes import Note
from bankside.gauging.records import Channel, Gauging, Vertical
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.kernel.edge import wall_velocity

__all__ = ["Station", "stations_of"]


@attrs.frozen
class Station:
    """One vertical ready for the kernel; `index` is its place among those called.

    `measured` says whether its velocity comes from readings made there.
    """

    index: int
    vertical: Vertical
    tape_m: float
    depth_m: float
    velocity_ms: float
    velocity_from: str
    measured: bool


@attrs.frozen
class _Read:
    """What was read at a station: its velocity is None where there was water and no reading."""

    index: int
    vertical: Vertical
    tape_m: float
    depth_m: float
    velocity_ms: float | None = None
    velocity_from: str = ""
    measured: bool = False


def stations_of(gauging: Gauging, channel: Channel) -> tuple[tuple[Station, ...], list[Note]]:
    """Return the stations of a channel by increasing tape, and the assumptions made.

    InputRefused, with paths from the channel, if there are fewer than two verticals, if one has
    neither a depth nor is dry, if an edge of water is not an end of the channel, or if there is
    water and no velocity was read in any of it.
    """
    order = sorted(range(len(channel.verticals)), key=lambda i: channel.verticals[i].tape)
    faults = list(_obstacles(channel, order))
    if faults:
        raise InputRefused(faults)
    notes = [*_order_notes(channel, order), *_edge_notes(channel, order)]
    read = _read(gauging, channel, order, notes)
    _require_distances(read)
    _require_velocity(read)
    return _completed(_with_walls(read, notes), notes), notes


def _obstacles(channel: Channel, order: Sequence[int]) -> Iterable[Fault]:
    if len(order) < 2:
        yield Fault(
            f"verticals must be at least two to compute a discharge (got {len(order)})",
            path="verticals",
        )
        return
    for index, vertical in enumerate(channel.verticals):
        path = f"verticals[{index}]"
        if vertical.depth is None and not vertical.dry:
            yield Fault(
                "depth must be given, or the vertical be dry, to compute a discharge (got nothing)",
                path=f"{path}.depth",
            )
        if vertical.edge is not None and index not in (order[0], order[-1]):
            yield Fault(
                f"edge must be the first or the last vertical of its channel along the tape "
                f"(got a {vertical.edge} edge between others at tape {vertical.tape:g})",
                path=f"{path}.edge",
            )


def _order_notes(channel: Channel, order: Sequence[int]) -> Iterable[Note]:
    called = list(range(len(order)))
    if list(order) in (called, called[::-1]):
        return
    tapes = [vertical.tape for vertical in channel.verticals]
    rising = tapes[1] > tapes[0]
    turn = next(b for a, b in itertools.pairwise(tapes) if (b > a) is not rising)
    yield Note(
        "The verticals were not called in the order of the tape, which turns back at {at}: "
        "they are sorted.",
        turn,
    )


def _edge_notes(channel: Channel, order: Sequence[int]) -> Iterable[Note]:
    """Yield a note for each end where there is water and no edge of water is written."""
    ends = (("first", order[0], order[-1]), ("last", order[-1], order[0]))
    for which, here, there in ends:
        vertical = channel.verticals[here]
        if vertical.edge is not None or not vertical.depth:
            continue
        side = {"left": "right ", "right": "left ", None: ""}[channel.verticals[there].edge]
        yield Note(
            f"No {side}edge of water is written: the {which} vertical, at {{at}}, is taken as the "
            "edge, so its panel ends there and any water beyond is left out.",
            vertical.tape,
        )


def _read(
    gauging: Gauging, channel: Channel, order: Sequence[int], notes: list[Note]
) -> list[_Read]:
    """Return the stations as read; InputRefused with every vertical whose readings do not do."""
    length = metres_per(gauging.units.length)
    depth_unit = metres_per(gauging.units.depth or gauging.units.length)
    read: list[_Read] = []
    faults: list[Fault] = []
    for place, index in enumerate(order):
        vertical = channel.verticals[index]
        station = _Read(index, vertical, vertical.tape * length, (vertical.depth or 0) * depth_unit)
        at_end = place in (0, len(order) - 1)
        try:
            read.append(_with_velocity(gauging, station, at_end, notes))
        except InputRefused as refused:
            where = f"verticals[{index}]"
            faults += [fault.inside("velocity").inside(where) for fault in refused.faults]
    if faults:
        raise InputRefused(faults)
    return read


def _with_velocity(gauging: Gauging, station: _Read, at_end: bool, notes: list[Note]) -> _Read:
    vertical = station.vertical
    if station.depth_m == 0:
        if any(reading.value or reading.counts for reading in vertical.velocity):
            notes.append(
                Note("The velocity at {at} is not used, as there is no depth.", vertical.tape)
            )
        name = "edge" if at_end and not vertical.dry else "dry"
        return attrs.evolve(station, velocity_ms=0.0, velocity_from=name)
    if not vertical.velocity:
        return station
    rating = () if gauging.meter is None else gauging.meter.rating
    mean = mean_velocity(vertical, rating, metres_per_second_per(gauging.units.velocity))
    notes += [Note(sentence, vertical.tape) for sentence in mean.assumptions]
    return attrs.evolve(
        station, velocity_ms=mean.value_ms, velocity_from=mean.velocity_from, measured=True
    )


def _require_distances(read: Sequence[_Read]) -> None:
    """Refuse tape positions that differ as called but not in metres."""
    for before, after in itertools.pairwise(read):
        if not after.tape_m > before.tape_m:
            raise InputRefused(
                [
                    Fault(
                        "tape must differ from vertical to vertical by a distance that can be told "
                        f"(got {before.vertical.tape!r} and {after.vertical.tape!r})",
                        path=f"verticals[{after.index}].tape",
                    )
                ]
            )


def _require_velocity(read: Sequence[_Read]) -> None:
    wet = [station for station in read if station.depth_m > 0]
    if wet and all(station.velocity_ms is None for station in wet):
        raise InputRefused(
            [
                Fault(
                    "velocity must be read in at least one vertical that has depth (got none)",
                    path="verticals",
                )
            ]
        )


def _with_walls(read: Sequence[_Read], notes: list[Note]) -> list[_Read]:
    """Return the stations with a velocity at an end that has depth but no reading."""
    filled = list(read)
    for place, inward in ((0, read[1:]), (len(read) - 1, read[-2::-1])):
        end = read[place]
        if end.velocity_ms is not None:
            continue
        neighbour = next(other for other in inward if other.velocity_ms is not None)
        velocity = _wall_velocity(end, neighbour, notes)
        filled[place] = attrs.evolve(end, velocity_ms=velocity, velocity_from="wall factor")
    return filled


def _wall_velocity(end: _Read, neighbour: _Read, notes: list[Note]) -> float:
    vertical = end.vertical
    tape = f"{neighbour.vertical.tape:.10g}"
    inside = neighbour.velocity_ms or 0.0
    if vertical.wall_factor is not None:
        notes.append(
            Note(
                f"No velocity was read at the edge with depth at {{at}}: it is taken as "
                f"{vertical.wall_factor:g} of that at tape {tape}, as the record says.",
                vertical.tape,
            )
        )
        return vertical.wall_factor * inside
    notes.append(
        Note(
            f"No velocity was read at the edge with depth at {{at}}: it is taken from that at tape "
            f"{tape} as beside a smooth wall.",
            vertical.tape,
        )
    )
    return wall_velocity(inside, abs(neighbour.tape_m - end.tape_m), end.depth_m)


def _completed(read: Sequence[_Read], notes: list[Note]) -> tuple[Station, ...]:
    """Return the stations, soundings between others with velocities in proportion to the tape."""
    stations: list[Station] = []
    for place, station in enumerate(read):
        velocity, velocity_from = station.velocity_ms, station.velocity_from
        if velocity is None:
            before = next(s for s in reversed(read[:place]) if s.velocity_ms is not None)
            after = next(s for s in read[place + 1 :] if s.velocity_ms is not None)
            velocity, velocity_from = _between(before, station, after), "interpolated"
            notes += _sounding_notes(before, station, after)
        stations.append(
            Station(
                station.index,
                station.vertical,
                station.tape_m,
                station.depth_m,
                velocity,
                velocity_from,
                station.measured,
            )
        )
    return tuple(stations)


def _between(before: _Read, station: _Read, after: _Read) -> float:
    low, high = before.velocity_ms or 0.0, after.velocity_ms or 0.0
    part = (station.tape_m - before.tape_m) / (after.tape_m - before.tape_m)
    return low + (high - low) * part


def _sounding_notes(before: _Read, station: _Read, after: _Read) -> Iterable[Note]:
    vertical = station.vertical
    if before.depth_m == 0 and after.depth_m == 0:
        sentence = (
            "No velocity was read in the water at {at} nor beside it up to where it ends on both "
            "sides: it counts as standing."
        )
    else:
        sentence = (
            "No velocity was read at {at}: it is interpolated along the tape between the nearest "
            "verticals on both sides that have one."
        )
    yield Note(sentence, vertical.tape)
    if vertical.angle is not None or vertical.angle_coefficient is not None:
        yield Note("The angle at {at} is not used, as no velocity was read.", vertical.tape)
