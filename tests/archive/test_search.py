"""The search: gaugings by every word that people know them by, the latest first."""

from __future__ import annotations

import attrs
import pytest

from bankside.archive.archive import Archive
from bankside.archive.listing import found_by
from bankside.archive.refresh import change_survey, refresh, rework, seek_sites
from bankside.archive.register import put_survey
from bankside.archive.search import MOST_FOUND, search, words_in
from bankside.archive.tables import stale, vocabulary, words

from ..survey.building import SURVEY, UPPER
from .building import crossing, keep
from .looking import rows


def _found(archive: Archive, text: str) -> list[str]:
    with archive.reading() as connection:
        found = list(search(connection, text))
        assert [row["id"] for row in found_by(connection, text)] == found
    return found


def _used(archive: Archive) -> dict[str, int]:
    """Each word with the number of gaugings that have it, counted from the rows themselves."""
    counted: dict[str, int] = {}
    for row in rows(archive, words):
        counted[row["word"]] = counted.get(row["word"], 0) + 1
    return counted


def _known(archive: Archive) -> dict[str, int]:
    return {row["word"]: row["gaugings"] for row in rows(archive, vocabulary) if row["gaugings"]}


@pytest.fixture
def season(archive: Archive) -> Archive:
    """An archive with a few gaugings at other places, by other people, on other days."""
    keep(
        archive,
        crossing("g1", crew__k1={"name": "Ída Marrow"}, remarks="Cattle upstream, weed."),
        crossing("g2", day="2026-07-15", crew__k1={"name": "O. Thessaly"}),
        crossing("g3", stream="Birch Brook", place="Old mill", day="2026-07-16"),
        crossing("g4", stream="Birch Brook", place="Straße", day="2026-06-02", remarks="Weed."),
    )
    return archive


FOUND: tuple[tuple[str, list[str]], ...] = (
    ("alder", ["g2", "g1"]),
    ("weed", ["g1", "g4"]),
    ("birch", ["g3", "g4"]),
    ("g3", ["g3"]),
    ("2026-07-14", ["g1"]),
    ("2026 07", ["g3", "g2", "g1"]),
    ("b", ["g3", "g4"]),
    ("cat ups", ["g1"]),
    ("ÍDA MARRÖW", ["g1"]),
    ("ida", ["g1"]),
    ("strasse", ["g4"]),
    ("STRASSE", ["g4"]),
    ("birch weed", ["g4"]),
    ("alder thess", ["g2"]),
    ("alder mill", []),
    ("nothing of this", []),
    ("lder", []),
    ("", []),
    (" ,;- ", []),
    ("%", []),
    ("_", []),
    ("\0 alder \ud800", ["g2", "g1"]),
)


def test_every_word_or_its_beginning_must_be_there(season: Archive) -> None:
    """Words are compared without case, accents and marks; the latest gauging comes first."""
    assert [(text, _found(season, text)) for text, _ in FOUND] == list(FOUND)


def test_words_that_many_gaugings_have(archive: Archive) -> None:
    """Two frequent words together find those that have both, the latest 50 at most."""
    keep(
        archive,
        *(
            crossing(
                f"g{n:03}",
                stream=("Alder River", "Birch Brook")[n % 2],
                place=("Upper meadow", "Lower ford")[n % 3 == 0],
                day=f"2026-{1 + n // 28:02}-{1 + n % 28:02}",
            )
            for n in range(120)
        ),
    )
    latest = [f"g{n:03}" for n in reversed(range(120))]

    assert MOST_FOUND == 50
    assert _found(archive, "alder") == [id_ for id_ in latest if int(id_[1:]) % 2 == 0][:50]
    both = [id_ for id_ in latest if int(id_[1:]) % 6 == 0]
    assert _found(archive, "alder ford") == both
    # All of the 120 words that begin so are held against the one that was asked for besides.
    assert _found(archive, "2026 g") == latest[:50]
    assert _found(archive, "alder ford g") == both


