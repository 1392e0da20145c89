"""What is wrong with an input, in sentences that say where.

The tree of errors: `BanksideError` is the root; `InputRefused` says that an input cannot be taken
as it is, and carries every fault found in it, not only the first.
"""

from collections.abc import Iterable
from typing import Self

import attrs

__all__ = ["BanksideError", "Fault", "InputRefused"]


@attrs.frozen
class Fault:
    """One thing wrong with an input: a sentence, and as much of its place as is known.

    `file`, `sheet`, `row` (from 1) and `column` (its letter, with the heading if there is one)
    place it in a table; `path`, such as `channels[0].verticals[7].depth`, places it in a record.
    """

    message: str
    file: str | None = None
    sheet: str | None = None
    row: int | None = None
    column: str | None = None
    path: str | None = None

    def __str__(self) -> str:
        place = ", ".join(self._place())
        return _on_one_line(f"{place}: {self.message}" if place else self.message)

    def _place(self) -> Iterable[str]:
        if self.file is not None:
            yield self.file
        if self.sheet is not None:
            yield f'sheet "{self.sheet}"'
        if self.row is not None:
            yield f"row {self.row}"
        if self.column is not None:
            yield f"column {self.column}"
        if self.path is not None:
            yield self.path

    def inside(self, step: str | int) -> Self:
        """Return the same fault seen from one level further out: under a field or at an index."""
        outer = f"[{step}]" if isinstance(step, int) else step
        if self.path is None:
            return attrs.evolve(self, path=outer)
        dot = "" if self.path.startswith("[") else "."
        return attrs.evolve(self, path=f"{outer}{dot}{self.path}")


def _on_one_line(text: str) -> str:
    """Return a sentence whose signs can all be seen: others a terminal might obey."""
    if text.isprintable():
        return text
    return "".join(
        sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii")
        for sign in text
    )


class BanksideError(Exception):
    """The root of every error that this package raises about what it was given."""


class InputRefused(BanksideError, ValueError):
    """An input cannot be taken as it is; `faults` holds everything that is wrong with it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__(self.faults)

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)
