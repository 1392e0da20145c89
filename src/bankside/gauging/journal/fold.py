"""What the entries of a journal come to, whatever order they come in and however often.

The fold knows nothing of streams: it says, for everything that something was said about, what
stands there now, what stood there before, and whether two devices disagree. The web app folds by
the same rules; `tests/vectors/folds.json` holds both to them.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.values import comparable

__all__ = ["Folded", "Said", "fold", "united"]


@attrs.frozen
class Said:
    """What was said about one thing.

    `entry` is the last of `history`, and `value` what it says. `heads` are the entries that no
    other one of the history replaces; there is a `conflict` where they say different things.
    """

    what: str
    value: Any = attrs.field(eq=comparable)
    entry: Entry
    history: tuple[Entry, ...]
    heads: tuple[Entry, ...]
    conflict: bool


@attrs.frozen
class Folded(Mapping[str, Said]):
    """A mapping from what was said to how it stands, in the order in which it was first said.

    `gauging` is the id of the gauging, None without entries; `entries` are all of them in order.
    """

    entries: tuple[Entry, ...]
    _said: Mapping[str, Said]

    @property
    def gauging(self) -> str | None:
        """The id of the gauging, None where there are no entries."""
        return self.entries[0].gauging if self.entries else None

    def __getitem__(self, what: str) -> Said:
        return self._said[what]

    def __iter__(self) -> Iterator[str]:
        return iter(self._said)

    def __len__(self) -> int:
        return len(self._said)


def fold(entries: Iterable[Entry]) -> Folded:
    """Return what entries come to; InputRefused as from `united`."""
    ordered = united(entries)
    histories: dict[str, list[Entry]] = {}
    for entry in ordered:
        histories.setdefault(entry.what, []).append(entry)
    return Folded(ordered, {what: _said(what, history) for what, history in histories.items()})


def united(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Return the entries in their order, each once.

    InputRefused where one id stands for two contents, or the entries are of several gaugings.
    """
    by_id: dict[str, Entry] = {}
    torn: dict[str, None] = {}
    for entry in entries:
        found = by_id.setdefault(entry.id, entry)
        if found is not entry and found != entry:
            torn[entry.id] = None
    faults = [
        Fault(f'an entry must have one content (got two different ones with the id "{id_}")')
        for id_ in sorted(torn)
    ]
    gaugings = sorted({entry.gauging for entry in by_id.values()})
    if len(gaugings) > 1:
        listed = ", ".join(f'"{gauging}"' for gauging in gaugings)
        faults.append(Fault(f"the entries of a journal must be of one gauging (got {listed})"))
    if faults:
        raise InputRefused(faults)
    return tuple(sorted(by_id.values(), key=lambda entry: entry.order))


def _said(what: str, history: Sequence[Entry]) -> Said:
    replaced = {id_ for entry in history for id_ in entry.replaces}
    heads = tuple(entry for entry in history if entry.id not in replaced)
    last = history[-1]
    conflict = len({comparable(entry.value) for entry in heads}) > 1
    return Said(what, last.value, last, tuple(history), heads, conflict)
