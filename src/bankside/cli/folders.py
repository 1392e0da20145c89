"""Files and folders that were handed over, as files; what is passed over in a folder is told."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence, Set
from pathlib import Path
from typing import Final

import attrs

from bankside.gauging.faults import Fault, InputRefused

__all__ = ["GAUGINGS", "Sought", "files_in"]


@attrs.frozen
class Sought:
    """What is looked for in folders: the endings of its names, what is read, and what is right."""

    endings: Set[str]
    read: str
    right: str


GAUGINGS: Final = Sought(
    frozenset({".csv", ".txt", ".tsv", ".xlsx", ".xlsm", ".xls", ".ods", ".json"}),
    "only sheets, records and journals are read",
    "a folder with sheets, records or journals is right",
)


def files_in(
    paths: Sequence[Path], but: Sequence[Path] = (), sought: Sought = GAUGINGS
) -> list[Path]:
    """Return the files that are named, and those in folders that may hold gaugings, by name.

    but: files in folders that are taken in otherwise, and folders that are written to; sought: what
    is looked for, if not gaugings. What a folder holds besides is counted on stderr, with the
    endings of the names. InputRefused for a folder in which there is nothing to read.
    """
    others = {path.resolve() for path in but}
    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        inside = [one for one in _inside(path) if not _is_among(one, others)]
        taken = [one for one in inside if one.suffix.lower() in sought.endings]
        if not taken:
            raise InputRefused([Fault(f"found nothing to read; {sought.right}", file=str(path))])
        _tell(path, [one for one in inside if one not in taken], sought)
        found += taken
    return list(dict.fromkeys(found))


def _inside(folder: Path) -> Iterator[Path]:
    """Yield the files of a folder and of those in it, but for hidden ones and locks of programs."""
    for path in sorted(folder.rglob("*")):
        parts = path.relative_to(folder).parts
        if path.is_file() and not any(part.startswith((".", "~$")) for part in parts):
            yield path


def _is_among(path: Path, others: Set[Path]) -> bool:
    """Return whether a file is one of these, or lies in a folder that is."""
    whole = path.resolve()
    return whole in others or not others.isdisjoint(whole.parents)


def _tell(folder: Path, passed: Sequence[Path], sought: Sought) -> None:
    if not passed:
        return
    endings = ", ".join(sorted({path.suffix.lower() or path.name for path in passed}))
    said = "one other file" if len(passed) == 1 else f"{len(passed)} other files"
    print(
        f"{folder}: {sought.read}; {said} passed over ({endings}).",
        file=sys.stderr,
    )
