"""The records of a gauging: what was called out at the stream, in the units in which it was called.

Raw values are never overwritten: totals that a sheet carried stay apart in `Filed`, and what is
worked out is in `bankside.gauging.result`. What is missing is absent (None, or an empty tuple).
Every constructor raises InputRefused with everything that is wrong with its arguments.
"""

import datetime
from typing import ClassVar, Literal, get_args

import attrs

from bankside.gauging import rules
from bankside.gauging.checked import Checked, Rule
from bankside.gauging.fields import (
    Choice,
    Day,
    Flag,
    Index,
    Instant,
    Many,
    Number,
    One,
    Text,
    about,
)
from bankside.gauging.units import DischargeUnit, LengthUnit, VelocityUnit

__all__ = [
    "Bank",
    "Channel",
    "CrewMember",
    "Edge",
    "Filed",
    "FiledPanel",
    "Gauging",
    "Meter",
    "PointReading",
    "Position",
    "RatingPart",
    "Site",
    "StageReading",
    "Units",
    "Vertical",
]

Edge = Literal["left", "right"]
Bank = Literal["sloping", "steep", "undercut"]

_TEXT = Text()
_NUMBER = Number()
_NOT_NEGATIVE = Number(least=0)
_SHARE_OF_ONE = Number(least=0, most=1)
_INSTANT = Instant()
_LENGTH = Choice(get_args(LengthUnit))


@attrs.frozen
class Position(Checked):
    """A point on the earth."""

    lon: float = attrs.field(
        metadata=about(Number(least=-180, most=180), "longitude, WGS 84, positive east")
    )
    lat: float = attrs.field(
        metadata=about(Number(least=-90, most=90), "latitude, WGS 84, positive north")
    )
    accuracy_m: float | None = attrs.field(
        default=None,
        metadata=about(_NOT_NEGATIVE, "how far off the position may be, as the receiver said"),
    )
    label: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "the name of the point in the receiver or on the map")
    )


@attrs.frozen
class Site(Checked):
    """The named place on a stream where the tape hangs."""

    name: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "the name of the place on the stream")
    )
    stream: str | None = attrs.field(default=None, metadata=about(_TEXT, "the name of the stream"))
    position: Position | None = attrs.field(
        default=None, metadata=about(One(Position), "where the section is on the earth")
    )


@attrs.frozen
class Units(Checked):
    """The units in which the readings of a gauging were called."""

    length: LengthUnit = attrs.field(
        metadata=about(_LENGTH, "the unit of tape and stage, and of depth unless it has its own")
    )
    velocity: VelocityUnit = attrs.field(
        metadata=about(Choice(get_args(VelocityUnit)), "the unit of velocities and of the rating")
    )
    depth: LengthUnit | None = attrs.field(
        default=None, metadata=about(_LENGTH, "the unit of depth where it is not that of length")
    )


@attrs.frozen
class PointReading(Checked):
    """One velocity called out; several at one fraction are repeats."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("value", "counts"), rules.reading_has_a_value),
        Rule(("counts", "seconds"), rules.counts_have_seconds),
    )

    value: float | None = attrs.field(
        default=None, metadata=about(_NUMBER, "the velocity as called, negative when upstream")
    )
    fraction: float | None = attrs.field(
        default=None,
        metadata=about(
            _SHARE_OF_ONE,
            "where it was read, as a fraction of the depth below the surface; "
            "absent when the value is the mean of the vertical",
        ),
    )
    seconds: float | None = attrs.field(
        default=None, metadata=about(Number(above=0), "how long the meter was held there")
    )
    counts: float | None = attrs.field(
        default=None, metadata=about(_NOT_NEGATIVE, "revolutions of the meter in that time")
    )


@attrs.frozen
class Vertical(Checked):
    """A tape position, and what was read there."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("edge", "bank"), rules.bank_has_an_edge),
        Rule(("bank", "depth"), rules.bank_agrees_with_depth),
        Rule(("dry", "depth", "velocity"), rules.dry_has_no_water),
        Rule(("wall_factor", "edge", "depth"), rules.wall_factor_has_a_wall),
        Rule(("angle", "angle_coefficient"), rules.angle_is_given_once),
    )

    tape: float = attrs.field(metadata=about(_NUMBER, "distance along the tape from its zero"))
    depth: float | None = attrs.field(
        default=None, metadata=about(_NOT_NEGATIVE, "depth of the water")
    )
    velocity: tuple[PointReading, ...] = attrs.field(
        default=(), metadata=about(Many(PointReading), "the velocities read at the vertical")
    )
    edge: Edge | None = attrs.field(
        default=None,
        metadata=about(
            Choice(get_args(Edge)), "which edge of water this is, as seen facing downstream"
        ),
    )
    bank: Bank | None = attrs.field(
        default=None,
        metadata=about(
            Choice(get_args(Bank)), "how the water ends there: sloping with depth 0, else with more"
        ),
    )
    dry: bool = attrs.field(
        default=False, metadata=about(Flag(), "whether there is no water there, as on an island")
    )
    angle: float | None = attrs.field(
        default=None,
        metadata=about(
            Number(least=-90, most=90), "angle between the flow and the normal of the section"
        ),
    )
    angle_coefficient: float | None = attrs.field(
        default=None, metadata=about(_SHARE_OF_ONE, "cosine of that angle, where it was read so")
    )
    wall_factor: float | None = attrs.field(
        default=None,
        metadata=about(
            _SHARE_OF_ONE, "velocity at a steep or undercut edge as a part of its neighbour's"
        ),
    )
    at: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when the vertical was read")
    )
    remark: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what was noted beside the vertical")
    )


