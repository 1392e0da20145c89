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
from bankside.gauging.header_records import (
    CrewMember,
    Meter,
    MeterCheck,
    Position,
    RatingPart,
    Site,
    StageReading,
    Units,
)
from bankside.gauging.units import DischargeUnit

__all__ = [
    "Answer",
    "Bank",
    "Channel",
    "Correction",
    "CrewMember",
    "Edge",
    "Filed",
    "FiledPanel",
    "Gauging",
    "Meter",
    "MeterCheck",
    "PointReading",
    "Position",
    "Quality",
    "RatingPart",
    "Severity",
    "Site",
    "StageReading",
    "Units",
    "Vertical",
]

Edge = Literal["left", "right"]
Bank = Literal["sloping", "steep", "undercut"]
Quality = Literal["excellent", "good", "fair", "poor"]
Severity = Literal["stop", "fix now", "explain", "note"]

_TEXT = Text()
_NUMBER = Number()
_NOT_NEGATIVE = Number(least=0)
_SHARE_OF_ONE = Number(least=0, most=1)
_INSTANT = Instant()


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
    rod_setting: float | None = attrs.field(
        default=None,
        metadata=about(
            _NOT_NEGATIVE,
            "what a top-setting rod was set to, in the unit of depth: its scale reads the depth "
            "for 0.6, half of it for 0.8, twice of it for 0.2",
        ),
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
class Answer(Checked):
    """Why a finding of a check is accepted; it holds as long as the finding says the same."""

    check: str = attrs.field(metadata=about(_TEXT, "the name of the check"))
    finding: str = attrs.field(metadata=about(_TEXT, "what the check found, word for word"))
    severity: Severity = attrs.field(
        metadata=about(Choice(get_args(Severity)), "how grave it was found to be")
    )
    reason: str = attrs.field(metadata=about(_TEXT, "why it is accepted"))
    by: str | None = attrs.field(default=None, metadata=about(_TEXT, "who accepted it"))
    at: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when it was accepted")
    )


@attrs.frozen
class Correction(Checked):
    """A figure that was struck through and written again, and why."""

    what: str = attrs.field(
        metadata=about(_TEXT, "what was corrected, such as the depth at tape 12.3")
    )
    was: str = attrs.field(metadata=about(_TEXT, "what stood there before"))
    now: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what stands there now, absent where it was taken out")
    )
    reason: str | None = attrs.field(default=None, metadata=about(_TEXT, "why it was corrected"))
    by: str | None = attrs.field(default=None, metadata=about(_TEXT, "who corrected it"))
    at: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when it was corrected")
    )


@attrs.frozen
class Gauging(Checked):
    """One measurement of discharge at a section on a date, finished or not."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("started", "ended"), rules.ends_after_its_start),
        Rule(("started", "date"), rules.starts_on_its_date),
        Rule(("channels", "meter"), rules.counts_have_a_rating),
        Rule(("no_gauge", "stage"), rules.stage_has_a_gauge),
        Rule(("channels", "filed"), rules.filed_panels_have_verticals),
        Rule(("id", "repeats"), rules.does_not_repeat_itself),
        Rule(("id", "practice"), rules.practice_is_marked),
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
    no_gauge: bool = attrs.field(
        default=False, metadata=about(Flag(), "whether the site has no staff gauge to read")
    )
    whole_flow: bool | None = attrs.field(
        default=None,
        metadata=about(
            Flag(), "whether all the water of the stream passes the section, as the crew looked"
        ),
    )
    repeats: str | None = attrs.field(
        default=None,
        metadata=about(
            _TEXT, "the id of the gauging that this one repeats on purpose, as a duplicate"
        ),
    )
    cleared: datetime.datetime | None = attrs.field(
        default=None, metadata=about(_INSTANT, "when stones or weed were last moved at the section")
    )
    moved: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what was moved there, to be put back if a permit asks")
    )
    quality: Quality | None = attrs.field(
        default=None,
        metadata=about(Choice(get_args(Quality)), "how good the crew holds the measurement to be"),
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
    corrections: tuple[Correction, ...] = attrs.field(
        default=(), metadata=about(Many(Correction), "figures that were struck through, and why")
    )
    answers: tuple[Answer, ...] = attrs.field(
        default=(), metadata=about(Many(Answer), "why findings of the checks are accepted")
    )
    practice: bool = attrs.field(
        default=False,
        metadata=about(
            Flag(),
            "whether it is practice on a simulated stream; then its id begins with practice-, and "
            "it never stands among gaugings of real water",
        ),
    )
