"""The records of a survey: its streams and sites, and where discharges should add up.

Every constructor raises InputRefused with everything that is wrong with its arguments.
"""

import datetime
from typing import ClassVar

import attrs

from bankside.gauging.checked import Checked, Rule
from bankside.gauging.fields import Day, Many, Number, One, Text, Texts, about
from bankside.gauging.journal.kinds import Key
from bankside.gauging.records import Position
from bankside.survey import rules

__all__ = ["Balance", "Stream", "Survey", "SurveySite"]

_TEXT = Text()
_KEY = Key()
_NOT_NEGATIVE = Number(least=0)
_DAY = Day()


@attrs.frozen
class Stream(Checked):
    """A stream of the basin, and where it flows."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("name", "joins"), rules.does_not_join_itself),
        Rule(("joins", "joins_at_km"), rules.mouth_has_a_stream),
        Rule(("line",), rules.line_has_two_points),
    )

    name: str = attrs.field(metadata=about(_TEXT, "the name of the stream"))
    joins: str | None = attrs.field(
        default=None,
        metadata=about(_TEXT, "the stream that it flows into, absent where it leaves the basin"),
    )
    joins_at_km: float | None = attrs.field(
        default=None,
        metadata=about(
            _NOT_NEGATIVE, "how far its mouth is from the mouth of that stream, along that stream"
        ),
    )
    line: tuple[Position, ...] = attrs.field(
        default=(), metadata=about(Many(Position), "its course, from its source to its mouth")
    )


@attrs.frozen
class SurveySite(Checked):
    """A place on a stream that is visited, and by which names sheets call it."""

    id: str = attrs.field(metadata=about(_KEY, "what tells this site from every other"))
    stream: str = attrs.field(metadata=about(_TEXT, "the name of the stream"))
    name: str = attrs.field(metadata=about(_TEXT, "the name of the place on the stream"))
    also: tuple[str, ...] = attrs.field(
        default=(), metadata=about(Texts(), "other names by which sheets call the place")
    )
    label: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "the name of the point in the receiver or on the map")
    )
    position: Position | None = attrs.field(
        default=None, metadata=about(One(Position), "where the section is planned to be")
    )
    along_km: float | None = attrs.field(
        default=None,
        metadata=about(_NOT_NEGATIVE, "how far it is from the mouth of its stream, along it"),
    )
    drainage_area_km2: float | None = attrs.field(
        default=None, metadata=about(Number(above=0), "the area that drains to it")
    )
    visits_planned: float | None = attrs.field(
        default=None, metadata=about(_NOT_NEGATIVE, "how many gaugings are planned there")
    )
    remarks: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "access, permits, hazards and what else to know there")
    )


@attrs.frozen
class Balance(Checked):
    """Sites whose discharges should add up: what comes in, less what is taken out, goes on."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("above", "taken_out", "below"), rules.balance_names_a_site_once),
    )

    name: str = attrs.field(metadata=about(_TEXT, "what the balance is called"))
    above: tuple[str, ...] = attrs.field(
        metadata=about(
            Texts(), "the ids of the sites where the water comes in, tributaries among them"
        )
    )
    below: str = attrs.field(metadata=about(_KEY, "the id of the site that all of it reaches"))
    taken_out: tuple[str, ...] = attrs.field(
        default=(),
        metadata=about(Texts(), "the ids of the sites where water is taken out in between"),
    )


@attrs.frozen
class Survey(Checked):
    """A season's or a project's set of sites; the gaugings stand apart and name their sites."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("starts", "ends"), rules.ends_after_its_start),
        Rule(("streams",), rules.streams_have_one_name_each),
        Rule(("streams",), rules.streams_flow_somewhere),
        Rule(("sites",), rules.sites_have_one_id_each),
        Rule(("streams", "sites"), rules.sites_lie_on_streams),
        Rule(("sites", "balances"), rules.balances_name_sites),
    )

    id: str = attrs.field(metadata=about(_KEY, "what tells this survey from every other"))
    name: str = attrs.field(metadata=about(_TEXT, "the name of the survey"))
    basin: str | None = attrs.field(default=None, metadata=about(_TEXT, "the name of the basin"))
    organisation: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "who carries the survey out")
    )
    starts: datetime.date | None = attrs.field(
        default=None, metadata=about(_DAY, "the first day of the survey")
    )
    ends: datetime.date | None = attrs.field(
        default=None, metadata=about(_DAY, "the last day of the survey")
    )
    rule_set: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "the rule set that the survey goes by")
    )
    duplicates_percent: float | None = attrs.field(
        default=None,
        metadata=about(
            Number(least=0, most=100), "the share of visits that are to be measured twice"
        ),
    )
    days_apart: float | None = attrs.field(
        default=None,
        metadata=about(
            Number(least=0, most=31),
            "how many days apart gaugings may be to be held against each other, none if not said",
        ),
    )
    streams: tuple[Stream, ...] = attrs.field(
        default=(), metadata=about(Many(Stream), "the streams of the basin")
    )
    sites: tuple[SurveySite, ...] = attrs.field(
        default=(), metadata=about(Many(SurveySite), "the sites of the survey")
    )
    balances: tuple[Balance, ...] = attrs.field(
        default=(), metadata=about(Many(Balance), "sites whose discharges should add up")
    )
    remarks: str | None = attrs.field(
        default=None, metadata=about(_TEXT, "what was noted about the survey")
    )
