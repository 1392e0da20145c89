"""The search: gaugings by the words that people know them by, the latest first.

Every word stands with the day of its gauging, so that the latest of a word are found without
looking at the others, however many there are.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, case, delete, exists, literal, select, union_all, update
from sqlalchemy.sql import Select

from bankside.archive.tables import vocabulary, words
from bankside.archive.upsert import insert_new
from bankside.survey.site_names import folded_name

__all__ = ["MOST_FOUND", "keep_words", "search", "words_in"]

MOST_FOUND = 50
"""As many gaugings are found at once."""

_MOST_WORDS = 200
_LONGEST = 40
# A beginning of a word that fits more words than these is looked for under the most used of them.
_MOST_MEANT = 12
_MOST_ASKED = 8


def words_in(texts: Iterable[str | None]) -> frozenset[str]:
    """Return the words by which a gauging is found, as they are compared."""
    found: dict[str, None] = {}
    for text in texts:
        for word in folded_name(text or "").split():
            found.setdefault(word[:_LONGEST])
    return frozenset(list(found)[:_MOST_WORDS])


def keep_words(connection: Connection, gauging: str, day: str, now: frozenset[str]) -> None:
    """Let a gauging be found by these words, and by no others."""
    rows = connection.execute(select(words.c.word, words.c.day).where(words.c.gauging == gauging))
    before = {(word, on) for word, on in rows}
    after = {(word, day) for word in now}
    if gone := before - after:
        connection.execute(delete(words).where(words.c.gauging == gauging))
        after_now = after
    else:
        after_now = after - before
    insert_new(
        connection, words, [{"word": w, "day": d, "gauging": gauging} for w, d in sorted(after_now)]
    )
    had, has = {word for word, _ in gone | before}, {word for word, _ in after}
    _count(connection, has - had, 1)
    _count(connection, had - has, -1)


def search(connection: Connection, text: str) -> tuple[str, ...]:
    """Return the ids of the gaugings that have every word of a text, or one that begins so.

    The latest first, at most MOST_FOUND of them.
    """
    asked = sorted(words_in([text]), key=len, reverse=True)[:_MOST_ASKED]
    if not asked:
        return ()
    meant = _meant(connection, asked)
    if not all(meant[word] for word in asked):
        return ()
    rarest = min(asked, key=lambda word: sum(meant[word].values()))
    others = [list(meant[word]) for word in asked if word != rarest]
    parts = [select(_latest(word, others).subquery()) for word in meant[rarest]]
    both = union_all(*parts).subquery()
    rows = connection.execute(
        select(both.c.gauging, both.c.day).distinct().order_by(both.c.day.desc(), both.c.gauging)
    )
    return tuple(gauging for gauging, _ in rows.fetchmany(MOST_FOUND))


def _latest(word: str, others: Sequence[Sequence[str]]) -> Select[tuple[str, str]]:
    """Return the latest gaugings of a word that have one of each of the other words too."""
    query = select(words.c.gauging, words.c.day).where(words.c.word == word)
    for some in others:
        other = words.alias()
        query = query.where(
            exists().where(
                other.c.gauging == words.c.gauging,
                other.c.day == words.c.day,
                other.c.word.in_(some),
            )
        )
    return query.order_by(words.c.day.desc(), words.c.gauging).limit(MOST_FOUND)


def _meant(connection: Connection, asked: Sequence[str]) -> dict[str, dict[str, int]]:
    """Return, for each beginning, the words that begin so and how many gaugings have them."""
    parts = [
        select(literal(word).label("asked"), vocabulary.c.word, vocabulary.c.gaugings)
        .where(
            vocabulary.c.word >= word,
            vocabulary.c.word < word + "\U0010ffff",
            vocabulary.c.gaugings > 0,
        )
        # A whole word first, then the most used.
        .order_by(case((vocabulary.c.word == word, 0), else_=1), vocabulary.c.gaugings.desc())
        .limit(_MOST_MEANT)
        for word in asked
    ]
    found: dict[str, dict[str, int]] = {word: {} for word in asked}
    for word, meant, count in connection.execute(
        union_all(*(select(part.subquery()) for part in parts))
    ):
        found[word][meant] = count
    return found


def _count(connection: Connection, changed: Iterable[str], by: int) -> None:
    every = sorted(changed)
    if not every:
        return
    insert_new(connection, vocabulary, [{"word": word, "gaugings": 0} for word in every])
    connection.execute(
        update(vocabulary)
        .where(vocabulary.c.word.in_(every))
        .values(gaugings=vocabulary.c.gaugings + by)
    )
