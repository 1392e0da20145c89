"""Which entries of a gauging somebody had before them, as a digest."""

import hashlib
from collections.abc import Iterable

from bankside.gauging.journal.entry import Entry, to_members
from bankside.gauging.journal.fold import united
from bankside.gauging.journal.values import canonical

__all__ = ["state_of"]


def state_of(entries: Iterable[Entry]) -> str:
    """Return the SHA-256, in hexadecimal, of all entries but those of review.

    It is the same in whatever order they come and however often, and another as soon as anything
    else was said. InputRefused as from `united`.
    """
    looked_at = [entry for entry in united(entries) if entry.what != "review"]
    # In the order of the ids, as the web app has it: `tests/vectors/states.json` holds both.
    by_id = sorted(looked_at, key=lambda entry: entry.id)
    text = "".join(f"{canonical(to_members(entry))}\n" for entry in by_id)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()
