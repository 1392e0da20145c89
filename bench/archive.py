"""How an archive answers with 100 gaugings, and with 100,000: queries, and time as a ratio.

The large archive holds a thousand seasons of the small one: as many sites in each survey and as
many visits to each site. Its rows are written straight into the tables, made from one hundred
gaugings that were taken in and worked out; each has twelve entries, so that it fits on a disk.
Times are medians of many answers, alternating between the two.

`python bench/archive.py [GAUGINGS]`
"""

from __future__ import annotations

import datetime
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import attrs
from simulated_sections import simulated
from sqlalchemy import Connection, event, insert, select

from bankside.archive.archive import Archive, create_archive
from bankside.archive.entries import take_entries
from bankside.archive.listing import MOST_SURVEYS, found_by, overview, site_asked, survey_counts
from bankside.archive.refresh import refresh
from bankside.archive.register import put_survey
from bankside.archive.tables import (
    counters,
    entries,
    filings,
    gaugings,
    survey_states,
    vocabulary,
    words,
)
from bankside.gauging.journal.from_record import entries_of
from bankside.gauging.records import CrewMember, Site
from bankside.survey.records import Survey, SurveySite

SITES = 20
VISITS = 5
SMALL = SITES * VISITS
LARGE = 100_000
ENTRIES = 12
TIMES = 60
ROWS_AT_ONCE = 20_000

STREAMS = ("Alder Fork", "Quill Brook", "Tansy Run", "Marl Beck")
CREW = ("I. Marrow", "O. Thessaly", "P. Quillon")