@attrs.frozen
class Channel(Checked):
    """The verticals between two edges of water, in the order in which they were called."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("verticals",), rules.tapes_differ),
        Rule(("verticals",), rules.each_bank_has_one_edge),
    )

    verticals: tuple[Vertical, ...] = attrs.field(
        metadata=about(Many(Vertical), "the verticals of the channel, in the order called")
    )
    name: str | None = attrs.field(default=None, metadata=about(_TEXT, "the name of the channel"))


@attrs.frozen
class RatingPart(Checked):
    """A straight part of a rating: velocity = slope × revolutions a second + intercept."""

    slope: float = attrs.field(
        metadata=about(Number(above=0), "velocity for one more revolution a second")
    )
    intercept: float = attrs.field(
        metadata=about(_NUMBER, "velocity where the line meets no revolutions")
    )
    up_to: float | None = attrs.field(
        default=None,
        metadata=about(
            Number(above=0), "revolutions a second up to which the part holds, these included"
        ),
    )


@attrs.frozen
class Meter(Checked):
    """The velocity meter."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("rating",), rules.rating_parts_follow),)

    kind: str | None = attrs.field(default=None, metadata=about(_TEXT, "the kind of meter"))
    serial: str | None = attrs.field(default=None, metadata=about(_TEXT, "its serial number"))
    rating: tuple[RatingPart, ...] = attrs.field(
        default=(), metadata=about(Many(RatingPart, most=2), "its rating, from slow to fast")
    )


@attrs.frozen
class CrewMember(Checked):
    """Someone who took part."""

    name: str = attrs.field(metadata=about(_TEXT, "the name of the crew member"))
    role: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what the crew member did, such as rod or recorder")
    )


@attrs.frozen
class StageReading(Checked):
    """A water level read on a staff gauge."""

    value: float = attrs.field(metadata=about(_NUMBER, "water level on the staff gauge"))
    at: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when the level was read")
    )


@attrs.frozen
class FiledPanel(Checked):
    """What a sheet itself carried for one panel, in the units of the sheet."""

    channel: int = attrs.field(
        metadata=about(Index(), "which channel of the record, counted from 0")
    )
    vertical: int = attrs.field(
        metadata=about(Index(), "which vertical of that channel, counted from 0")
    )
    width: float | None = attrs.field(
        default=None, metadata=about(_NUMBER, "width of the panel as filed")
    )
    area: float | None = attrs.field(
        default=None, metadata=about(_NUMBER, "area of the panel as filed")
    )
    discharge: float | None = attrs.field(
        default=None, metadata=about(_NUMBER, "discharge of the panel as filed")
    )


@attrs.frozen
class Filed(Checked):
    """The products and the total that a sheet itself carried, kept apart from those worked out."""

    discharge: float | None = attrs.field(
        default=None, metadata=about(_NUMBER, "total discharge as filed")
    )
    unit: DischargeUnit | None = attrs.field(
        default=None,
        metadata=about(Choice(get_args(DischargeUnit)), "its unit, absent if the sheet is silent"),
    )
    panels: tuple[FiledPanel, ...] = attrs.field(
        default=(), metadata=about(Many(FiledPanel), "the panels as filed")
    )


@attrs.frozen
class Gauging(Checked):
    """One measurement of discharge at a section on a date, finished or not."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("started", "ended"), rules.ends_after_its_start),
        Rule(("started", "date"), rules.starts_on_its_date),
        Rule(("channels", "meter"), rules.counts_have_a_rating),
        Rule(("channels", "filed"), rules.filed_panels_have_verticals),
    )

    units: Units = attrs.field(metadata=about(One(Units), "the units of the readings"))
    channels: tuple[Channel, ...] = attrs.field(
        metadata=about(Many(Channel), "the channels of the section, whose discharges add up")
    )
    id: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what tells this gauging from every other")
    )
    site: Site = attrs.field(default=Site(), metadata=about(One(Site), "where it was made"))
    date: datetime.date | None = attrs.field(
        default=None, metadata=about(Day(), "the day on which it was made")
    )
    started: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when the first reading was made")
    )
    ended: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when the last reading was made")
    )
    meter: Meter | None = attrs.field(
        default=None, metadata=about(One(Meter), "the meter that was used")
    )
    crew: tuple[CrewMember, ...] = attrs.field(
        default=(), metadata=about(Many(CrewMember), "who took part")
    )
    stage: tuple[StageReading, ...] = attrs.field(
        default=(), metadata=about(Many(StageReading), "water levels read during the gauging")
    )
    rule_set: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "the rule set that planning and checks go by")
    )
    filed: Filed | None = attrs.field(
        default=None, metadata=about(One(Filed), "totals and products that the sheet carried")
    )
    remarks: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what was noted about the gauging")
    )
