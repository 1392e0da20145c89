"""The same run on several workers: the same bytes, also where one of them is killed."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from bankside.bulk.cluster import connected, run_on
from bankside.bulk.rows import inputs_of
from bankside.bulk.run import Run, begin, parts_left, run_here
from bankside.bulk.simulated import simulate
from bankside.gauging.faults import BanksideError

# Dask closes its sockets and loops in its own time.
pytestmark = pytest.mark.filterwarnings("default")


def _bytes(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*.parquet"))
    }


def test_a_killed_worker_loses_nothing_and_no_byte_is_other(tmp_path: Path) -> None:
    """After the first part one of two workers is killed; then all is as one process writes it."""
    table = tmp_path / "in.parquet"
    simulate(3000, table)
    here, there = (
        Run("compute", inputs_of(table), tmp_path / name, uncertainty="published", part=100)
        for name in ("here", "there")
    )
    begin(here)
    assert sum(one.worked_out for one in run_here(here)) == 3000

    begin(there)
    with connected(None, 2) as client:
        done = run_on(client, there)
        worked_out = next(done).worked_out
        pid = next(iter(client.run(os.getpid).values()))
        assert pid != os.getpid()
        os.kill(pid, signal.SIGKILL)
        assert len(parts_left(there)) > 5
        worked_out += sum(one.worked_out for one in done)

    assert worked_out == 3000
    assert _bytes(tmp_path / "there") == _bytes(tmp_path / "here")


def test_no_scheduler_at_an_address_is_said() -> None:
    """One sentence, with an address that would be right."""
    with (
        pytest.raises(BanksideError, match="must be the address of a Dask scheduler"),
        connected("no-such-scheme://nowhere", 1),
    ):
        pass
