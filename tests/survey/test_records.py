"""The records of a survey: what they refuse, in which words and where."""

import datetime
from collections.abc import Callable

import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Position
from bankside.survey.records import Balance, Stream, Survey, SurveySite

from .building import BROOK, LOWER, MAIN, SURVEY, TRIBUTARY, UPPER

POINT = Position(-120.0, 45.0)


def _faults(make: Callable[[], object]) -> list[tuple[str | None, str]]:
    with pytest.raises(InputRefused) as refused:
        make()
    return [(fault.path, fault.message) for fault in refused.value.faults]


def _survey(**members: object) -> Survey:
    return Survey("s", "A survey", **members)


def test_a_whole_survey_is_taken() -> None:
    """Streams that flow into each other, sites on them and a balance between these."""
    balance = Balance("Confluence", ("upper", "brook"), "lower")

    assert SURVEY.sites == (UPPER, LOWER, BROOK)
    assert _survey(streams=(MAIN, TRIBUTARY), sites=SURVEY.sites, balances=(balance,)).balances


@pytest.mark.parametrize(
    ("make", "faults"),
    [
        (
            lambda: Stream("Alder River", joins="Alder River"),
            [("joins", 'joins must be another stream (got "Alder River" itself)')],
        ),
        (
            lambda: Stream("Alder River", joins_at_km=3.0),
            [("joins", "joins must be given with joins_at_km (got 3 km and no stream)")],
        ),
        (
            lambda: Stream("Alder River", line=(POINT,)),
            [("line", "line must have two points or more, or none (got 1)")],
        ),
        (
            lambda: Stream("", joins="X", joins_at_km=-1.0),
            [
                ("name", 'name must be a text that can be seen and that UTF-8 can hold (got "")'),
                ("joins_at_km", "joins_at_km must be a number of at least 0 (got -1.0)"),
            ],
        ),
        (
            lambda: Balance("B", (), "lower"),
            [("above", "above must name one site or more (got none)")],
        ),
        (
            lambda: Balance("B", ("a", "b"), "a", taken_out=("b",)),
            [
                ("above", 'a balance must name a site once (got "a" twice)'),
                ("above", 'a balance must name a site once (got "b" twice)'),
            ],
        ),
        (
            lambda: SurveySite("no spaces", "Alder River", "X", drainage_area_km2=0.0),
            [
                (
                    "id",
                    'id must be a text of 1 to 64 letters from A to Z, figures, "_" or "-" '
                    '(got "no spaces")',
                ),
                ("drainage_area_km2", "drainage_area_km2 must be a number above 0 (got 0.0)"),
            ],
        ),
        (
            lambda: SurveySite("x", "Alder River", "X", also=("a", "a")),
            [
                (
                    "also",
                    "also must be a tuple (a list, in JSON) of texts that can be seen, each once "
                    "(got a tuple of 2)",
                )
            ],
        ),
    ],
)
def test_what_a_record_refuses(
    make: Callable[[], object], faults: list[tuple[str | None, str]]
) -> None:
    """Every fault at once, each with its field and what was found there."""
    assert sorted(_faults(make)) == sorted(faults)


@pytest.mark.parametrize(
    ("members", "path", "message"),
    [
        (
            {"starts": datetime.date(2026, 8, 1), "ends": datetime.date(2026, 7, 1)},
            "ends",
            "ends must not be before starts (got 2026-07-01 and 2026-08-01)",
        ),
        (
            {"streams": (MAIN, MAIN)},
            "streams",
            'streams must have names of their own (got "Alder River" twice)',
        ),
        (
            {"streams": (TRIBUTARY,)},
            "streams[0].joins",
            'joins must be a stream of the survey (got "Alder River")',
        ),
        (
            {"sites": (UPPER, UPPER)},
            "sites",
            'sites must have ids of their own (got "upper" twice)',
        ),
        (
            {"streams": (MAIN,), "sites": (UPPER, BROOK)},
            "sites[1].stream",
            'stream must be one of the survey (got "Birch Brook")',
        ),
        (
            {"sites": (UPPER,), "balances": (Balance("B", ("upper",), "gone"),)},
            "balances[0]",
            'a balance must name sites of the survey (got "gone")',
        ),
        (
            {"duplicates_percent": 101.0},
            "duplicates_percent",
            "duplicates_percent must be a number from 0 to 100 (got 101.0)",
        ),
    ],
)
def test_what_a_survey_refuses(members: dict[str, object], path: str, message: str) -> None:
    """One contradiction, told where it is."""
    assert _faults(lambda: _survey(**members)) == [(path, message)]


def test_streams_must_not_flow_in_a_circle() -> None:
    """Each stream of the circle is named, and none that only flows into it."""
    streams = (
        Stream("A", joins="B"),
        Stream("B", joins="C"),
        Stream("C", joins="A"),
        Stream("D", joins="A"),
    )

    assert _faults(lambda: _survey(streams=streams)) == [
        (f"streams[{i}].joins", f'a stream must not flow back into itself (got "{name}")')
        for i, name in enumerate("ABC")
    ]


def test_without_a_list_of_streams_sites_may_lie_on_any() -> None:
    """A small survey needs no streams."""
    assert _survey(sites=(UPPER, BROOK)).streams == ()
