"""Reads files, each in a process of its own that may take so much time and memory and no more.

`python -m tests.broken.bounded FOLDER` prints, for each file in it, one JSON object a line: its
name, what was said, the seconds of processor time and the megabytes that it took at most.
"""

from __future__ import annotations

import json
import os
import resource
import sys
from pathlib import Path
from typing import Any

from bankside.exchange import geopackage, parquet, waterml_read
from bankside.intake.read import read_file
from bankside.intake.source import Source
from bankside.sheets.answers import Answers

__all__ = ["MOST_MEGABYTES", "MOST_SECONDS", "outcomes"]

MOST_SECONDS = 30
MOST_MEGABYTES = 800
_ADDRESSES = 4 << 30
# What a file is read by is loaded once, before a process is set apart for each file.
_LOADED = (geopackage, parquet, waterml_read)


def outcomes(folder: Path) -> list[dict[str, Any]]:
    """Return what became of each file of a folder, in the order of their names."""
    return [_outcome(path) for path in sorted(folder.iterdir())]


def _outcome(path: Path) -> dict[str, Any]:
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
        resource.setrlimit(resource.RLIMIT_AS, (_ADDRESSES, _ADDRESSES))
        with os.fdopen(writing, "w", encoding="utf-8") as out:
            json.dump(_said(path), out)
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as said:
        text = said.read()
    _, status, used = os.wait4(child, 0)
    return {
        "file": path.name,
        "said": json.loads(text) if text else [f"the process ended with {status}"],
        "seconds": used.ru_utime + used.ru_stime,
        "megabytes": used.ru_maxrss // 1024,
    }


def _said(path: Path) -> list[str]:
    try:
        found = read_file(path, Answers())
    except BaseException as error:  # whatever it is, it is no sentence for people
        return [f"{type(error).__name__}: {error}", "raised"]
    items = found.items if isinstance(found, Source) else ()
    return [str(fault) for item in items for fault in item.faults]


if __name__ == "__main__":
    for one in outcomes(Path(sys.argv[1])):
        print(json.dumps(one), flush=True)
