"""Entries of journals, from devices and to them."""

from __future__ import annotations

from collections.abc import Sequence
from http import HTTPStatus
from typing import Any

import attrs

from bankside.archive.beside_copies import BESIDE_A_COPY, beside_copies, kept_aside_of
from bankside.archive.entries import arrivals, entries_of_gauging, keep_refused, take_entries
from bankside.archive.roles import may
from bankside.archive.settings import lineage
from bankside.archive.travelling import arrivals_that_travel
from bankside.gauging.checked import Checked
from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import about
from bankside.gauging.journal.document import Journal, journal_to_json
from bankside.gauging.journal.entry import Entry, entries_from_json, to_members
from bankside.gauging.journal.kinds import Key
from bankside.gauging.practice_mark import PRACTICE_REFUSED, is_practice_id
from bankside.server.api.answers import Answer
from bankside.server.api.as_it_came import spelled_items
from bankside.server.api.asked import Asked, Caller
from bankside.server.api.kinds import Count, Items, Keys
from bankside.server.api.refusals import Refusal, not_found
from bankside.server.api.route import Route
from bankside.server.api.shapes import COUNT, FLAG, ID, TEXT, list_of, members, named, or_null

__all__ = ["MOST_ENTRIES", "ROUTES"]

MOST_ENTRIES = 1000
"""As many entries are pushed or pulled at once."""

_MOST_HELD = 10_000


@attrs.frozen
class Push(Checked):
    """What a device hands over, in any order and as often as it likes."""

    entries: Any = attrs.field(
        metadata=about(Items(MOST_ENTRIES, named("Entry")), "entries, of any gaugings")
    )


@attrs.frozen
class Pull(Checked):
    """What a device asks for."""

    after: int = attrs.field(metadata=about(Count(), "the arrival number to go on from"))
    held: tuple[str, ...] = attrs.field(
        default=(), metadata=about(Keys(_MOST_HELD), "the gaugings that the device holds")
    )
    most: int = attrs.field(
        default=MOST_ENTRIES,
        metadata=about(Count(1, MOST_ENTRIES), "as many entries at most"),
    )


@attrs.frozen
class _NotTaken:
    """An entry that cannot be taken in: where it stood, what it calls itself, and why."""

    index: int
    id: str | None
    gauging: str | None
    said: str


def push(asked: Asked) -> dict[str, Any]:
    """Take entries in; what is answered as added is kept for good."""
    items = asked.said(Push).entries
    sound, wrong = _judged(items, asked.you)
    sender = asked.you.name
    with asked.archive.writing() as connection:
        aside = beside_copies(connection, [entry for _, entry in sound])
        wrong += [
            _NotTaken(index, entry.id, entry.gauging, BESIDE_A_COPY)
            for index, entry in sound
            if entry.id in aside
        ]
        spelled = spelled_items(asked.text, "entries") if wrong else []
        fit = [entry for _, entry in sound if entry.id not in aside]
        taken = take_entries(connection, fit, sender)
        for one in wrong:
            if is_practice_id(one.gauging):
                continue  # nothing of practice is kept, not even as refused
            keep_refused(connection, spelled[one.index], one.said, sender, one.gauging)
        line = lineage(connection)
    asked.office.background.wake()
    return {
        "added": list(taken.added),
        "known": list(taken.known),
        "differing": list(taken.differing),
        "refused": [{"id": one.id, "index": one.index, "said": one.said} for one in wrong],
        "lineage": line,
    }


def pull(asked: Asked) -> dict[str, Any]:
    """Return what came from others since."""
    said = asked.said(Pull)
    with asked.archive.reading() as connection:
        last = arrivals(connection)
        if said.after > last:
            raise Refusal(
                HTTPStatus.CONFLICT,
                f"No arrival number above {last} was given out (got {said.after}): the archive was "
                "put back from a backup, or is another one; the device begins anew, from 0.",
            )
        aside = kept_aside_of(connection, asked.you.name)
        held = [gauging for gauging in said.held if gauging not in aside]
        found = arrivals_that_travel(connection, said.after, held, said.most)
        line = lineage(connection)
    return {
        "entries": [to_members(one.entry) for one in found.arrived],
        "after": found.after,
        "more": found.more,
        "lineage": line,
    }


def journal(asked: Asked) -> Answer:
    """Return all entries of a gauging as a journal, without its files."""
    id_ = asked.path["id"]
    with asked.archive.reading() as connection:
        entries = entries_of_gauging(connection, id_)
    if not entries:
        raise not_found(f"There is no gauging {id_[:64]} in this archive.")
    return Answer(journal_to_json(Journal(id_, entries)).encode("utf-8"))


def _judged(
    items: Sequence[object], caller: Caller
) -> tuple[list[tuple[int, Entry]], list[_NotTaken]]:
    """Return the entries that can be taken in from somebody, and the others with the reason.

    Each with the place at which it stood.
    """
    sound: list[tuple[int, Entry]] = []
    wrong: list[_NotTaken] = []
    for index, item in enumerate(items):
        try:
            entry = entries_from_json([item])[0]
        except InputRefused as refused:
            said = "; ".join(fault.message for fault in refused.faults)
            wrong.append(_NotTaken(index, _key(item, "id"), _key(item, "gauging"), f"{said}."))
            continue
        if is_practice_id(entry.gauging):
            said = f"{PRACTICE_REFUSED[0].upper()}{PRACTICE_REFUSED[1:]}."
            wrong.append(_NotTaken(index, entry.id, entry.gauging, said))
        elif entry.what == "review" and not may(caller.role, "reviewer"):
            said = f"A {caller.role} does not review; a reviewer or a lead does."
            wrong.append(_NotTaken(index, entry.id, entry.gauging, said))
        else:
            sound.append((index, entry))
    return sound, wrong


def _key(item: object, name: str) -> str | None:
    found = item.get(name) if isinstance(item, dict) else None
    return found if isinstance(found, str) and Key().holds(found) else None


ROUTES = (
    Route(
        "POST",
        "entries",
        "crew",
        "Take entries in, each once; what is answered as added is kept for good.",
        push,
        members(
            added=list_of(ID),
            known=list_of(ID),
            differing=list_of(ID),
            refused=list_of(members(id=or_null(ID), index=COUNT, said=TEXT)),
            lineage=TEXT,
        ),
        takes=Push,
    ),
    Route(
        "POST",
        "pull",
        "crew",
        "What came since an arrival number, of gaugings from devices and of those that are held.",
        pull,
        members(entries=list_of(named("Entry")), after=COUNT, more=FLAG, lineage=TEXT),
        takes=Pull,
        fails=(409,),
    ),
    Route(
        "GET",
        "gaugings/{id}/journal",
        "crew",
        "All entries of a gauging, as a journal without its files.",
        journal,
        named("Journal"),
        fails=(404,),
    ),
)
