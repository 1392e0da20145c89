"""The channels of a gauging from what was said: their verticals, and the readings of these."""

from collections.abc import Iterator, Mapping, Sequence

import attrs

from bankside.gauging.fields import shown
from bankside.gauging.journal.fold import Folded, Said
from bankside.gauging.journal.heard import Heard, record_of
from bankside.gauging.journal.making import EntryFault, Part, fault_of, made
from bankside.gauging.journal.record_order import (
    VerticalHeard,
    in_listed_order,
    in_record_order,
)
from bankside.gauging.journal.sayable import CHANNEL, READING, VERTICAL
from bankside.gauging.records import Channel, PointReading, Vertical

__all__ = ["ChannelHeard", "channels"]

_FIELDS = (
    "tape",
    "depth",
    "edge",
    "bank",
    "dry",
    "angle",
    "angle_coefficient",
    "wall_factor",
    "remark",
)


@attrs.frozen
class ChannelHeard:
    """A channel of the record, its key, and its verticals in the order of the record."""

    key: str
    channel: Channel
    verticals: tuple[VerticalHeard, ...]


def channels(
    folded: Folded, heard: Heard, rated: bool, faults: list[EntryFault]
) -> tuple[ChannelHeard, ...]:
    """Return the channels in the order in which something was first said of them.

    rated: whether the meter has a rating, without which a count is no velocity.
    """
    start = heard.one("start_bank")
    said_of = _said_of_verticals(folded)
    found = []
    for key in dict.fromkeys(w.split("/")[1] for w in folded if w.startswith("channels/")):
        verticals = [
            vertical
            for (channel, k), said in said_of.items()
            if channel == key
            and (vertical := _vertical((channel, k), said, heard, rated, faults)) is not None
        ]
        listed = heard.of(f"{CHANNEL}/order").get((key,))
        if listed is None:
            ordered = in_record_order(verticals, None if start is None else start.value)
        else:
            faults += _never_said(folded, key, listed)
            ordered = in_listed_order(verticals, listed.value)
        kept = tuple(_without_doubles(ordered, faults))
        parts: dict[str, Part | Sequence[Part]] = {
            "verticals": [Part(one.vertical, one.tape) for one in kept]
        }
        name = heard.of(f"{CHANNEL}/name").get((key,))
        if name is not None:
            parts["name"] = name
        channel, _ = made(Channel, parts, faults)
        if channel is not None and (kept or name is not None or listed is not None):
            found.append(ChannelHeard(key, channel, kept))
    return tuple(found)


def _never_said(folded: Folded, channel: str, listed: Part) -> Iterator[EntryFault]:
    for key in listed.value:
        if VERTICAL.replace("<c>", channel).replace("<k>", key) + "/tape" not in folded:
            message = f"order must list verticals of the channel (got {shown(key)})"
            yield fault_of(message, listed.said)


def _said_of_verticals(folded: Folded) -> Mapping[tuple[str, str], list[Said]]:
    """Return all that was said of each vertical, by the keys of channel and vertical."""
    found: dict[tuple[str, str], list[Said]] = {}
    for what, said in folded.items():
        steps = what.split("/")
        if len(steps) > 4 and steps[0] == "channels" and steps[2] == "verticals":
            found.setdefault((steps[1], steps[3]), []).append(said)
    return found


def _vertical(
    keys: tuple[str, str],
    said: Sequence[Said],
    heard: Heard,
    rated: bool,
    faults: list[EntryFault],
) -> VerticalHeard | None:
    """Return a vertical, None where it was taken out or has no tape position."""
    place = VERTICAL.replace("<c>", keys[0]).replace("<k>", keys[1])
    tape = next((one for one in said if one.what == f"{place}/tape"), None)
    standing = [one for one in said if one.value is not None]
    if tape is None and standing:
        faults.append(
            EntryFault(
                "tape must be given for what was read at a vertical (got nothing)",
                f"{place}/tape",
                tuple(one.entry.id for one in standing),
            )
        )
    if tape is None or tape.value is None:
        return None
    parts: dict[str, Part | Sequence[Part]] = {
        name: part
        for name in _FIELDS
        if (part := heard.of(f"{VERTICAL}/{name}").get(keys)) is not None
    }
    called = [part for one in said if (part := heard.at(READING, one.what)) is not None]
    found = [_reading(part, rated, faults) for part in called]
    parts["velocity"] = [part for part in found if part is not None]
    at = _read_at(place, tape, said, heard)
    if at is not None:
        parts["at"] = at
    vertical, kept = made(Vertical, parts, faults)
    if vertical is None:
        return None
    inserted = heard.of(f"{VERTICAL}/inserted").get(keys)
    return VerticalHeard(
        key=keys[1],
        vertical=vertical,
        tape=tape,
        readings=tuple(part.said.what.rsplit("/", 1)[-1] for part in kept["velocity"]),
        inserted=inserted is not None and bool(inserted.value),
    )


def _reading(part: Part, rated: bool, faults: list[EntryFault]) -> Part | None:
    """Return a reading, None where what was called is none."""
    built = record_of(PointReading, part, faults)
    if built is None:
        return None
    reading: PointReading = built.value
    if reading.value is None and not rated:
        message = (
            "value must be given where the meter has no rating to work it out from the counts "
            f"(got {reading.counts:g} counts)"
        )
        faults.append(fault_of(message, part.said))
        return None
    return built


def _read_at(place: str, tape: Said, said: Sequence[Said], heard: Heard) -> Part | None:
    """Return when a vertical was read: as was said, or by its entries where they are no copy."""
    if any(one.what == f"{place}/at" for one in said):
        return heard.at(f"{VERTICAL}/at", f"{place}/at")
    return None if heard.is_copied(tape.history[0]) else _first_read(place, said)


def _first_read(place: str, said: Sequence[Said]) -> Part:
    """Return when a vertical was read: at its first reading, else depth, else tape position."""
    for start in (f"{place}/readings/", f"{place}/depth", f"{place}/tape"):
        found = [one for one in said if one.what.startswith(start)]
        if found:
            first = min(found, key=lambda one: one.history[0].order)
            return Part(first.history[0].moment, first)
    raise AssertionError("a vertical without a tape position is not made")


def _without_doubles(
    verticals: Sequence[VerticalHeard], faults: list[EntryFault]
) -> Iterator[VerticalHeard]:
    """Yield the verticals but those that stand where, or are the edge that, one before is."""
    at_tape: dict[float, VerticalHeard] = {}
    at_bank: dict[str, VerticalHeard] = {}
    for one in verticals:
        tape, edge = one.vertical.tape, one.vertical.edge
        if tape in at_tape:
            message = f"tape must differ from vertical to vertical (got {tape:g} twice)"
            faults.append(fault_of(message, one.tape, at_tape[tape].tape))
        elif edge is not None and edge in at_bank:
            other = at_bank[edge]
            message = (
                f"a channel must have only one {edge} edge "
                f"(got one at tape {other.vertical.tape:g} and one at {tape:g})"
            )
            faults.append(fault_of(message, one.tape, other.tape))
        else:
            at_tape[tape] = one
            if edge is not None:
                at_bank[edge] = one
            yield one
