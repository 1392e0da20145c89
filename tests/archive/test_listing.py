"""What an office asks: the right rows, in the same order everywhere, by the same few queries."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import attrs
from sqlalchemy import Connection, event, insert, update

from bankside.archive.archive import Archive
from bankside.archive.listing import (
    found_by,
    gauging_rows,
    of_survey,
    overview,
    record_in,
    site_asked,
    survey_counts,
    without_site,
    without_survey,
    without_survey_count,
)
from bankside.archive.register import put_survey
from bankside.archive.tables import gaugings, survey_states, vocabulary, words
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import recorded
from bankside.survey.records import Survey

from ..survey.building import SURVEY
from .building import Device, crossing, keep
from .looking import rows

SHA256 = "cd" * 32


def _survey(id_: str, starts: str | None) -> Survey:
    day = None if starts is None else datetime.date.fromisoformat(starts)
    return attrs.evolve(SURVEY, id=id_, starts=day, name=f"Survey {id_}")


def _ids(found: Any) -> list[str]:
    return [row["id"] for row in found]


def test_surveys_come_the_latest_first_with_their_counts(archive: Archive) -> None:
    """Those that do not say when they start come last; each tells its gaugings by state."""
    with archive.writing() as connection:
        for id_, starts in (("b", None), ("c", "2027-06-01"), ("d", "2026-06-01"), ("a", None)):
            put_survey(connection, _survey(id_, starts))
    device = crossing("g2")
    device.review()
    keep(archive, crossing("g1"), device, crossing("g3", place="nowhere"))
    with archive.reading() as connection:
        found = survey_counts(connection)
        some = survey_counts(connection, most=2, before=1)

    assert [one.id for one in found] == ["c", "d", "b", "a"]
    assert [one.id for one in some] == ["d", "b"]
    assert [(one.gaugings, dict(one.by_state)) for one in found] == [
        (0, {}),
        (2, {"to review": 1, "approved": 1}),
        (0, {}),
        (0, {}),
    ]
    assert (found[1].name, found[1].starts, found[1].sites) == ("Survey d", "2026-06-01", 3)


def _busy(archive: Archive) -> list[Device]:
    """Gaugings of a survey: of one day at two hours and at none, of other days, of no day."""
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
    devices = [
        crossing("early", started="2026-07-14T08:00:00-07:00"),
        crossing("late", started="2026-07-14T16:00:00-07:00"),
        crossing("untimed"),
        crossing("before", day="2026-07-01"),
        crossing("after", day="2026-07-31", place="Lower ford"),
        crossing("elsewhere", place="nowhere"),
    ]
    undated = crossing("undated")
    undated.say("date", None)
    keep(archive, *devices, undated)
    return [*devices, undated]


def test_gaugings_come_the_latest_first(archive: Archive) -> None:
    """Of one day the last that began first, then those of which no hour is known, then no day."""
    _busy(archive)
    with archive.reading() as connection:
        assert _ids(overview(connection, SURVEY.id)) == [
            "after",
            "late",
            "early",
            "untimed",
            "before",
            "undated",
        ]
        assert _ids(overview(connection, "another")) == []
        assert _ids(without_site(connection)) == ["elsewhere"]
        assert _ids(found_by(connection, "upper")) == [
            "early",
            "late",
            "untimed",
            "before",
            "undated",
        ]
        assert "record" not in overview(connection, SURVEY.id)[0]


def test_records_come_in_the_order_of_days(archive: Archive) -> None:
    """The records of a survey are those of the journals, each with its id."""
    devices = {device.gauging: device for device in _busy(archive)}
    with archive.reading() as connection:
        records = of_survey(connection, SURVEY)
        asked = gauging_rows(connection, ["late", "nowhere", "early"])
        found = [record_in(row) for row in asked]

    assert [record.id for record in records] == [
        "undated",
        "before",
        "untimed",
        "early",
        "late",
        "after",
    ]
    assert _ids(asked) == ["late", "early"]
    assert found[1] == recorded(fold(devices["early"].entries)).gauging


def test_a_gauging_without_a_record_has_its_row(archive: Archive) -> None:
    """There is a row to show, and no record in it."""
    device = Device("empty")
    device.say("remarks", "Nothing read.")
    keep(archive, device)
    with archive.reading() as connection:
        (row,) = gauging_rows(connection, ["empty"])
        assert record_in(row) is None
        assert of_survey(connection, SURVEY) == ()


def test_a_site_is_shown_with_its_visits_and_photos(archive: Archive) -> None:
    """Every visit that there ever was, the last first, and the photos taken there."""
    with archive.writing() as connection:
        put_survey(connection, attrs.evolve(SURVEY, ends=datetime.date(2026, 12, 31)))
        put_survey(connection, _survey("next", "2027-01-01"))
    device = crossing("g1")
    device.say(
        "photos/p1", {"purpose": "section", "sha256": SHA256, "bytes": 1, "type": "image/png"}
    )
    keep(archive, device, crossing("g2", day="2027-07-14"), crossing("g3", place="Lower ford"))
    with archive.reading() as connection:
        asked = site_asked(connection, "upper")
        nowhere = site_asked(connection, "nowhere")

    assert asked.site == SURVEY.sites[0]
    assert asked.surveys == ("next", SURVEY.id)
    assert [(row["id"], row["survey"]) for row in asked.visits] == [
        ("g2", "next"),
        ("g1", SURVEY.id),
    ]
    assert [photo["sha256"] for photo in asked.photos] == [SHA256]
    assert (nowhere.site, nowhere.surveys, nowhere.visits) == (None, (), ())


QUESTIONS: dict[str, Callable[[Connection], Any]] = {
    "surveys": survey_counts,
    "overview": lambda connection: overview(connection, SURVEY.id),
    "site": lambda connection: site_asked(connection, "upper"),
    "without site": without_site,
    "without survey": without_survey,
    "how many without survey": without_survey_count,
    "search": lambda connection: found_by(connection, "alder upp 2026"),
    "records": lambda connection: of_survey(connection, SURVEY),
}


@contextmanager
def _counted(archive: Archive) -> Iterator[list[str]]:
    statements: list[str] = []

    def count(_: object, __: object, statement: str, *___: object) -> None:
        statements.append(statement)

    event.listen(archive.engine, "before_cursor_execute", count)
    yield statements
    event.remove(archive.engine, "before_cursor_execute", count)


def _queries(archive: Archive) -> dict[str, int]:
    counts = {}
    for name, ask in QUESTIONS.items():
        with _counted(archive) as statements, archive.reading() as connection:
            assert ask(connection), name
        counts[name] = len(statements)
    return counts


def _fill(archive: Archive, first: int, end: int) -> None:
    keep(
        archive,
        *(
            crossing(
                f"g{n:03}",
                place=("Upper meadow", "nowhere")[n % 5 == 0],
                day=f"2026-07-{1 + n % 28:02}",
            )
            for n in range(first, end)
        ),
    )


def _multiply(archive: Archive, times: int) -> None:
    """Write every row again under other ids, so many times, as if as many had been worked out."""
    for table in (gaugings, words):
        key = "id" if table is gaugings else "gauging"
        found = rows(archive, table)
        copies = [{**row, key: f"{row[key]}-{n}"} for n in range(1, times) for row in found]
        with archive.writing() as connection:
            connection.execute(insert(table), copies)
    with archive.writing() as connection:
        for table in (vocabulary, survey_states):
            connection.execute(update(table).values(gaugings=table.c.gaugings * times))


def test_as_many_queries_whatever_there_is(archive: Archive) -> None:
    """Every question takes the same few queries with 5 gaugings and with 500."""
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
    _fill(archive, 0, 5)
    few = _queries(archive)
    _multiply(archive, 100)

    assert _queries(archive) == few
    # The beginning of the transaction is counted with them in SQLite.
    assert max(few.values()) <= 4
    with archive.reading() as connection:
        assert len(overview(connection, SURVEY.id)) == 400
        assert survey_counts(connection)[0].gaugings == 400
        assert len(found_by(connection, "alder upp 2026")) == 50


def test_only_so_many_are_listed_at_once(archive: Archive) -> None:
    """Visits of a site and gaugings of no survey are the latest, a survey is shown whole."""
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
    _fill(archive, 0, 25)
    with archive.reading() as connection:
        assert _ids(site_asked(connection, "upper", 3).visits) == ["g024", "g023", "g022"]
        assert _ids(without_site(connection, 3)) == ["g020", "g015", "g010"]
        assert _ids(without_survey(connection, 3)) == ["g020", "g015", "g010"]
        assert without_survey_count(connection) == 5
        assert len(overview(connection, SURVEY.id)) == 20


def test_a_gauging_that_no_survey_visits_is_not_lost(archive: Archive) -> None:
    """At a known site on a day outside its survey, it belongs to none, and is listed as such."""
    with archive.writing() as connection:
        put_survey(connection, _survey("next", "2027-01-01"))
    keep(archive, crossing("g1"), crossing("g2", place="nowhere"))
    with archive.reading() as connection:
        assert _ids(without_site(connection)) == ["g2"]
        assert _ids(without_survey(connection)) == ["g1", "g2"]
        assert without_survey_count(connection) == 2
