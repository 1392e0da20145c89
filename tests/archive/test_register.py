"""What is put down about surveys, and how gaugings find their sites by it."""

from __future__ import annotations

import datetime

import attrs
import pytest

from bankside.archive.archive import Archive
from bankside.archive.refresh import refresh, seek_sites
from bankside.archive.register import (
    all_sites,
    history,
    put,
    put_survey,
    standing,
    survey_of,
)
from bankside.archive.tables import register, sites, stale, surveys
from bankside.survey.document import survey_to_json
from bankside.survey.records import Survey, SurveySite

from ..survey.building import BROOK, LOWER, SURVEY, UPPER
from .building import crossing, keep
from .looking import row_of, rows

LATER = Survey(
    "low-flow-2027",
    "Low flow 2027",
    starts=datetime.date(2027, 6, 1),
    streams=SURVEY.streams,
    sites=(attrs.evolve(UPPER, drainage_area_km2=41.0),),
)


def _put(archive: Archive, survey: Survey, **said: str) -> bool:
    """Put a survey down as whoever takes in a file does."""
    with archive.writing() as connection:
        new = put_survey(connection, survey, **said)
        if new:
            seek_sites(connection)
    refresh(archive)
    return new


def test_what_is_put_down_twice_is_nothing_new(archive: Archive) -> None:
    """The same again leaves no trace; what changed is put down whole, the former kept."""
    changed = attrs.evolve(SURVEY, remarks="Two sites were moved.")

    assert [_put(archive, one) for one in (SURVEY, SURVEY, changed, changed, SURVEY)] == [
        True,
        False,
        True,
        False,
        True,
    ]
    with archive.reading() as connection:
        assert survey_of(connection, SURVEY.id) == SURVEY
        assert survey_of(connection, "another") is None
        records = [one.record for one in history(connection, "survey", SURVEY.id)]
    assert records == [survey_to_json(one) for one in (SURVEY, changed, SURVEY)]


def test_who_put_it_down_and_why_stays_on_record(archive: Archive) -> None:
    """Each time stands with its number, moment, person and reason."""
    _put(archive, SURVEY, by="I. Marrow")
    _put(archive, attrs.evolve(SURVEY, name="Low flow"), by="O. \0", reason="shorter \ud800")
    with archive.reading() as connection:
        first, second = history(connection, "survey", SURVEY.id)

    assert (first.by, first.reason) == ("I. Marrow", None)
    assert (second.by, second.reason) == ("O. \ufffd", "shorter \ufffd")
    assert first.number < second.number
    assert first.at < second.at


def test_things_of_other_kinds_stand_apart(archive: Archive) -> None:
    """A meter and a person of one key are two things, each as it was put down last."""
    with archive.writing() as connection:
        for kind, key, record in (
            ("meter", "p17", '{"kind":"propeller"}'),
            ("person", "p17", '{"name":"I. Marrow"}'),
            ("meter", "a03", '{"kind":"electromagnetic"}'),
            ("meter", "p17", '{"kind":"propeller","serial":"P-17"}'),
        ):
            assert put(connection, kind, key, record)
        assert not put(connection, "person", "p17", '{"name":"I. Marrow"}')
    with archive.reading() as connection:
        assert [(one.key, one.record) for one in standing(connection, "meter")] == [
            ("a03", '{"kind":"electromagnetic"}'),
            ("p17", '{"kind":"propeller","serial":"P-17"}'),
        ]
        assert [one.key for one in standing(connection, "person")] == ["p17"]
        assert standing(connection, "survey") == ()


def test_the_sites_of_a_survey_follow_it(archive: Archive) -> None:
    """Sites that a survey no longer has are gone, and those that it has stand in its order."""
    _put(archive, SURVEY)
    assert [row["id"] for row in sorted(rows(archive, sites), key=lambda row: row["place"])] == [
        "upper",
        "lower",
        "brook",
    ]

    _put(archive, attrs.evolve(SURVEY, sites=(BROOK, UPPER)))
    found = sorted(rows(archive, sites), key=lambda row: row["place"])
    assert [(row["id"], row["stream"], row["name"]) for row in found] == [
        ("brook", "Birch Brook", "Old mill"),
        ("upper", "Alder River", "Upper meadow"),
    ]
    assert [row["sites"] for row in rows(archive, surveys)] == [2]


