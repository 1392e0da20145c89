"""Damage files and read them for a while: `python -m tests.fuzz.run MINUTES [NAME…]`.

NAME… are files of the corpus; all of them without any. What is found is kept in the folder `found`,
as small as it could be made, and is read by the tests from then on. Where the process itself ends,
the file that it was reading is `last` beside it.
"""

from __future__ import annotations

import hashlib
import resource
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from .damage import Edit, damaged, edits
from .reading import hold
from .seeds import CORPUS

__all__ = ["FOUND", "fuzz", "main"]

FOUND = Path(__file__).parent / "found"
_A_ROUND = 150
_ADDRESSES = 6 << 30


def fuzz(file: Path, examples: int, folder: Path, start: int | None = None) -> bytes | None:
    """Damage a file so often; return a small one that is not read as it must be, None without any.

    folder: for the file that is read; start: where the random numbers begin, any place if None.
    """
    data = file.read_bytes()
    others = [other.read_bytes() for other in sorted(CORPUS.iterdir())]
    path = folder / f"last{file.suffix}"

    @settings(
        max_examples=examples,
        deadline=None,
        database=None,
        derandomize=start is None,
        phases=(Phase.generate, Phase.shrink),
        suppress_health_check=list(HealthCheck),
        report_multiple_bugs=False,
    )
    @given(edits(others), st.none() | st.floats(0, 1))
    def read(made: list[Edit], member: float | None) -> None:
        path.write_bytes(damaged(data, made, member))
        hold(path)

    try:
        (read if start is None else seed(start)(read))()
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt):
            raise
        print(f"{file.name}: {type(error).__name__}: {str(error)[:300]}", flush=True)
        return path.read_bytes()
    return None


def main(minutes: float, names: Sequence[str]) -> int:
    """Go round the corpus until the time is over; return how many were found."""
    resource.setrlimit(resource.RLIMIT_AS, (_ADDRESSES, _ADDRESSES))
    files = [f for f in sorted(CORPUS.iterdir()) if not names or f.name in names]
    end, rounds, found = time.monotonic() + 60 * minutes, 0, Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        while time.monotonic() < end:
            file = files[rounds % len(files)]
            rounds += 1
            content = fuzz(file, _A_ROUND, Path(folder), start=time.time_ns())
            if content is not None:
                digest = hashlib.sha256(content).hexdigest()[:12]
                (FOUND / f"{file.stem}-{digest}{file.suffix}").write_bytes(content)
                found[file.name] += 1
    print(f"{rounds} rounds of {_A_ROUND} files, {sum(found.values())} found: {dict(found)}")
    return sum(found.values())


if __name__ == "__main__":
    FOUND.mkdir(exist_ok=True)
    sys.exit(main(float(sys.argv[1]), sys.argv[2:]) > 0)