def test_a_beginning_that_fits_many_words_goes_by_the_most_used(archive: Archive) -> None:
    """Of more words than are looked at, the whole word and those of most gaugings count."""
    rare = [crossing(f"g{n:02}", remarks=f"weir{n:02}", day="2026-08-01") for n in range(30)]
    frequent = [crossing(f"f{n}", remarks="weirs", day="2026-07-01") for n in range(3)]
    keep(archive, *rare, *frequent, crossing("w", remarks="weir", day="2025-07-01"))
    found = _found(archive, "weir")

    assert {"w", "f0", "f1", "f2"} <= set(found)
    assert found[-1] == "w"


def test_long_texts_are_found_by_their_first_words(archive: Archive) -> None:
    """Words of any length can be searched for, and a long remark keeps nothing else away."""
    remarks = " ".join(f"word{n}" for n in range(500)) + " " + "x" * 300
    keep(archive, crossing(remarks=remarks), crossing("g2", remarks="y" * 300))

    assert _found(archive, "word7 alder") == ["g1"]
    assert _found(archive, "y" * 300) == ["g2"]
    assert _found(archive, " ".join(f"word{n}" for n in range(40))) == ["g1"]
    assert max(map(len, words_in(["z" * 300]))) <= 64


def test_words_that_are_no_longer_said_find_nothing(season: Archive) -> None:
    """A gauging that changed its site, its day or its crew is found by what holds now."""
    device = crossing("g1", crew__k1={"name": "Ída Marrow"}, remarks="Cattle upstream, weed.")
    device.say("site/stream", "Birch Brook")
    device.say("date", "2026-07-20")
    device.say("crew/k1", {"name": "P. Quillon"})
    keep(season, device)

    assert _found(season, "alder") == ["g2"]
    assert _found(season, "marrow") == []
    assert _found(season, "quillon") == ["g1"]
    assert _found(season, "birch") == ["g1", "g3", "g4"]
    assert _known(season) == _used(season)


def test_a_gauging_is_found_by_the_site_that_a_survey_gives_it(archive: Archive) -> None:
    """The ids of its site and survey are words of it, as long as it is there."""
    keep(archive, crossing())
    moved = attrs.evolve(SURVEY, sites=(attrs.evolve(UPPER, id="am-1"),))
    for survey, found in ((SURVEY, []), (moved, ["g1"])):
        with archive.writing() as connection:
            put_survey(connection, survey)
            seek_sites(connection)
        refresh(archive)
        assert _found(archive, "low flow 2026") == ["g1"]
        assert _found(archive, "am 1") == found
    assert _known(archive) == _used(archive)


def test_a_site_that_is_renamed_is_found_by_its_new_name(archive: Archive) -> None:
    """The old name finds nothing any more, and gaugings at other sites are left as they are."""
    here = crossing(stream="Nowhere", place="a bend", site__id=UPPER.id)
    with archive.writing() as connection:
        change_survey(connection, SURVEY)
    keep(archive, here, crossing("g2", site__id="lower"))
    assert _found(archive, "upper meadow") == ["g1", "g2"]  # g2 is called so by its crew

    renamed = attrs.evolve(UPPER, name="Heron bend")
    others = [site for site in SURVEY.sites if site.id != UPPER.id]
    with archive.writing() as connection:
        assert change_survey(connection, attrs.evolve(SURVEY, sites=(renamed, *others)))
    assert [row["gauging"] for row in rows(archive, stale)] == ["g1"]
    refresh(archive)

    assert _found(archive, "heron bend") == ["g1"]
    assert _found(archive, "upper meadow") == ["g2"]
    assert _known(archive) == _used(archive)


def test_words_are_counted_right_after_each_change(season: Archive) -> None:
    """What the search goes by is the number of gaugings that have a word now."""
    assert _known(season) == _used(season)
    assert _known(season)["alder"] == 2
    keep(season, crossing("g5"))
    assert _known(season) == _used(season)
    assert _known(season)["alder"] == 3
    for _ in range(2):
        keep(season, crossing("g5"))
        rework(season)
    assert _known(season) == _used(season)
