"""A file of any kind is read, or refused in sentences: nothing else may come of it."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from bankside.exchange.geojson_read import read_geojson
from bankside.exchange.gpx_read import read_gpx
from bankside.gauging.faults import InputRefused
from bankside.intake.journals import JournalFile, united_sources
from bankside.intake.read import read_file
from bankside.intake.source import Source
from bankside.sheets.answers import Answers

__all__ = ["MOST_SECONDS", "hold", "said_of"]

MOST_SECONDS = 20


class _TooLong(BaseException):
    """A reader took longer than any file so small may take."""


def hold(path: Path) -> None:
    """Hold that a file is read or refused, a fault in a line no longer than the file."""
    with _in_time():
        sentences = said_of(path)
    for sentence in sentences:
        assert sentence.strip(), "a fault without words"
        assert len(sentence) < 2000 + path.stat().st_size, (
            f"a fault of {len(sentence)} signs: {sentence[:200]}"
        )
        bad = [sign for sign in sentence if sign in "\n\r\x00\x1b"]
        assert not bad, f"a fault with {bad}: {sentence[:200]!r}"


def said_of(path: Path) -> list[str]:
    """Return every fault of a file, as people are told it."""
    try:
        if path.suffix == ".gpx":
            read_gpx(path)
        elif path.suffix == ".geojson":
            read_geojson(path.read_bytes().decode("utf-8", "replace"), path.name)
        found = read_file(path, Answers())
    except InputRefused as refused:
        return [str(fault) for fault in refused.faults]
    sources = united_sources([found]) if isinstance(found, Source | JournalFile) else []
    return [str(fault) for one in sources for item in one.items for fault in item.faults]


@contextmanager
def _in_time() -> Iterator[None]:
    def too_long(number: int, frame: FrameType | None) -> None:
        raise _TooLong(f"more than {MOST_SECONDS} s of a processor")

    before = signal.signal(signal.SIGVTALRM, too_long)
    signal.setitimer(signal.ITIMER_VIRTUAL, MOST_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)
