"""Everything that an entry can say something about, and how it is read and called.

A pattern stands for keys that devices make by `<k>` (of the channel: `<c>`, the reading: `<r>`).
"""

import functools
import re
from collections.abc import Mapping

from bankside.gauging.journal.thing import Sayable
from bankside.gauging.journal.things_header import HEADER
from bankside.gauging.journal.things_office import BESIDE, PURPOSES
from bankside.gauging.journal.things_readings import CHANNEL, READING, READINGS, VERTICAL

__all__ = ["CHANNEL", "PURPOSES", "READING", "SAYABLE", "VERTICAL", "Sayable", "sayable"]

SAYABLE: Mapping[str, Sayable] = {entry.pattern: entry for entry in (*HEADER, *READINGS, *BESIDE)}
"""Pattern → what it stands for."""

_PATTERNS = tuple(
    (re.compile(re.sub("<.>", "([A-Za-z0-9_-]+)", pattern)), entry)
    for pattern, entry in SAYABLE.items()
)


@functools.lru_cache(maxsize=4096)
def sayable(what: str) -> tuple[Sayable, tuple[str, ...]] | None:
    """Return what an entry speaks of, with the keys in it, None where nothing is known of it."""
    for pattern, entry in _PATTERNS:
        found = pattern.fullmatch(what)
        if found is not None:
            return entry, found.groups()
    return None