def main() -> None:
    """Build both archives, ask them the same, and print queries and ratios."""
    large = int(sys.argv[1]) if len(sys.argv) > 1 else LARGE
    with tempfile.TemporaryDirectory() as folder:
        small_one = create_archive(Path(folder) / "small.db")
        large_one = create_archive(Path(folder) / "large.db")
        for archive in (small_one, large_one):
            first_season(archive)
        began = time.perf_counter()
        multiply(large_one, large // SMALL)
        size = (Path(folder) / "large.db").stat().st_size
        print(
            f"{large} gaugings written in {time.perf_counter() - began:.0f} s, {size / 1e6:.0f} MB"
        )
        print(f"\n{'':34}{'queries':>16}{'ms':>18}{'ratio':>8}")
        for name, ask in questions():
            compared(name, ask, small_one, large_one)
        small_one.close()
        large_one.close()


def first_season(archive: Archive) -> None:
    """Take in one season: a survey, its sites, and its gaugings with all that is worked out."""
    sites = tuple(
        SurveySite(id=f"site-{n}", stream=STREAMS[n % len(STREAMS)], name=f"reach {n}")
        for n in range(SITES)
    )
    with archive.writing() as connection:
        put_survey(connection, Survey(id="season-0", name="Season 0", sites=sites))
        # Both list as many surveys, whatever is in them.
        for season in range(1, MOST_SURVEYS):
            put_survey(connection, survey_of(season))
        for n, (_, section) in enumerate(simulated(SMALL, seed=1)):
            said = attrs.evolve(
                section,
                site=Site(
                    id=sites[n % SITES].id,
                    stream=sites[n % SITES].stream,
                    name=sites[n % SITES].name,
                ),
                date=datetime.date(2026, 7, 1 + n // SITES),
                crew=(CrewMember(CREW[n % len(CREW)]),),
            )
            made = entries_of(said, gauging_id=f"g0-{n}", device="bench", at="2026-07-14T10:00:00Z")
            take_entries(connection, made, "bench")
    refresh(archive)


def multiply(archive: Archive, seasons: int) -> None:
    """Write further seasons like the first, each with a survey, sites and gaugings of its own."""
    with archive.reading() as connection:
        rows = [dict(row) for row in connection.execute(select(gaugings)).mappings()]
        filed = [dict(row) for row in connection.execute(select(filings)).mappings()]
        said = [dict(row) for row in connection.execute(select(words)).mappings()]
        known = [dict(row) for row in connection.execute(select(vocabulary)).mappings()]
        states = [dict(row) for row in connection.execute(select(survey_states)).mappings()]
        first = connection.execute(
            select(entries).where(entries.c.gauging == rows[0]["id"]).limit(ENTRIES)
        ).mappings()
        contents = [row["content"] for row in first]
    with archive.writing() as connection:
        for season in range(1, seasons):
            put_survey(connection, survey_of(season))
    with archive.writing() as connection:
        written(connection, gaugings, (moved(row, s) for s in range(1, seasons) for row in rows))
        written(
            connection,
            filings,
            (
                {**without_number(row), "gauging": of_season(row["gauging"], s)}
                for s in range(1, seasons)
                for row in filed
            ),
        )
        written(
            connection,
            words,
            (
                {**row, "day": earlier(row["day"], s), "gauging": of_season(row["gauging"], s)}
                for s in range(1, seasons)
                for row in said
            ),
        )
        written(connection, entries, numbered(rows, seasons, contents))
        for row in known:
            connection.execute(
                vocabulary.update()
                .where(vocabulary.c.word == row["word"])
                .values(gaugings=row["gaugings"] * seasons)
            )
        written(
            connection,
            survey_states,
            ({**row, "survey": f"season-{s}"} for s in range(1, seasons) for row in states),
        )
        connection.execute(counters.update().values(arrivals=10**9))


def questions() -> Iterator[tuple[str, Callable[[Connection], object]]]:
    """Yield what is asked, with its name."""
    yield "list of surveys", survey_counts
    yield "overview of a survey", lambda connection: overview(connection, "season-0")
    yield "site page", lambda connection: site_asked(connection, "site-3")
    yield 'search "alder"', lambda connection: found_by(connection, "alder")
    yield 'search "quill marrow"', lambda connection: found_by(connection, "quill marrow")
    yield 'search "reach 7 thess"', lambda connection: found_by(connection, "reach 7 thess")
    yield 'search "nowhere"', lambda connection: found_by(connection, "nowhere")


def compared(
    name: str, ask: Callable[[Connection], object], small: Archive, large: Archive
) -> None:
    """Ask both archives in turn and print how many queries it took, how long, and the ratio."""
    took: dict[Archive, list[float]] = {small: [], large: []}
    for _ in range(TIMES):
        for archive, times in took.items():
            with archive.reading() as connection:
                began = time.perf_counter()
                ask(connection)
                times.append(time.perf_counter() - began)
    counts = [queries(archive, ask) for archive in took]
    ms = [1000 * statistics.median(times) for times in took.values()]
    print(
        f"{name:34}{counts[0]:>7} and {counts[1]:>3}{ms[0]:>9.2f} and {ms[1]:>5.2f}"
        f"{ms[1] / ms[0]:>8.2f}"
    )


def queries(archive: Archive, ask: Callable[[Connection], object]) -> int:
    """Return how many statements one answer takes."""
    seen: list[str] = []

    def count(*arguments: Any) -> None:
        seen.append(arguments[2])

    with archive.reading() as connection:
        event.listen(connection, "before_cursor_execute", count)
        ask(connection)
        event.remove(connection, "before_cursor_execute", count)
    return len(seen)


def survey_of(season: int) -> Survey:
    """Return the survey of a season, each with sites of its own, as far back as it is late."""
    sites = tuple(
        SurveySite(id=f"site-{n}-{season}", stream=STREAMS[n % len(STREAMS)], name=f"reach {n}")
        for n in range(SITES)
    )
    return Survey(id=f"season-{season}", name=f"Season {season}", sites=sites)


def moved(row: dict[str, Any], season: int) -> dict[str, Any]:
    """Return a gauging's row as that of another season."""
    return {
        **row,
        "id": of_season(row["id"], season),
        "survey": f"season-{season}",
        "site": f"{row['site']}-{season}",
        "day": earlier(row["day"], season),
    }


def without_number(row: dict[str, Any]) -> dict[str, Any]:
    """Return a row for the database to number."""
    return {name: value for name, value in row.items() if name != "number"}


def of_season(gauging: str, season: int) -> str:
    """Return the id of the same gauging in another season."""
    return gauging.replace("g0-", f"g{season}-")


def earlier(day: str, season: int) -> str:
    """Return the day of another season: forty years are repeated."""
    return f"{2026 - season % 40}{day[4:]}"


def numbered(
    rows: list[dict[str, Any]], seasons: int, contents: list[str]
) -> Iterator[dict[str, Any]]:
    """Yield entries for every gauging of the further seasons."""
    number = 10**6
    for season in range(1, seasons):
        for row in rows:
            gauging = of_season(row["id"], season)
            for n, content in enumerate(contents):
                number += 1
                yield {
                    "number": number,
                    "id": f"{gauging}-{n}",
                    "gauging": gauging,
                    "content": content,
                    "received_at": "2026-07-14T10:00:00.000000+00:00",
                    "received_from": "bench",
                }


def written(connection: Connection, table: Any, rows: Iterator[dict[str, Any]]) -> None:
    """Write rows in parts."""
    part: list[dict[str, Any]] = []
    for row in rows:
        part.append(row)
        if len(part) == ROWS_AT_ONCE:
            connection.execute(insert(table), part)
            part = []
    if part:
        connection.execute(insert(table), part)


if __name__ == "__main__":
    main()
