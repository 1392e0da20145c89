"""The records of what stands around the readings: where, with what, by whom, at which stage.

Every constructor raises InputRefused with everything that is wrong with its arguments.
"""

import datetime
from typing import ClassVar, Literal, get_args

import attrs

from bankside.gauging import rules
from bankside.gauging.checked import Checked, Rule
from bankside.gauging.fields import Choice, Day, Instant, Many, Number, One, Text, about
from bankside.gauging.units import LengthUnit, VelocityUnit

__all__ = [
    "CrewMember",
    "Meter",
    "MeterCheck",
    "Position",
    "ProofKind",
    "ProofTime",
    "RatingPart",
    "RotorSize",
    "Site",
    "StageReading",
    "Units",
]

ProofKind = Literal["spin", "zero"]
ProofTime = Literal["before", "after"]
RotorSize = Literal["small", "large"]

_TEXT = Text()
_NUMBER = Number()
_NOT_NEGATIVE = Number(least=0)
_INSTANT = Instant()
_DAY = Day()
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
    id: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "the id of the place in the list of a survey's sites")
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
class MeterCheck(Checked):
    """A proof of the meter at the stream: how long the rotor spun, or what still water gave."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("kind", "seconds", "value"), rules.proof_has_a_figure),
    )

    kind: ProofKind = attrs.field(
        metadata=about(
            Choice(get_args(ProofKind)), "spin: the rotor turned by hand; zero: held in still water"
        )
    )
    when: ProofTime = attrs.field(
        metadata=about(
            Choice(get_args(ProofTime)), "whether it was made before or after the readings"
        )
    )
    seconds: float | None = attrs.field(
        default=None, metadata=about(_NOT_NEGATIVE, "how long the rotor spun, for a spin")
    )
    value: float | None = attrs.field(
        default=None, metadata=about(_NUMBER, "the velocity shown in still water, for a zero")
    )
    at: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when it was made")
    )


@attrs.frozen
class Meter(Checked):
    """The velocity meter."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("rating",), rules.rating_parts_follow),
        Rule(("calibrated", "calibration_due"), rules.due_after_calibration),
    )

    kind: str | None = attrs.field(default=None, metadata=about(_TEXT, "the kind of meter"))
    serial: str | None = attrs.field(default=None, metadata=about(_TEXT, "its serial number"))
    rating: tuple[RatingPart, ...] = attrs.field(
        default=(), metadata=about(Many(RatingPart, most=2), "its rating, from slow to fast")
    )
    rotor: RotorSize | None = attrs.field(
        default=None,
        metadata=about(
            Choice(get_args(RotorSize)), "the size of its rotor, absent where it is unknown or none"
        ),
    )
    slowest: float | None = attrs.field(
        default=None,
        metadata=about(_NOT_NEGATIVE, "the least velocity that it measures, by its papers"),
    )
    shallowest: float | None = attrs.field(
        default=None,
        metadata=about(_NOT_NEGATIVE, "the least depth in which it measures, by its papers"),
    )
    calibrated: datetime.date | None = attrs.field(
        default=None, metadata=about(_DAY, "the day of its last calibration")
    )
    calibration_due: datetime.date | None = attrs.field(
        default=None, metadata=about(_DAY, "the day by which it is to be calibrated again")
    )
    checks: tuple[MeterCheck, ...] = attrs.field(
        default=(), metadata=about(Many(MeterCheck), "its proofs before and after the readings")
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
