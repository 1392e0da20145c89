"""Hold the practice that an archive keeps against itself: checksums, and every figure anew."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sqlalchemy import Connection

from bankside.archive.difference import Difference
from bankside.archive.practice.records import ReadinessRecord, records_kept
from bankside.archive.practice.sessions import sessions_kept
from bankside.archive.trouble import ArchiveDamaged
from bankside.practice.readiness.as_json import standings_as_json
from bankside.practice.readiness.standing import standings_of
from bankside.practice.readiness.tries import Try, in_order, try_of

__all__ = ["verify_practice"]

# Between machines the last digits of a figure may differ.
_NEAR = 1e-9


def verify_practice(connection: Connection) -> Iterator[Difference]:
    """Yield in what sessions and records differ from what was kept, or from what they come to."""
    tries: dict[str, Try] = {}
    for session in sessions_kept(connection):
        try:
            tries[session.sha256] = try_of(session.practice())
        except ArchiveDamaged:
            said = "its bytes are no longer those that were handed in"
            yield Difference("damaged", f"practice session {session.number}", said)
    try:
        records = records_kept(connection)
    except ArchiveDamaged as damaged:
        yield Difference("damaged", "practice", str(damaged).rstrip("."))
        return
    for record in records:
        yield from _differs(record, tries)


def _differs(record: ReadinessRecord, tries: Mapping[str, Try]) -> Iterator[Difference]:
    what = f"practice record {record.number}"
    if not record.is_sound:
        yield Difference("damaged", what, "it is not the one that was kept: its checksum differs")
    elif not tries.keys() >= set(record.sessions):
        yield Difference("damaged", what, "it rests on sessions that are missing or damaged")
    else:
        counted = in_order([tries[sha256] for sha256 in record.sessions])
        now = standings_as_json(standings_of(counted, record.requirements))
        if not _alike(now, standings_as_json(record.people)):
            said = f"Bankside {record.version} said otherwise who was ready than this version does"
            yield Difference("method", what, said)


def _alike(one: object, other: object) -> bool:
    """Return whether two JSON values say the same, figures to their last digits."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=_NEAR, abs_tol=_NEAR)
    return one == other
