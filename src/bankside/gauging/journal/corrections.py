"""Figures that were struck through, in words, from the entries that were replaced."""

from collections.abc import Iterator

from bankside.gauging.fields import Text
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.sayable import VERTICAL, sayable
from bankside.gauging.journal.values import comparable
from bankside.gauging.journal.words import (
    changed,
    in_record,
    thing_of,
    vertical_words,
    words_of,
)
from bankside.gauging.records import Correction

__all__ = ["corrections"]


def corrections(folded: Folded) -> tuple[Correction, ...]:
    """Return a correction for every value that another replaced, in the order of the latter.

    A value that was said again is none; nor is what was planned, photographed or closed.
    """
    found: list[tuple[tuple[object, ...], Correction]] = []
    for what, said in folded.items():
        known = sayable(what)
        if known is not None and not known[0].kept:
            continue
        by_id = {entry.id: entry for entry in said.history}
        for now in said.history:
            for was in _replaced(now, by_id):
                found.append(((now.order, was.order), _correction(folded, was, now)))
    return tuple(correction for _, correction in sorted(found, key=lambda pair: pair[0]))


def _replaced(now: Entry, by_id: dict[str, Entry]) -> Iterator[Entry]:
    """Yield the entries that one replaces with another value, but for a first "nothing"."""
    for id_ in now.replaces:
        was = by_id.get(id_)
        if was is None or comparable(was.value) == comparable(now.value):
            continue
        if (was.value is not None or was.replaces) and not _adds_to_crew(was, now):
            yield was


def _adds_to_crew(before: Entry, after: Entry) -> bool:
    """Return whether more is said of somebody of whom all that stood there still stands."""
    was, now = before.value, after.value
    return (
        after.what.startswith("crew/")
        and isinstance(was, dict)
        and isinstance(now, dict)
        and all(name in now and comparable(now[name]) == comparable(was[name]) for name in was)
    )


def _correction(folded: Folded, was: Entry, now: Entry) -> Correction:
    what, before, after = _in_words(folded, was, now)
    return Correction(
        what=what,
        was=before,
        now=after,
        reason=_kept(now.reason),
        by=_kept(now.by),
        at=now.moment,
    )


def _in_words(folded: Folded, was: Entry, now: Entry) -> tuple[str, str, str | None]:
    """Return what was corrected, what stood there, and what stands there now, None if nothing."""
    known = sayable(was.what)
    if now.value is None:
        if known is not None and known[0].pattern == f"{VERTICAL}/tape":
            return *vertical_words(folded, was, now), None
        return thing_of(folded, was.what, was.value), words_of(was.value), None
    if isinstance(was.value, dict) and isinstance(now.value, dict):
        member, before, after = changed(was.value, now.value)
        return thing_of(folded, was.what, was.value) + member, before, after
    return thing_of(folded, was.what, now.value), words_of(was.value), words_of(now.value)


def _kept(text: str | None) -> str | None:
    """Return a text as a record can hold it, None where it shows nothing."""
    found = None if text is None else in_record(text)
    return found if Text().holds(found) else None
