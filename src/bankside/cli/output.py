"""Data on its way out: always UTF-8, and to a file whole or not at all."""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

import attrs

from bankside.gauging.faults import Fault, InputRefused

__all__ = ["asked_once", "print_faults", "write_file", "write_utf8"]

_ROW_QUESTION = re.compile(r"--(?:date-order|century)")

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
    """Return the faults, a question that every row of a column raises only once for the column."""
    kept: list[Fault] = []
    first: dict[tuple[str | None, str | None, str | None, str], int] = {}
    more: Counter[int] = Counter()
    for fault in faults:
        option = _ROW_QUESTION.search(fault.message)
        if option is None:
            kept.append(fault)
            continue
        key = (fault.file, fault.sheet, fault.column, option[0])
        if key in first:
            more[first[key]] += 1
        else:
            first[key] = len(kept)
            kept.append(fault)
    return [
        attrs.evolve(fault, message=f"{fault.message} ({more[place]} more rows ask the same)")
        if more[place]
        else fault
        for place, fault in enumerate(kept)
    ]


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
        raise _refused(
            output, f"cannot be written ({reason}); a name in a folder open to writing is right"
        ) from error
    finally:
        if part is not None:
            part.unlink(missing_ok=True)


def _refused(output: Path, message: str) -> InputRefused:
    return InputRefused([Fault(message, file=str(output))])
