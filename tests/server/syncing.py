"""A device as docs/server.md says that devices sync: what it holds, and what it knows is kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bankside.gauging.journal.entry import Entry, entries_from_json, to_members
from bankside.gauging.journal.fold import fold

from .asking import Answered, Client

Ask = Callable[[str, Any], Answered | None]
"""Put a question to the server; None where no answer came, whether or not it arrived there."""


class SyncingDevice:
    """A device that says things, pushes in parts and pulls in parts, and survives lost answers."""

    def __init__(self, key: str) -> None:
        self.key = key
        self.entries: dict[str, Entry] = {}
        self.on_the_server: set[str] = set()
        self.after = 0
        self.lineage: str | None = None

    def say(self, gauging: str, what: str, value: object) -> Entry:
        """Append that something is so, in the place of what stands there as far as is known."""
        known = [entry for entry in self.entries.values() if entry.gauging == gauging]
        sequence = 1 + max((entry.sequence for entry in known), default=0)
        folded = fold(known)
        heads = folded[what].heads if what in folded else ()
        entry = Entry(
            id=f"{gauging}-{self.key}-{sequence}",
            gauging=gauging,
            device=self.key,
            sequence=sequence,
            at="2026-07-14T10:00:00-07:00",
            what=what,
            value=value,
            replaces=tuple(head.id for head in heads),
        )
        self.entries[entry.id] = entry
        return entry

    @property
    def unsent(self) -> list[str]:
        """The ids of what the server has not said to keep."""
        return [id_ for id_ in self.entries if id_ not in self.on_the_server]

    def push(self, ask: Ask, ids: Sequence[str]) -> None:
        """Hand over some entries; only what is answered counts as kept."""
        answer = ask("entries", {"entries": [to_members(self.entries[id_]) for id_ in ids]})
        if answer is None:
            return
        said = answer.json
        assert answer.status == 200 and not said["refused"] and not said["differing"]
        self._meet(said["lineage"])
        self.on_the_server |= {*said["added"], *said["known"]}

    def pull(self, ask: Ask, most: int = 1000) -> bool:
        """Ask for what others said; return whether there is more to ask for."""
        held = sorted({entry.gauging for entry in self.entries.values()})
        answer = ask("pull", {"after": self.after, "held": held, "most": most})
        if answer is None:
            return True
        if answer.status == 409:
            self.after = 0
            return True
        said = answer.json
        assert answer.status == 200
        if self._meet(said["lineage"]):
            return True
        for entry in entries_from_json(said["entries"]):
            assert self.entries.setdefault(entry.id, entry) == entry
            self.on_the_server.add(entry.id)
        self.after = said["after"]
        return bool(said["more"])

    def _meet(self, lineage: str) -> bool:
        """Begin anew where the archive is another than before; return whether it is."""
        other = self.lineage not in (None, lineage)
        self.lineage = lineage
        if other:
            self.on_the_server.clear()
            self.after = 0
        return other


def always(client: Client) -> Ask:
    """Return a way to ask on which nothing is lost."""
    return client.post
