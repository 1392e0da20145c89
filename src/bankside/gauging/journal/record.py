"""The record of a gauging from its journal, and where each figure of the record was said.

What cannot enter the record is named with its entries, and the rest of the record is made: an
unfinished gauging, with an edge and nothing else, is as good a record as a finished one.
"""

from collections.abc import Mapping, Sequence
from typing import Any

import attrs

from bankside.gauging.journal.corrections import corrections
from bankside.gauging.journal.filed import filed
from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.header import header
from bankside.gauging.journal.heard import Heard, heard, record_of
from bankside.gauging.journal.making import EntryFault, Part, made
from bankside.gauging.journal.notes import notes
from bankside.gauging.journal.review_record import Review
from bankside.gauging.journal.verticals import ChannelHeard, channels
from bankside.gauging.practice_mark import is_practice_id
from bankside.gauging.records import Filed, Gauging

__all__ = ["Place", "Recorded", "recorded"]


@attrs.frozen
class Place:
    """Where something stands in the record: indexes of channel, vertical and reading from 0."""

    channel: int
    vertical: int | None = None
    reading: int | None = None


@attrs.frozen
class Recorded:
    """A journal as a record.

    `gauging` is None as long as the units are not known; `faults` say what could not enter it.
    `closed` says whether the gauging was closed and not opened again since. `plan` is what was
    planned, as said. `review` is the verdict that stands, though more may have been said since.
    `notes` are sentences on what a reader of the record alone would not see.
    """

    said: Folded
    gauging: Gauging | None
    faults: tuple[EntryFault, ...]
    closed: bool
    plan: Mapping[str, Any] | None
    review: Review | None
    notes: tuple[str, ...]
    _channels: tuple[ChannelHeard, ...]

    def channel_key(self, channel: int) -> str:
        """Return the key of a channel by its index in the record."""
        return self._channels[channel].key

    def key_of(self, channel: int, vertical: int) -> tuple[str, str]:
        """Return the keys of a channel and a vertical by their indexes in the record."""
        found = self._channels[channel]
        return found.key, found.verticals[vertical].key

    def what_of(
        self, channel: int, vertical: int, quantity: str, reading: int | None = None
    ) -> str:
        """Return what is said about a figure of the record, such as channels/1/verticals/v3/depth.

        quantity: a field of the vertical, or "velocity" with the index of the reading.
        """
        channel_key, key = self.key_of(channel, vertical)
        place = f"channels/{channel_key}/verticals/{key}"
        if quantity != "velocity" or reading is None:
            return f"{place}/{quantity}"
        return f"{place}/readings/{self._channels[channel].verticals[vertical].readings[reading]}"

    def place_of(self, what: str) -> Place | None:
        """Return where the record holds what was said, None where it holds it in no channel."""
        steps = what.split("/")
        if len(steps) < 2 or steps[0] != "channels":
            return None
        for c, channel in enumerate(self._channels):
            if channel.key != steps[1]:
                continue
            if len(steps) < 5:
                return Place(c)
            keys = [one.key for one in channel.verticals]
            if steps[3] not in keys:
                return None
            v = keys.index(steps[3])
            readings = channel.verticals[v].readings
            if steps[4] != "readings":
                return Place(c, v)
            return Place(c, v, readings.index(steps[5])) if steps[5] in readings else None
        return None


def recorded(folded: Folded) -> Recorded:
    """Return what a journal comes to as a record; what cannot enter it is among its faults."""
    faults: list[EntryFault] = []
    values = heard(folded, faults)
    parts = header(folded, values, faults)
    meter = parts.get("meter")
    rated = isinstance(meter, Part) and bool(meter.value.rating)
    found = channels(folded, values, rated, faults)
    left_out: list[str] = []
    carried = filed(folded, values, found, faults, left_out)
    gauging = _gauging(folded, parts, found, carried, faults)
    review = _review(values, faults)
    closed = folded.get("closed")
    plan = folded.get("plan")
    return Recorded(
        said=folded,
        gauging=gauging,
        faults=tuple(faults),
        closed=closed is not None and closed.value is not None,
        plan=plan.value if plan is not None and isinstance(plan.value, dict) else None,
        review=review,
        notes=(*notes(folded), *left_out),
        channels=found,
    )


def _gauging(
    folded: Folded,
    parts: dict[str, Part | Sequence[Part]],
    found: Sequence[ChannelHeard],
    carried: Filed | None,
    faults: list[EntryFault],
) -> Gauging | None:
    if "units" not in parts:
        if folded:
            faults.extend(
                EntryFault(f"{name} must be given before a record can be made (got nothing)", what)
                for name, what in (
                    ("the unit of length", "units/length"),
                    ("the unit of velocity", "units/velocity"),
                )
                if what not in folded or folded[what].value is None
            )
        return None
    units = parts["units"]
    assert isinstance(units, Part)
    id_ = Part(folded.gauging, units.said)
    marked = {"practice": Part(True, units.said)} if is_practice_id(folded.gauging) else {}
    bare, _ = made(Gauging, parts | marked | {"channels": [], "id": id_}, faults)
    if bare is None:
        return None
    return attrs.evolve(
        bare,
        channels=tuple(one.channel for one in found),
        filed=carried,
        corrections=(*bare.corrections, *corrections(folded)),
    )


def _review(values: Heard, faults: list[EntryFault]) -> Review | None:
    part = values.one("review")
    if part is None:
        return None
    entry = part.said.entry
    found = record_of(Review, part, faults, at=entry.moment, reason=entry.reason)
    return None if found is None else found.value
