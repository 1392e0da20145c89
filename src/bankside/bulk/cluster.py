"""The same run on many workers: each part is a task of Dask, and writes its own files.

Parts depend on nothing but their number, and files have their names only once they are whole: a
worker that dies loses what it had begun, another does it again, and the bytes are the same.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

from bankside.bulk.engine import use_threads
from bankside.bulk.run import Done, Run, parts_left, work_part
from bankside.gauging.faults import BanksideError

if TYPE_CHECKING:
    from distributed import Client

__all__ = ["connected", "run_on"]

_RETRIES = 2
"""A part that fails is tried again so often: a file system may be away for a moment."""


@contextmanager
def connected(address: str | None, workers: int) -> Iterator[Client]:
    """Give a client of the scheduler at an address, or of so many workers on this machine."""
    if find_spec("distributed") is None:
        raise BanksideError(
            "Several workers need dask and distributed, which a plain install has not; in the "
            f"folder of Bankside, {sys.executable} -m pip install '.[cluster]' adds them."
        )
    from distributed import Client, LocalCluster

    if address is None:
        with (
            LocalCluster(workers, threads_per_worker=1, dashboard_address=None) as cluster,
            Client(cluster) as client,
        ):
            yield client
        return
    try:
        client = Client(address, timeout=10)
    except (OSError, ValueError) as error:
        reason = " ".join(str(error).split())
        raise BanksideError(
            f"--scheduler must be the address of a Dask scheduler that answers, such as "
            f"tcp://10.0.0.5:8786 (got {address}: {reason})."
        ) from None
    with client:
        yield client


def run_on(
    client: Client, run: Run, told: Callable[[int], object] = lambda gaugings: None
) -> Iterator[Done]:
    """Work out all parts that are left by the workers; yield what became of each, in any order.

    Input and folder have the same path for all workers: they share a file system.
    """
    from distributed import as_completed

    waiting = client.map(partial(_on_worker, run), parts_left(run), pure=False, retries=_RETRIES)
    behind = 0
    for done in as_completed(waiting):
        result: Any = done.result()
        behind += result.worked_out + len(result.refused)
        told(behind)
        yield result
        done.release()


def _on_worker(run: Run, part: int) -> Done:
    use_threads(1)
    return work_part(run, part)
