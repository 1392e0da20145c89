"""Gaugings made up by Hypothesis: any that a record can hold, and some that can be computed."""

from datetime import date, datetime, timedelta, timezone
from typing import Any, get_args

import attrs
from hypothesis import strategies as st

from bankside.gauging.fields import Text
from bankside.gauging.header_records import ProofTime, RotorSize
from bankside.gauging.records import (
    Answer,
    Bank,
    Channel,
    Correction,
    CrewMember,
    Edge,
    Filed,
    FiledPanel,
    Gauging,
    Meter,
    MeterCheck,
    PointReading,
    Position,
    Quality,
    RatingPart,
    Severity,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.gauging.units import DischargeUnit, LengthUnit, VelocityUnit


def _maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


NUMBERS = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-1000, 1000)
NOT_NEGATIVE = st.floats(min_value=0, allow_nan=False, allow_infinity=False)
ABOVE_ZERO = st.floats(min_value=0, exclude_min=True, allow_nan=False, allow_infinity=False)
FRACTIONS = st.floats(0, 1)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=8).filter(
    Text().holds
)
LENGTH_UNITS = st.sampled_from(get_args(LengthUnit))
ZONES = st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m)))
INSTANTS = st.datetimes(
    min_value=datetime(1900, 1, 2), max_value=datetime(2100, 1, 1), timezones=ZONES
)

UNITS = st.builds(
    Units, LENGTH_UNITS, st.sampled_from(get_args(VelocityUnit)), _maybe(LENGTH_UNITS)
)
POSITIONS = st.builds(
    Position, st.floats(-180, 180), st.floats(-90, 90), _maybe(NOT_NEGATIVE), _maybe(TEXTS)
)
SITES = st.builds(Site, _maybe(TEXTS), _maybe(TEXTS), _maybe(POSITIONS), _maybe(TEXTS))
VALUES = st.builds(
    PointReading, NUMBERS, _maybe(FRACTIONS), _maybe(ABOVE_ZERO), rod_setting=_maybe(NOT_NEGATIVE)
)
COUNTS = st.builds(PointReading, st.none(), _maybe(FRACTIONS), ABOVE_ZERO, NOT_NEGATIVE)
PROOF_TIMES = st.sampled_from(get_args(ProofTime))
PROOFS = st.builds(
    MeterCheck, st.just("spin"), PROOF_TIMES, NOT_NEGATIVE, at=_maybe(INSTANTS)
) | st.builds(MeterCheck, st.just("zero"), PROOF_TIMES, value=NUMBERS, at=_maybe(INSTANTS))
CORRECTIONS = st.builds(
    Correction, TEXTS, TEXTS, _maybe(TEXTS), _maybe(TEXTS), _maybe(TEXTS), _maybe(INSTANTS)
)
ANSWERS = st.builds(
    Answer,
    TEXTS,
    TEXTS,
    st.sampled_from(get_args(Severity)),
    TEXTS,
    _maybe(TEXTS),
    _maybe(INSTANTS),
)


@st.composite
def ratings(draw: st.DrawFn) -> tuple[RatingPart, ...]:
    """A rating of one or two parts, the second reaching further than the first."""
    first, second = (draw(st.builds(RatingPart, ABOVE_ZERO, NUMBERS)) for _ in range(2))
    if draw(st.booleans()):
        return (first,)
    change_at = draw(st.floats(0.5, 2))
    return RatingPart(first.slope, first.intercept, change_at), RatingPart(
        second.slope, second.intercept, draw(_maybe(st.floats(3, 4)))
    )


def _readings(with_counts: bool) -> st.SearchStrategy[tuple[PointReading, ...]]:
    reading = VALUES | COUNTS if with_counts else VALUES
    return st.lists(reading, max_size=2).map(tuple)


@st.composite
def verticals(
    draw: st.DrawFn, tape: float, edge: str | None = None, with_counts: bool = False
) -> Vertical:
    """A vertical at a tape position: an edge, a dry place, or water with or without readings."""
    common: dict[str, Any] = {"tape": tape, "at": draw(_maybe(INSTANTS))}
    common["remark"] = draw(_maybe(TEXTS))
    if edge is None and draw(st.integers(0, 4)) == 0:
        return Vertical(dry=True, depth=draw(_maybe(st.just(0.0))), **common)
    depth = draw(_maybe(NOT_NEGATIVE))
    if edge is not None:
        common["edge"] = edge
        banks = [None, *get_args(Bank)]
        if depth is not None:
            banks = [None, *(get_args(Bank)[1:] if depth > 0 else get_args(Bank)[:1])]
        common["bank"] = draw(st.sampled_from(banks))
        if depth != 0:
            common["wall_factor"] = draw(_maybe(FRACTIONS))
    which = draw(st.sampled_from(["none", "angle", "angle_coefficient"]))
    if which != "none":
        common[which] = draw(st.floats(-90, 90) if which == "angle" else FRACTIONS)
    return Vertical(depth=depth, velocity=draw(_readings(with_counts)), **common)


@st.composite
def channels(draw: st.DrawFn, with_counts: bool) -> Channel:
    """A channel with verticals at different tape positions, in any order, edges or none."""
    tapes = draw(st.lists(NUMBERS, max_size=4, unique=True))
    marks = [*get_args(Edge)][: draw(st.integers(0, 2))]
    edges = dict(zip(tapes, marks, strict=False))
    return Channel(
        tuple(draw(verticals(tape, edges.get(tape), with_counts)) for tape in tapes),
        draw(_maybe(TEXTS)),
    )


