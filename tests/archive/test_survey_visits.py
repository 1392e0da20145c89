"""A survey of the archive, as its report and its screens look at it."""

from __future__ import annotations

from pathlib import Path

import attrs

from bankside.archive.archive import Archive
from bankside.archive.entries import entries_of_gauging, take_entries
from bankside.archive.refresh import refresh, seek_sites
from bankside.archive.register import put_survey
from bankside.archive.survey_visits import survey_visits
from bankside.archive.taking import take_file
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.state import state_of
from bankside.survey.document import survey_from_json

from .building import Device

DEMO = Path(__file__).parents[2] / "demo" / "survey"
SURVEY = "marrowmere-2026"


def _reviewed(archive: Archive, gauging: str, verdict: str) -> None:
    with archive.writing() as connection:
        said = entries_of_gauging(connection, gauging)
        value = {"verdict": verdict, "by": "Ada Brook", "state": state_of(said)}
        entry = Entry(
            id=f"review-{verdict.replace(' ', '-')}",
            gauging=gauging,
            device="desk",
            sequence=max(one.sequence for one in said) + 1,
            at="2026-08-01T10:00:00Z",
            what="review",
            value=value,
            reason="the right edge is missing",
        )
        take_entries(connection, [entry], "a test")
    refresh(archive)


def test_no_review_makes_an_unfinished_gauging_a_finished_one(archive: Archive) -> None:
    """A crew that left in a thunderstorm has no discharge, whatever is said of it in the office."""
    take_file(archive, DEMO / "survey.json")
    half = next((DEMO / "west").glob("tansy-run-at-the-upper-bridge-*.json"))
    (gauging,) = take_file(archive, half).gaugings
    refresh(archive)

    for verdict in ("sent back", "approved"):
        _reviewed(archive, gauging, verdict)
        with archive.reading() as connection:
            found = survey_visits(connection, SURVEY)
        assert found is not None
        (visit,) = found.visits
        assert (visit.finished, visit.final_m3s, visit.filed_m3s) == (False, None, None)
        assert visit.state != "approved"
    assert visit.reviewed_by is None


def test_who_said_the_verdict_that_stands_is_known(archive: Archive) -> None:
    """The last one counts, as it does for the state."""
    take_file(archive, DEMO / "survey.json")
    (gauging,) = take_file(archive, DEMO / "north" / "af-02_0720.csv").gaugings
    refresh(archive)

    _reviewed(archive, gauging, "sent back")
    with archive.reading() as connection:
        found = survey_visits(connection, SURVEY)

    assert found is not None
    assert [(visit.state, visit.reviewed_by) for visit in found.visits] == [
        ("sent back", "Ada Brook")
    ]


def test_each_visit_goes_with_the_rules_by_which_it_was_checked(archive: Archive) -> None:
    """A survey without rules of its own leaves each record those that it names."""
    survey = survey_from_json((DEMO / "survey.json").read_text("utf-8"))
    (gauging,) = take_file(archive, DEMO / "north" / "af-02_0720.csv").gaugings
    with archive.writing() as connection:
        put_survey(connection, attrs.evolve(survey, rule_set=None), None)
        seek_sites(connection)
        known = entries_of_gauging(connection, gauging)
        device = Device(gauging, "desk", known)
        take_entries(connection, [device.say("rule_set", "after-iso-748")], "a test")
    refresh(archive)

    with archive.reading() as connection:
        found = survey_visits(connection, SURVEY)
    assert found is not None
    assert found.rules[gauging].name == "after-iso-748"


def test_a_filed_figure_stands_and_what_gives_no_record_is_named(archive: Archive) -> None:
    """The discharge is the filed one, and no gauging of a survey drops out without a word."""
    take_file(archive, DEMO / "survey.json")
    (gauging,) = take_file(archive, DEMO / "north" / "af-02_0720.csv").gaugings
    refresh(archive)

    with archive.reading() as connection:
        found = survey_visits(connection, SURVEY)
        nothing = survey_visits(connection, "no-such-survey")

    assert nothing is None and found is not None
    (visit,) = found.visits
    assert visit.id == gauging and visit.site is not None and visit.site.id == "AF-02"
    assert visit.result is not None and visit.filed_m3s == visit.result.discharge_m3s
    assert (visit.state, visit.finished, found.left_out) == ("to review", True, ())
