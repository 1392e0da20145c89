"""Where the error of a practice gauging came from: parts that add up to the whole of it.

Ten sources change the readings. They are shared out by the value of Shapley, as a tape that is
askew and a meter that is askew make an error together which neither would make alone, and no order
of blaming them would be right. What is left where all readings are true is the error between the
verticals. It is told apart in a stated order: what verticals in the same places of the better
section would have been off is the spacing's, the rest is that of the choice of the section.
"""

from __future__ import annotations

import attrs

from bankside.gauging.compute import compute
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical
from bankside.gauging.units import cubic_metres_per_second_per, metres_per
from bankside.practice.debrief.edge_parts import ChannelEdges, channel_edges
from bankside.practice.debrief.matching import behind_verticals
from bankside.practice.debrief.parts import PLAYED, Source, VerticalParts, parts_of
from bankside.practice.debrief.shapley import shapley
from bankside.practice.session.followed import Followed
from bankside.practice.session.water import Water

__all__ = ["ErrorParts", "TakenApart", "error_parts", "take_apart"]

_SI = Units("m", "m/s")


@attrs.frozen(eq=False)
class TakenApart:
    """A practice gauging of which every error can be put in or left out by itself.

    `middle` is the second in the middle of the readings, `filed` the total that was written over
    the one that the readings give.
    """

    record: Gauging
    channels: tuple[tuple[ChannelEdges, tuple[VerticalParts, ...]], ...]
    water: Water
    middle: float
    filed: float

    def gauging(self, wrong: frozenset[str]) -> Gauging:
        """Return the record in m and m/s with the errors of these sources, and of no others."""
        channels = []
        for edges, verticals in self.channels:
            rows = [*edges.verticals(wrong), *(one.vertical(wrong) for one in verticals)]
            channels.append(Channel(tuple(sorted(rows, key=lambda row: row.tape))))
        return Gauging(_SI, tuple(channels))

    def discharge(self, wrong: frozenset[str]) -> float:
        """Return the discharge of that record, in m³/s; InputRefused where it gives none."""
        found = compute(self.gauging(wrong)).discharge_m3s
        return found * self.filed if "arithmetic" in wrong else found

    def unread(self) -> tuple[float, ...]:
        """Return at which tape marks a figure was written that nobody read, as on the sheet."""
        metre = metres_per(self.record.units.length)
        return tuple(
            one.tape / metre
            for _, verticals in self.channels
            for one in verticals
            if not one.is_read
        )

    def touched(self) -> tuple[Source, ...]:
        """Return the sources that are in it at all, in their order."""
        there: set[Source] = set()
        for edges, verticals in self.channels:
            there |= {"edges"} if edges.touched() else set()
            there |= {"points"} if edges.takes_velocity() else set()
            there = there.union(*(one.touched() for one in verticals))
        if abs(self.filed - 1.0) > 1e-12:
            there.add("arithmetic")
        return tuple(source for source in PLAYED if source in there)


@attrs.frozen
class ErrorParts:
    """The error of a practice gauging in m³/s, source by source; `parts` add up to `error`.

    `discharge` is the true one in the middle of the readings, `measured` the one that was written
    down or, where none was, the one that the readings give. `best` is the name of the better
    section.
    """

    discharge: float
    measured: float
    parts: tuple[tuple[Source, float], ...]
    best: str

    @property
    def error(self) -> float:
        """The discharge measured less the true one, in m³/s."""
        return self.measured - self.discharge

    @property
    def largest(self) -> Source:
        """The source of the largest part, whichever way it goes."""
        return max(self.parts, key=lambda part: abs(part[1]))[0]

    def percent(self, source: Source) -> float:
        """Return a part in percent of the true discharge."""
        return 100.0 * dict(self.parts)[source] / self.discharge


def take_apart(followed: Followed, record: Gauging) -> TakenApart:
    """Return a gauging with each of its readings held against what was true there.

    InputRefused where the readings give no discharge or are revolutions. ValueError without a
    section.
    """
    water = followed.water
    if water is None:
        raise ValueError("a gauging is taken apart at the section that was chosen")
    _require_velocities(record)
    middle = 0.5 * (followed.measured_from + followed.measured_to)
    behind = behind_verticals(followed, record)
    edges = channel_edges(record, water, followed.skew or 0.0, middle)
    channels = []
    for c, channel in enumerate(record.channels):
        verticals = tuple(
            parts_of(record, row, behind[c, v], middle)
            for v, row in enumerate(channel.verticals)
            if row.edge is None
        )
        channels.append((edges[c], verticals))
    worked_out = compute(record).discharge_m3s
    total = _filed(record)
    filed = 1.0 if total is None or worked_out == 0.0 else total / worked_out
    return TakenApart(record, tuple(channels), water, middle, filed)


def error_parts(followed: Followed, apart: TakenApart) -> ErrorParts:
    """Return where the error came from."""
    true = apart.water.discharge(apart.middle)
    played = apart.touched()
    shares = shapley(played, apart.discharge)
    between = apart.discharge(frozenset()) - true
    spacing = between
    section = followed.section
    assert section is not None
    if section.name != followed.reach.best:
        spacing = true * _in_the_better_section(followed, apart)
    parts: dict[Source, float] = {"section choice": between - spacing, "spacing": spacing}
    parts |= {source: shares.get(source, 0.0) for source in PLAYED}
    measured = apart.discharge(frozenset(played))
    return ErrorParts(true, measured, tuple(parts.items()), followed.reach.best)


def _require_velocities(record: Gauging) -> None:
    """Refuse revolutions: the meters of practice streams show velocities."""
    for c, channel in enumerate(record.channels):
        for v, vertical in enumerate(channel.verticals):
            if any(reading.value is None for reading in vertical.velocity):
                path = f"record.channels[{c}].verticals[{v}].velocity"
                message = "velocities must be written as the practice meter shows them (got counts)"
                raise InputRefused([Fault(message, path=path)])


def _filed(record: Gauging) -> float | None:
    """Return the total that was written down, in m³/s, None where none was."""
    filed = record.filed
    if filed is None or filed.discharge is None:
        return None
    unit = filed.unit or ("ft3/s" if record.units.length in ("ft", "in") else "m3/s")
    return filed.discharge * cubic_metres_per_second_per(unit)


def _in_the_better_section(followed: Followed, apart: TakenApart) -> float:
    """Return what true readings in the same places of the better section are off, as a part."""
    water = followed.reach.section(followed.reach.best).water
    here, there = apart.water.stream, water.stream
    width = (there.right - there.left) / (here.right - here.left)
    places = sorted(
        there.left + (one.y - here.left) * width for _, ones in apart.channels for one in ones
    )
    empty = Gauging(_SI, (Channel(()),))
    (edges,) = channel_edges(empty, water, 0.0, apart.middle)
    rows = [*edges.verticals(frozenset())]
    for y in dict.fromkeys(places):
        depth = water.depth_at(y, apart.middle)
        if there.left < y < there.right and depth > 0.0:
            reading = PointReading(water.velocity_at(y, apart.middle))
            rows.append(Vertical(y, depth, (reading,)))
        elif there.left < y < there.right:
            rows.append(Vertical(y, dry=True))
    rows.sort(key=lambda row: row.tape)
    found = compute(Gauging(_SI, (Channel(tuple(rows)),))).discharge_m3s
    return found / water.discharge(apart.middle) - 1.0