@st.composite
def filed(draw: st.DrawFn, of: tuple[Channel, ...]) -> Filed:
    """What a sheet carried for some of the verticals of these channels."""
    places = [(c, v) for c, channel in enumerate(of) for v in range(len(channel.verticals))]
    chosen = draw(st.lists(st.sampled_from(places), max_size=3)) if places else []
    return Filed(
        draw(_maybe(NUMBERS)),
        draw(_maybe(st.sampled_from(get_args(DischargeUnit)))),
        tuple(FiledPanel(c, v, *(draw(_maybe(NUMBERS)) for _ in range(3))) for c, v in chosen),
    )


@st.composite
def meters(draw: st.DrawFn, rating: tuple[RatingPart, ...]) -> Meter:
    """A meter of which anything is known, or nothing but its rating."""
    days = sorted(draw(st.lists(st.dates(date(1950, 1, 1)), min_size=2, max_size=2)))
    return Meter(
        draw(_maybe(TEXTS)),
        draw(_maybe(TEXTS)),
        rating,
        draw(_maybe(st.sampled_from(get_args(RotorSize)))),
        draw(_maybe(NOT_NEGATIVE)),
        draw(_maybe(NOT_NEGATIVE)),
        draw(_maybe(st.just(days[0]))),
        draw(_maybe(st.just(days[1]))),
        tuple(draw(st.lists(PROOFS, max_size=2))),
    )


@st.composite
def gaugings(draw: st.DrawFn) -> Gauging:
    """Any gauging that a record can hold, finished or not."""
    rating = draw(st.just(()) | ratings())
    meter = draw(meters(rating) if rating else st.none() | st.just(Meter()) | meters(rating))
    made = tuple(draw(st.lists(channels(bool(rating)), max_size=2)))
    started, ended = draw(_maybe(INSTANTS)), draw(_maybe(INSTANTS))
    if started is not None and ended is not None and ended < started:
        started, ended = ended, started
    id_, repeats = draw(_maybe(TEXTS)), draw(_maybe(TEXTS))
    stage = tuple(draw(st.lists(st.builds(StageReading, NUMBERS, _maybe(INSTANTS)), max_size=2)))
    return Gauging(
        draw(UNITS),
        made,
        id=id_,
        site=draw(SITES),
        date=draw(_maybe(st.dates() if started is None else st.just(started.date()))),
        started=started,
        ended=ended,
        meter=meter,
        crew=tuple(draw(st.lists(st.builds(CrewMember, TEXTS, _maybe(TEXTS)), max_size=2))),
        stage=stage,
        no_gauge=not stage and draw(st.booleans()),
        whole_flow=draw(_maybe(st.booleans())),
        repeats=None if repeats == id_ else repeats,
        cleared=draw(_maybe(INSTANTS)),
        moved=draw(_maybe(TEXTS)),
        quality=draw(_maybe(st.sampled_from(get_args(Quality)))),
        rule_set=draw(_maybe(TEXTS)),
        filed=draw(_maybe(filed(made))),
        remarks=draw(_maybe(TEXTS)),
        corrections=tuple(draw(st.lists(CORRECTIONS, max_size=2))),
        answers=tuple(draw(st.lists(ANSWERS, max_size=2))),
    )


POINTS = st.sampled_from([(None,), (0.6,), (0.5,), (0.2,), (0.2, 0.8), (0.2, 0.6, 0.8), (0.3, 0.7)])
DECIMALS = st.integers(1, 300).map(lambda n: n / 100)
VELOCITIES = st.integers(-50, 300).map(lambda n: n / 100)


@st.composite
def waters(draw: st.DrawFn, tape: float) -> Vertical:
    """A vertical inside a section: measured, only sounded, or dry."""
    kind = draw(st.sampled_from(["measured", "measured", "measured", "sounded", "dry"]))
    if kind == "dry":
        return Vertical(tape, dry=True)
    depth = draw(DECIMALS)
    if kind == "sounded":
        return Vertical(tape, depth)
    readings = tuple(PointReading(draw(VELOCITIES), at) for at in draw(POINTS))
    return Vertical(tape, depth, readings, angle=draw(st.none() | st.integers(-40, 40)))


@st.composite
def complete_channels(draw: st.DrawFn) -> Channel:
    """A channel with both edges and at least one measured vertical, called from left to right."""
    count = draw(st.integers(3, 9))
    tapes = sorted(
        draw(st.lists(st.integers(-500, 5000), min_size=count, max_size=count, unique=True))
    )
    left, first, *inner, right = [tape / 100 for tape in tapes]
    depths = [draw(st.just(0.0) | DECIMALS) for _ in range(2)]
    return Channel(
        tuple(
            _with_a_velocity_in_all_water(
                [
                    Vertical(left, depths[0], edge="left"),
                    Vertical(first, draw(DECIMALS), (PointReading(draw(VELOCITIES), 0.6),)),
                    *(draw(waters(tape)) for tape in inner),
                    Vertical(right, depths[1], edge="right"),
                ]
            )
        )
    )


def _with_a_velocity_in_all_water(verticals: list[Vertical]) -> list[Vertical]:
    """The verticals, each stretch of water in which none was measured with a reading at its end."""
    given = list(verticals)
    measured = False
    for i, vertical in enumerate(verticals):
        measured = bool(vertical.depth) and (measured or bool(vertical.velocity))
        ends = i + 1 == len(verticals) or not verticals[i + 1].depth
        if vertical.depth and ends and not measured:
            given[i] = attrs.evolve(vertical, velocity=(PointReading(0.2, 0.6),))
    return given


@st.composite
def complete_gaugings(draw: st.DrawFn) -> Gauging:
    """A gauging of one or two channels that can be computed, with figures as they are called."""
    return Gauging(draw(UNITS), tuple(draw(st.lists(complete_channels(), min_size=1, max_size=2))))
