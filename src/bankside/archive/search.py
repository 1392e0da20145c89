"""The search: gaugings by the words that people know them by, the latest first.

Every word stands with the day of its gauging, so that the latest of a word are found without
looking at the others, however many there are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import attrs
from sqlalchemy import (
    ColumnElement,
    Connection,
    and_,
    case,
    delete,
    exists,
    literal,
    select,
    union_all,
    update,
)
from sqlalchemy.sql import Select

from bankside.archive.tables import vocabulary, words
from bankside.archive.upsert import insert_new
from bankside.survey.site_names import folded_name

__all__ = ["MOST_FOUND", "keep_words", "search", "words_in"]

MOST_FOUND = 50
"""As many gaugings are found at once."""

_MOST_WORDS = 200
_LONGEST = 40
# A beginning that fits more words than these, and stands alone, is looked for under the most used.
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
    if not all(one.words for one in meant):
        return ()
    # Looked for under the words of one beginning, and held against the others.
    rarest = min(meant, key=lambda one: (not one.is_all, sum(one.words.values())))
    others = [one for one in meant if one is not rarest]
    parts = [select(_latest(word, others).subquery()) for word in rarest.words]
    both = union_all(*parts).subquery()
    rows = connection.execute(
        select(both.c.gauging, both.c.day).distinct().order_by(both.c.day.desc(), both.c.gauging)
    )
    return tuple(gauging for gauging, _ in rows.fetchmany(MOST_FOUND))


@attrs.frozen
class _Meant:
    """The words that begin as asked, with the number of gaugings that have them.

    `is_all` is false where more words begin so: these are the most used of them.
    """

    asked: str
    words: Mapping[str, int]
    is_all: bool

    def is_among(self, column: ColumnElement[str]) -> ColumnElement[bool]:
        """Return whether a column holds one of all words that begin so."""
        return column.in_(list(self.words)) if self.is_all else _begins(column, self.asked)


def _begins(column: ColumnElement[str], word: str) -> ColumnElement[bool]:
    return and_(column >= word, column < word + "\U0010ffff")


def _latest(word: str, others: Sequence[_Meant]) -> Select[tuple[str, str]]:
    """Return the latest gaugings of a word that have one of each of the other words too."""
    query = select(words.c.gauging, words.c.day).where(words.c.word == word)
    for one in others:
        other = words.alias()
        query = query.where(
            exists().where(
                other.c.gauging == words.c.gauging,
                other.c.day == words.c.day,
                one.is_among(other.c.word),
            )
        )
    return query.order_by(words.c.day.desc(), words.c.gauging).limit(MOST_FOUND)


def _meant(connection: Connection, asked: Sequence[str]) -> list[_Meant]:
    """Return, for each beginning, the words that begin so and how many gaugings have them."""
    parts = [
        select(literal(word).label("asked"), vocabulary.c.word, vocabulary.c.gaugings)
        .where(_begins(vocabulary.c.word, word), vocabulary.c.gaugings > 0)
        # A whole word first, then the most used.
        .order_by(
            case((vocabulary.c.word == word, 0), else_=1),
            vocabulary.c.gaugings.desc(),
            vocabulary.c.word,
        )
        .limit(_MOST_MEANT + 1)
        for word in asked
    ]
    found: dict[str, list[tuple[str, int]]] = {word: [] for word in asked}
    for word, meant, count in connection.execute(
        union_all(*(select(part.subquery()) for part in parts))
    ):
        found[word].append((meant, count))
    return [_meant_by(word, some) for word, some in found.items()]


def _meant_by(asked: str, found: list[tuple[str, int]]) -> _Meant:
    # The parts of a union come in any order.
    most = sorted(found, key=lambda one: (one[0] != asked, -one[1], one[0]))[:_MOST_MEANT]
    return _Meant(asked, dict(most), len(found) <= _MOST_MEANT)


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
