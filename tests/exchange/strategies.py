"""Surveys and gaugings made up by Hypothesis that use every field that a record has."""

from typing import Any, get_args

import attrs
from hypothesis import strategies as st

from bankside.exchange.data import SurveyData
from bankside.gauging.header_records import MeterCheck, ProofTime, RotorSize
from bankside.gauging.records import Answer, Correction, Gauging, Meter, Quality, Severity
from bankside.survey.records import Balance, Stream, Survey, SurveySite

from ..gauging.strategies import (
    ABOVE_ZERO,
    INSTANTS,
    NOT_NEGATIVE,
    NUMBERS,
    POSITIONS,
    TEXTS,
    gaugings,
)

# What a spreadsheet could take for a formula, and what could be taken for a guard against it.
FORMULAS = st.sampled_from(["=1+1", "'=x", "''", "'a", "+a", "-1", "@x", "\t=a", "\r\n a", 'a"b,c'])
WORDS = TEXTS | FORMULAS
KEYS = st.text("abcdefgh0123-_", min_size=1, max_size=6)
KEYS_LISTS = st.lists(KEYS, unique=True, max_size=4)


def _maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


CHECKS = st.builds(
    MeterCheck,
    kind=st.just("spin"),
    when=st.sampled_from(get_args(ProofTime)),
    seconds=NOT_NEGATIVE,
    at=_maybe(INSTANTS),
) | st.builds(
    MeterCheck, kind=st.just("zero"), when=st.sampled_from(get_args(ProofTime)), value=NUMBERS
)
CORRECTIONS = st.builds(
    Correction, WORDS, WORDS, _maybe(WORDS), _maybe(WORDS), _maybe(WORDS), _maybe(INSTANTS)
)
ANSWERS = st.builds(
    Answer,
    *(WORDS, WORDS, st.sampled_from(get_args(Severity)), WORDS),
    *(_maybe(WORDS), _maybe(INSTANTS)),
)


def _few(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(strategy, max_size=2).map(tuple)


@st.composite
def full_gaugings(draw: st.DrawFn) -> Gauging:
    """Any gauging, with the fields that stand around its readings filled in or not."""
    made = draw(gaugings())
    meter = made.meter if made.meter is not None else draw(_maybe(st.just(Meter())))
    if meter is not None:
        calibrated = sorted(draw(st.lists(st.dates(), max_size=2)))
        meter = attrs.evolve(
            meter,
            checks=draw(_few(CHECKS)),
            rotor=draw(_maybe(st.sampled_from(get_args(RotorSize)))),
            slowest=draw(_maybe(NOT_NEGATIVE)),
            shallowest=draw(_maybe(NOT_NEGATIVE)),
            calibrated=calibrated[0] if calibrated else None,
            calibration_due=calibrated[-1] if calibrated else None,
        )
    return attrs.evolve(
        made,
        site=attrs.evolve(made.site, id=draw(_maybe(WORDS))),
        meter=meter,
        no_gauge=not made.stage and draw(st.booleans()),
        whole_flow=draw(_maybe(st.booleans())),
        cleared=draw(_maybe(INSTANTS)),
        moved=draw(_maybe(WORDS)),
        quality=draw(_maybe(st.sampled_from(get_args(Quality)))),
        remarks=draw(_maybe(WORDS)),
        corrections=draw(_few(CORRECTIONS)),
        answers=draw(_few(ANSWERS)),
    )


@st.composite
def surveys(draw: st.DrawFn) -> Survey:
    """A survey of streams that flow into one another, with sites and balances between them."""
    names = draw(st.lists(TEXTS, unique=True, max_size=3))
    ids = draw(KEYS_LISTS)
    return Survey(
        id=draw(KEYS),
        name=draw(WORDS),
        basin=draw(_maybe(WORDS)),
        organisation=draw(_maybe(WORDS)),
        starts=draw(_maybe(st.dates())),
        rule_set=draw(_maybe(WORDS)),
        duplicates_percent=draw(_maybe(st.floats(0, 100))),
        streams=tuple(_stream(draw, name, names[:n]) for n, name in enumerate(names)),
        sites=tuple(_site(draw, id_, names) for id_ in ids),
        balances=draw(_few(_balances(ids))) if len(ids) > 2 else (),
        remarks=draw(_maybe(WORDS)),
    )


def _stream(draw: st.DrawFn, name: str, below: list[str]) -> Stream:
    joins = draw(_maybe(st.sampled_from(below))) if below else None
    line = draw(st.lists(POSITIONS, max_size=3).filter(lambda points: len(points) != 1))
    return Stream(
        name, joins, draw(_maybe(NOT_NEGATIVE)) if joins is not None else None, tuple(line)
    )


def _site(draw: st.DrawFn, id_: str, streams: list[str]) -> SurveySite:
    return SurveySite(
        id_,
        draw(st.sampled_from(streams) if streams else WORDS),
        draw(WORDS),
        also=tuple(draw(st.lists(WORDS, unique=True, max_size=2))),
        label=draw(_maybe(WORDS)),
        position=draw(_maybe(POSITIONS)),
        along_km=draw(_maybe(NOT_NEGATIVE)),
        drainage_area_km2=draw(_maybe(ABOVE_ZERO)),
        visits_planned=draw(_maybe(NOT_NEGATIVE)),
        remarks=draw(_maybe(WORDS)),
    )


def _balances(ids: list[str]) -> st.SearchStrategy[Balance]:
    return st.builds(
        lambda order, name: Balance(name, (order[0],), order[1], tuple(order[2:3])),
        st.permutations(ids),
        WORDS,
    )


@st.composite
def survey_data(draw: st.DrawFn) -> SurveyData:
    """A survey or none, and gaugings, some of which may have the same id."""
    return SurveyData(draw(_maybe(surveys())), tuple(draw(st.lists(full_gaugings(), max_size=3))))
