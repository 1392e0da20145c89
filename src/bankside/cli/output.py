"""Data on its way out: always UTF-8, and to a file whole or not at all."""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

import attrs

from bankside.archive.room import is_full
from bankside.gauging.faults import Fault, InputRefused

__all__ = [
    "asked_once",
    "make_folder",
    "print_faults",
    "require_free",
    "suffix_faults",
    "write_file",
    "write_utf8",
]

_ROW_QUESTION = re.compile(r"--(?:date-order|century)")

_MOST_STRETCHES = 6
_MOST_LINES = 50
"""Faults printed at once; a file in which every row is wrong needs no more to be seen as such."""


def print_faults(faults: Sequence[Fault]) -> None:
    """Print faults on stderr, a line each, the first of them if there are very many."""
    for fault in faults[:_MOST_LINES]:
        print(fault, file=sys.stderr)
    more = len(faults) - _MOST_LINES
    if more > 0:
        print(f"... and {more} more.", file=sys.stderr)


def asked_once(faults: Sequence[Fault]) -> list[Fault]:
    """Return the faults, one that stands on many rows of a column only once, with those rows.

    A question that one option settles for every row is asked once as well.
    """
    alike: dict[object, list[Fault]] = {}
    for fault in faults:
        option = _ROW_QUESTION.search(fault.message)
        said = fault.message if option is None else option[0]
        alike.setdefault((fault.file, fault.sheet, fault.column, fault.path, said), []).append(
            fault
        )
    return [_folded(found) for found in alike.values()]


def _folded(faults: Sequence[Fault]) -> Fault:
    """Return the first of faults that are alike, with the rows of all of them."""
    first = faults[0]
    rows = sorted({fault.row for fault in faults if fault.row is not None})
    if len(rows) < 2:
        return first
    return attrs.evolve(first, message=f"{first.message} (the same on rows {_listed(rows)})")


def _listed(rows: Sequence[int]) -> str:
    """Return rows as people list them: "10 to 41, 44", the first stretches of very many."""
    stretches: list[list[int]] = []
    for row in rows:
        if stretches and row == stretches[-1][1] + 1:
            stretches[-1][1] = row
        else:
            stretches.append([row, row])
    shown = [f"{a}" if a == b else f"{a} to {b}" for a, b in stretches[:_MOST_STRETCHES]]
    more = sum(b - a + 1 for a, b in stretches[_MOST_STRETCHES:])
    return ", ".join(shown) + (f" and {more} more" if more else "")


def suffix_faults(output: Path, suffix: str, instead: str = "") -> list[Fault]:
    """Return that a name does not say which kind of file it gets, if it does not.

    `instead` names the options for other kinds of file.
    """
    if output.suffix.lower() == suffix:
        return []
    message = f"found this name; one that ends in {suffix}, such as out{suffix}, would be right"
    return [Fault(f"{message}{instead}", file=str(output))]


def write_utf8(text: str) -> None:
    """Write data to stdout in UTF-8, whatever the terminal's own character set is."""
    sys.stdout.flush()
    buffer = getattr(sys.stdout, "buffer", None)
    if buffer is None:  # a stream of text that a program put in the place of stdout
        sys.stdout.write(text)
    else:
        buffer.write(text.encode("utf-8"))
        buffer.flush()


def write_file(output: Path, replace: bool, write: Callable[[Path], object]) -> None:
    """Let `write` make a file beside its place, and move it there when it is whole.

    Raises InputRefused if something is there already and is not to be replaced, if it is no
    ordinary file, or if the file cannot be written.
    """
    part: Path | None = None
    if "\0" in str(output):
        raise _refused(output, "cannot be a name of a file; one without the sign NUL is right")
    try:
        if output.exists() and not output.is_file():
            raise _refused(output, "is a folder or a device; the name of a file would be right")
        if output.exists() and not replace:
            raise _refused(
                output,
                "is there already; another name would be right, or --replace to write over it",
            )
        handle, name = tempfile.mkstemp(dir=output.parent, prefix=".bankside-", suffix=".part")
        os.close(handle)
        part = Path(name)
        write(part)
        part.chmod(0o644)
        part.replace(output)
    except OSError as error:
        reason = error.strerror or str(error)
        right = "room on its disk" if is_full(error) else "a name in a folder open to writing"
        raise _refused(output, f"cannot be written ({reason}); {right} is right") from error
    finally:
        if part is not None:
            part.unlink(missing_ok=True)


_OR_REPLACE = "another name would be right, or --replace to write over it"


def require_free(targets: Sequence[Path], right: str = _OR_REPLACE) -> None:
    """Refuse to begin where a file is there already: all of a run is written, or nothing.

    right: what would be right instead.
    """
    message = f"is there already; {right}"
    faults = [Fault(message, file=str(target)) for target in targets if target.exists()]
    if faults:
        raise InputRefused(faults)


def make_folder(folder: Path) -> None:
    """Make a folder if it is not there; InputRefused where it cannot be made."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = error.strerror or str(error)
        message = f"cannot be made ({reason}); a folder in a place open to writing would be right"
        raise InputRefused([Fault(message, file=str(folder))]) from error


def _refused(output: Path, message: str) -> InputRefused:
    return InputRefused([Fault(message, file=str(output))])
