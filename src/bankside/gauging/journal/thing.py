"""A thing that something can be said about in a journal."""

import attrs

from bankside.gauging.journal.readers import Reader

__all__ = ["Sayable"]


@attrs.frozen
class Sayable:
    """A thing that something can be said about.

    `name` is how a sentence about a wrong value calls it, `words` how a correction calls it;
    `kept` says whether what stood there before is kept in the record as a correction.
    """

    pattern: str
    reader: Reader
    words: str
    kept: bool = True

    @property
    def name(self) -> str:
        """How a sentence about a wrong value calls it."""
        last = self.pattern.rsplit("/", 1)[-1]
        return self.words if last.startswith("<") else last
