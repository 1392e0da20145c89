"""Surveys and gaugings made up by Hypothesis that use every field that a record has."""

from typing import Any, get_args

import attrs
from hypothesis import strategies as st

from bankside.exchange.data import SurveyData
from bankside.gauging.header_records import MeterCheck, ProofTime, RotorSize
from bankside.gauging.records import Answer, Correction, Gauging, Meter, Quality, Severity
from bankside.survey.records import Survey

from ..gauging.strategies import (
    INSTANTS,
    NOT_NEGATIVE,
    NUMBERS,
    TEXTS,
    gaugings,
)
from ..survey.strategies import surveys as plain_surveys

# What a spreadsheet could take for a formula, and what could be taken for a guard against it.
FORMULAS = st.sampled_from(["=1+1", "'=x", "''", "'a", "+a", "-1", "@x", "\t=a", "\r\n a", 'a"b,c'])
WORDS = TEXTS | FORMULAS


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


def surveys() -> st.SearchStrategy[Survey]:
    """A survey whose texts may look like formulas."""
    return plain_surveys(WORDS)


@st.composite
def survey_data(draw: st.DrawFn) -> SurveyData:
    """A survey or none, and gaugings, some of which may have the same id."""
    return SurveyData(draw(_maybe(surveys())), tuple(draw(st.lists(full_gaugings(), max_size=3))))
