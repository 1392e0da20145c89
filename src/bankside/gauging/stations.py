"""From the verticals of a channel as called to stations in SI that all have a velocity."""

import itertools
from collections.abc import Iterable, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.notes import Note, tape_positions
from bankside.gauging.records import Channel, Gauging, Vertical
from bankside.gauging.station import ReadStation, Station
from bankside.gauging.units import LengthUnit, metres_per, metres_per_second_per
from bankside.gauging.unread_water import completed, unknown_waters, with_walls

__all__ = ["stations_of"]

# Ours, no source: a current further than this from square is more often an angle from the tape.
_WIDE_ANGLE = 45.0


def stations_of(gauging: Gauging, channel: Channel) -> tuple[tuple[Station, ...], list[Note]]:
    """Return the stations of a channel by increasing tape, and the assumptions made.

    InputRefused, with paths from the channel, if there are fewer than two verticals, if one has
    neither a depth nor is dry, if an edge of water is not an end of the channel, or if no velocity
    was read in some water that dry ground parts from all other.
    """
    order = sorted(range(len(channel.verticals)), key=lambda i: channel.verticals[i].tape)
    faults = list(_obstacles(channel, order, gauging.units.length))
    if faults:
        raise InputRefused(faults)
    notes = [*_order_notes(channel, order), *_edge_notes(channel, order)]
    read = _read(gauging, channel, order, notes)
    _require_distances(read)
    unknown = list(unknown_waters(read, gauging.units.length))
    if unknown:
        raise InputRefused(unknown)
    return completed(with_walls(read, notes), notes), notes


def _obstacles(channel: Channel, order: Sequence[int], unit: LengthUnit) -> Iterable[Fault]:
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
                f"(got a {vertical.edge} edge between others at "
                f"{tape_positions([vertical.tape], unit)})",
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
            "edge, so its panel ends there and the discharge is too small by whatever flows "
            "beyond it.",
            vertical.tape,
        )


def _read(
    gauging: Gauging, channel: Channel, order: Sequence[int], notes: list[Note]
) -> list[ReadStation]:
    """Return the stations as read; InputRefused with every vertical whose readings do not do."""
    length = metres_per(gauging.units.length)
    depth_unit = metres_per(gauging.units.depth or gauging.units.length)
    read: list[ReadStation] = []
    faults: list[Fault] = []
    for place, index in enumerate(order):
        vertical = channel.verticals[index]
        station = ReadStation(
            index, vertical, vertical.tape * length, (vertical.depth or 0) * depth_unit
        )
        at_end = place in (0, len(order) - 1)
        try:
            read.append(_with_velocity(gauging, station, at_end, notes))
        except InputRefused as refused:
            where = f"verticals[{index}]"
            faults += [fault.inside("velocity").inside(where) for fault in refused.faults]
    if faults:
        raise InputRefused(faults)
    return read


def _with_velocity(
    gauging: Gauging, station: ReadStation, at_end: bool, notes: list[Note]
) -> ReadStation:
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
    notes += _angle_notes(vertical)
    return attrs.evolve(
        station, velocity_ms=mean.value_ms, velocity_from=mean.velocity_from, measured=True
    )


def _require_distances(read: Sequence[ReadStation]) -> None:
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


def _angle_notes(vertical: Vertical) -> Iterable[Note]:
    """Yield that an angle was applied; and whether it may have been read from the tape."""
    angle, coefficient = vertical.angle, vertical.angle_coefficient
    sentence = "Of the velocity at {at} only the part square to the section counts."
    if angle:
        yield Note(sentence, vertical.tape, f"{angle:.10g}°")
        if abs(angle) > _WIDE_ANGLE:
            yield Note(
                "Was the angle at {at} measured from the tape? It is taken from the line square "
                "to the section, where 0° is straight downstream.",
                vertical.tape,
            )
    elif coefficient is not None and coefficient != 1:
        yield Note(sentence, vertical.tape, f"coefficient {coefficient:.10g}")
