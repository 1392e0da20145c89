"""The compiled kernel on disk: used again while nothing changed, never after a change."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from bankside.bulk import sections
from bankside.bulk.columns import Columns
from bankside.bulk.engine import KernelRefused, across, faults_of

PACKAGE = Path(__file__).parents[2] / "src" / "bankside"

SCRIPT = """
import numpy as np
from bankside.bulk.columns import Stations
from bankside.bulk.sections import discharges
q = np.empty(1)
one = lambda *values: np.array(values)
stations = Stations(one(0, 3), one(0, 1), one(3), one(0.0, 1.0, 2.0), one(0.0, 1.0, 0.0),
                    one(0.0, 1.0, 0.0), one(True, True, True))
discharges(0, 1, stations, q, np.empty(1), np.empty(1))
print(q[0], sum(discharges.stats.cache_hits.values()))
"""


def _run(source: Path, cache: Path) -> tuple[float, int]:
    """The discharge of a triangle 2 wide and 1 deep, and how often compiled code was found."""
    environment = {**os.environ, "PYTHONPATH": str(source), "BANKSIDE_CACHE": str(cache)}
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    discharge, hits = run.stdout.split()
    return float(discharge), int(hits)


def test_a_changed_kernel_is_never_answered_from_the_cache(tmp_path: Path) -> None:
    """By hand the panel is 1 wide and carries 1; a kernel whose panels are twice as wide, 2."""
    source = tmp_path / "src"
    for part in ("kernel", "gauging", "bulk"):
        shutil.copytree(
            PACKAGE / part, source / "bankside" / part, ignore=shutil.ignore_patterns("__pycache__")
        )
    (source / "bankside" / "__init__.py").touch()
    cache = tmp_path / "cache"

    assert _run(source, cache) == (1.0, 0)
    assert _run(source, cache) == (1.0, 1)
    section = source / "bankside" / "kernel" / "section.py"
    text = section.read_text(encoding="utf-8")
    halved = "tape[max(i - 1, 0)]) / 2.0"
    assert halved in text
    section.write_text(text.replace(halved, "tape[max(i - 1, 0)]) / 1.0"), encoding="utf-8")
    assert _run(source, cache) == (2.0, 0)


def _columns(tape: list[float]) -> Columns:
    values = np.array(tape)
    return Columns(
        starts=np.array([0, len(tape)]),
        channels=np.array([0, 1]),
        counts=np.array([len(tape)]),
        tape_m=values,
        depth_m=np.full(len(tape), 0.5),
        velocity_ms=np.full(len(tape), 0.2),
        measured=np.ones(len(tape), np.bool_),
    )


def test_what_the_kernel_refuses_is_raised_in_its_words() -> None:
    """A fault that slipped through is an error, not garbage read beyond an array."""
    columns = _columns([1.0])
    assert faults_of(columns)[1] == {0: "each channel must have at least two verticals (found 1)"}
    figures = [np.empty(1) for _ in range(3)]

    with pytest.raises(ValueError, match="at least two verticals"):
        sections.discharges(0, 1, columns.stations, *figures)


def test_what_is_refused_in_any_thread_is_named() -> None:
    """Of many gaugings two are refused; all others are worked out, and both are told."""
    done = np.zeros(5000, np.int64)

    def work(first: int, last: int) -> None:
        for k in range(first, last):
            if k in (3, 3000):
                raise ValueError("this one")
            done[k] += 1

    with pytest.raises(KernelRefused) as refused:
        across(5000, work)

    assert refused.value.why == {3: "this one", 3000: "this one"}
    assert (done == 0).sum() == 2
