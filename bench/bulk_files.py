"""What a table costs from Parquet to Parquet, beside reading and writing the same bytes.

Also how long `bankside compute` takes to be there for one sheet.
"""

import json
import subprocess
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

import pyarrow.parquet as pq

from bankside.bulk.rows import Rows, inputs_of
from bankside.bulk.run import Run, begin, run_here
from bankside.bulk.simulated import simulate

SHEET = Path(__file__).parents[1] / "demo" / "sheets" / "alder_fork.csv"
ROUNDS = 3


def _peak() -> int:
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmHWM"):
            return 1024 * int(line.split()[1])
    return 0


def run_of(table: Path, out: Path) -> Run:
    """Everything but what lies between verticals, panels too."""
    return Run("compute", inputs_of(table), out, uncertainty="published")


def worked_out(table: Path, out: Path) -> dict[str, float]:
    """Seconds from file to files, and the peak of memory; compiled code is on disk already."""
    run = run_of(table, out)
    begin(run)
    start, worked = perf_counter(), process_time()
    for _ in run_here(run):
        pass
    return {
        "seconds": perf_counter() - start,
        "processor": process_time() - worked,
        "peak": _peak(),
    }


def read_and_written(table: Path, out: Path) -> dict[str, float]:
    """Seconds for reading the same rows and writing the same tables, nothing worked out."""
    run = run_of(table, out)
    rows = Rows(run.inputs)
    took, worked = 0.0, 0.0

    def timed(work: Callable[[], object]) -> None:
        nonlocal took, worked
        start, before = perf_counter(), process_time()
        work()
        took += perf_counter() - start
        worked += process_time() - before

    for part in range(run.parts):
        stop = min((part + 1) * run.part, run.gaugings)
        timed(partial(rows.take, part * run.part, stop))
        for name in ("gaugings", "panels"):
            content = pq.read_table(run.file(name, part))
            again = out / "again"
            write = partial(pq.write_table, compression="zstd", compression_level=1)
            timed(partial(write, content, again))
    return {"seconds": took, "processor": worked, "peak": _peak()}


def _alone(what: str, table: Path, out: Path) -> dict[str, float]:
    command = [sys.executable, __file__, what, str(table), str(out)]
    run = subprocess.run(command, capture_output=True, text=True, check=True)
    found: dict[str, float] = json.loads(run.stdout)
    return found


def files(sizes: list[int], folder: Path) -> None:
    """Measure and print each size in processes of their own."""
    print("\nParquet to Parquet, one row a gauging and one a panel")
    warm = folder / "warm.parquet"
    simulate(100, warm)
    _alone("work", warm, folder / "warm")
    for size in sizes:
        table, out = folder / f"{size}.parquet", folder / str(size)
        simulate(size, table)
        ours = _alone("work", table, out)
        bare = _alone("copy", table, out)
        written = sum(path.stat().st_size for path in out.rglob("part-*.parquet"))
        clock, processor = (ours[name] / bare[name] for name in ("seconds", "processor"))
        print(
            f"  {size:>8} gaugings: {ours['seconds']:7.2f} s, {clock:.2f} x reading and writing "
            f"({processor:.2f} x by the processor); "
            f"peak {ours['peak'] / 1e6:.0f} MB ({table.stat().st_size / 1e6:.0f} MB in, "
            f"{written / 1e6:.0f} MB out)",
            flush=True,
        )


def _seconds(command: list[str]) -> float:
    start = perf_counter()
    subprocess.run(command, capture_output=True, check=True)
    return perf_counter() - start


def starting() -> None:
    """Measure and print what one sheet costs from the command line."""
    bare = [
        sys.executable,
        "-c",
        "import sys, attrs, cattrs; open(sys.argv[1], encoding='utf-8').read()",
        str(SHEET),
    ]
    ours = [sys.executable, "-m", "bankside", "compute", str(SHEET)]
    pairs = [(_seconds(bare), _seconds(ours)) for _ in range(2 * ROUNDS + 1)]
    ratio = median(took / least for least, took in pairs)
    print(
        f"\nbankside compute, one sheet: {median(took for _, took in pairs):.2f} s, {ratio:.1f} x "
        "importing attrs and cattrs and reading the sheet"
    )


if __name__ == "__main__":
    do = {"work": worked_out, "copy": read_and_written}[sys.argv[1]]
    print(json.dumps(do(Path(sys.argv[2]), Path(sys.argv[3]))))
