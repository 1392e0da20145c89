"""Files made to fill a memory, to hold up a machine or to reach out of their folder."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from .bombs import BOMBS, SECRET
from .bounded import MOST_MEGABYTES, MOST_SECONDS

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Any]]:
    """What became of every bomb, each read in a process with limits; nothing else was written."""
    folder = tmp_path_factory.mktemp("outer") / "a" / "bombs"
    folder.mkdir(parents=True)
    (folder.parent / "beside.txt").write_text(SECRET, encoding="utf-8")
    for name, (make, _) in BOMBS.items():
        if name.endswith(".gpkg"):
            make(folder / name)  # type: ignore[call-arg]
        else:
            (folder / name).write_bytes(make())  # type: ignore[call-arg, arg-type]
    before = sorted(folder.parents[1].rglob("*"))
    run = subprocess.run(
        [sys.executable, "-m", "tests.broken.bounded", str(folder)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=600,
    )
    assert sorted(folder.parents[1].rglob("*")) == before
    for path in folder.iterdir():
        path.unlink()
    yield {one["file"]: one for one in map(json.loads, run.stdout.splitlines())}


@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_is_refused_in_one_sentence_within_its_bounds(
    name: str, outcomes: dict[str, Any]
) -> None:
    """It takes no more time and memory than a large sound file may, and shows nothing of others."""
    one = outcomes[name]
    (said,) = one["said"]
    assert all(part in said for part in BOMBS[name][1]), said
    assert SECRET not in said and len(said) < 500
    assert one["seconds"] < MOST_SECONDS and one["megabytes"] < MOST_MEGABYTES, one