def test_a_survey_of_odd_texts(archive: Archive) -> None:
    """Signs that no column can hold come back in the survey as they were put down."""
    odd = attrs.evolve(SURVEY, name="Low \0 flow", sites=(attrs.evolve(UPPER, name="a \0 b"),))
    _put(archive, odd)

    with archive.reading() as connection:
        assert survey_of(connection, odd.id) == odd


def test_gaugings_find_their_site_when_a_survey_is_put_down_later(archive: Archive) -> None:
    """What came in before its survey is at its site right after; others stay where they are."""
    keep(archive, crossing(), crossing("g2", place="nowhere"))
    assert (row_of(archive)["site"], row_of(archive)["survey"]) == (None, None)
    _put(archive, SURVEY)

    assert (row_of(archive)["site"], row_of(archive)["survey"]) == ("upper", SURVEY.id)
    assert (row_of(archive, "g2")["site"], row_of(archive, "g2")["survey"]) == (None, None)


def test_gaugings_follow_when_the_sites_change(archive: Archive) -> None:
    """Another name for a site, a site that goes, a survey that ends: each finds where it is now."""
    keep(archive, crossing(), crossing("g2", place="the ford"))
    _put(archive, SURVEY)
    assert row_of(archive, "g2")["site"] is None

    _put(archive, attrs.evolve(SURVEY, sites=(UPPER, attrs.evolve(LOWER, also=("the ford",)))))
    assert row_of(archive, "g2")["site"] == "lower"

    _put(archive, attrs.evolve(SURVEY, sites=(LOWER,)))
    assert row_of(archive)["site"] is None

    _put(archive, attrs.evolve(SURVEY, ends=datetime.date(2026, 7, 13)))
    assert (row_of(archive)["site"], row_of(archive)["survey"]) == ("upper", None)


def test_only_gaugings_that_move_are_worked_out_anew(archive: Archive) -> None:
    """A survey of a thousand gaugings is not worked out anew for one that finds its site."""
    keep(archive, crossing(), crossing("g2", place="the ford"))
    _put(archive, SURVEY)
    with archive.writing() as connection:
        put_survey(
            connection, attrs.evolve(SURVEY, sites=(UPPER, attrs.evolve(LOWER, also=("the ford",))))
        )
        assert seek_sites(connection) == 1
    assert [row["gauging"] for row in rows(archive, stale)] == ["g2"]


def test_a_site_of_two_surveys_is_one_site(archive: Archive) -> None:
    """A gauging belongs to the survey that visits its site on that day, of two to the later one."""
    for survey in (LATER, SURVEY):
        _put(archive, survey)
    keep(archive, crossing(), crossing("g2", day="2027-07-14"))

    assert (row_of(archive)["site"], row_of(archive)["survey"]) == ("upper", SURVEY.id)
    assert (row_of(archive, "g2")["site"], row_of(archive, "g2")["survey"]) == ("upper", LATER.id)


@pytest.mark.parametrize("first", [SURVEY, LATER], ids=lambda survey: survey.id)
def test_of_two_records_of_a_site_that_of_the_later_survey_holds(
    archive: Archive, first: Survey
) -> None:
    """Whichever was put down first, and where a survey does not say when it starts."""
    for survey in (first, LATER if first is SURVEY else SURVEY):
        _put(archive, survey)
    with archive.reading() as connection:
        found = {site.id: site.drainage_area_km2 for site in all_sites(connection)}

    assert found == {"upper": 41.0, "lower": 100.0, "brook": 30.0}


def test_a_site_is_found_by_its_id_its_label_and_its_names(archive: Archive) -> None:
    """What a gauging says of its site is compared without case, accents and marks."""
    site = SurveySite("s1", "Éddy Brook", "Old mill", also=("mill, lower",), label="EB-1")
    streams = (attrs.evolve(SURVEY.streams[0], name="Éddy Brook"),)
    _put(archive, Survey("other", "Another", streams=streams, sites=(site,)))
    keep(
        archive,
        crossing("id", stream="whatever", place="whatever", site__id="s1"),
        crossing("name", stream="EDDY BROOK", place="old  MILL"),
        crossing("also", stream="eddy-brook", place="Mill lower"),
        crossing("other", stream="eddy brook", place="mill"),
    )

    assert [row_of(archive, id_)["site"] for id_ in ("id", "name", "also", "other")] == [
        "s1",
        "s1",
        "s1",
        None,
    ]


def test_what_is_put_down_is_numbered_with_the_entries(archive: Archive) -> None:
    """One row of numbers goes through all that arrives."""
    keep(archive, crossing())
    _put(archive, SURVEY)

    assert rows(archive, register)[0]["number"] > len(crossing().entries)
