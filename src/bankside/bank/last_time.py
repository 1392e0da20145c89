"""The last visit beside the present gauging, from the entries of both."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from bankside.bank.journal import read_journal
from bankside.bank.standing import Standing, standing_of
from bankside.gauging.last_visit import Compared, compare_with_last_visit

__all__ = ["earlier_view", "last_visit"]


def earlier_view(
    standing: Standing, entries: Sequence[object] | None
) -> tuple[list[dict[str, Any]], tuple[str, ...]]:
    """Return the comparison with the last visit, and sentences where it cannot be made."""
    if not entries or standing.gauging is None:
        return [], ()
    visit = last_visit(entries)
    if visit.gauging is None:
        return [], ("The last visit cannot be read, so nothing is held against it.",)
    compared = compare_with_last_visit(
        standing.gauging,
        standing.result,
        visit.gauging,
        visit.result,
        finished=standing.finished,
    )
    remarks = () if visit.result is not None else ("The last visit has no discharge.",)
    return [_as_json(one) for one in compared], remarks


def last_visit(entries: Sequence[object]) -> Standing:
    """Return how an earlier gauging stood; it is taken as finished.

    The page hands over the same entries with every look, so the last ones are kept.
    """
    return _standing(json.dumps(entries, default=repr))


@lru_cache(maxsize=2)
def _standing(text: str) -> Standing:
    return standing_of(read_journal(json.loads(text)).recorded, finished=True)


def _as_json(one: Compared) -> dict[str, Any]:
    return {
        "name": one.name,
        "then": one.shown(one.then),
        "now": one.shown(one.now),
        "words": one.words,
        "odd": one.odd,
    }
