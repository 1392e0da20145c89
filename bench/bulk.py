"""What whole tables cost, against a floor and against general libraries doing the same.

The floor is NumPy's sum of the same three columns. Every tool runs in a process of its own, in
turns with the floor, so that what is printed are ratios within one run. The ratio of processor
times says what the work is on a machine that serves others too; by the clock it is less where
several processors are free. Memory is what a process needed at its peak beyond the columns
themselves, as a part of these.

    python bench/bulk.py [SIZE ...]      # 10000 100000 1000000 if nothing is said
"""

import json
import math
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from itertools import pairwise
from pathlib import Path
from statistics import median
from time import perf_counter, process_time
from typing import Any

import attrs
import numpy as np
import pyarrow as pa

from bankside.bulk import sections
from bankside.bulk.asked import PART
from bankside.bulk.checks import LIMITS
from bankside.bulk.columns import Columns, Read
from bankside.bulk.engine import across, faults_of
from bankside.bulk.figures import figures_of, read_of
from bankside.bulk.findings import look
from bankside.bulk.given import Given
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.uncertainty_flow import Assumed

VERTICALS = (20, 34)  # 27 on average
SIZES = (10_000, 100_000, 1_000_000)
BETWEEN_AT_MOST = 10_000
ROUNDS = 3
PLOT = Path(__file__).parents[1] / "out" / "bulk.png"

DISCHARGE = "Bankside: discharge and area"
ALL_BUT = "Bankside: both methods, sections, published uncertainties, checks"
BETWEEN = "Bankside: what lies between verticals"
OURS = (DISCHARGE, ALL_BUT, BETWEEN)
LIBRARIES = ("NumPy", "Polars", "pandas", "DuckDB")


def invented(gaugings: int) -> Columns:
    """Sections with rough beds and sloping banks, of 20 to 34 verticals, end to end."""
    random = np.random.default_rng(20)
    lengths = random.integers(VERTICALS[0], VERTICALS[1] + 1, gaugings)
    starts = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int64)
    count = int(starts[-1])
    place = (np.arange(count) - np.repeat(starts[:-1], lengths)) / np.repeat(lengths - 1, lengths)
    bed = 4.0 * place * (1.0 - place)
    tape = np.cumsum(random.uniform(0.1, 0.4, count))
    tape -= np.repeat(tape[starts[:-1]], lengths)
    return Columns(
        starts=starts,
        channels=np.arange(gaugings + 1),
        counts=lengths,
        tape_m=tape,
        depth_m=bed * random.uniform(0.3, 0.6, count),
        velocity_ms=bed * random.uniform(0.2, 0.9, count),
        measured=np.ones(count, np.bool_),
    )


def work_of(tool: str, columns: Columns) -> Callable[[], Any]:
    """What a tool does, everything got ready."""
    lists = (columns.starts, columns.tape_m, columns.depth_m, columns.velocity_ms)
    if tool in LIBRARIES:
        from bulk_others import OTHERS

        return OTHERS[tool](*lists)
    count = len(columns)
    if tool == DISCHARGE:
        out = [np.empty(count) for _ in range(3)]
        return lambda: (across(count, sections.discharges, columns.stations, *out), out)[1]
    read = attrs.evolve(columns, read=read_of(columns, Assumed()))
    if tool == BETWEEN:
        return lambda: figures_of(read, Assumed(), "all")
    rules = load_rule_set("common-practice")
    limits = {name: rules.si(name) for name in LIMITS}
    parts = list(parts_of(read))

    def work() -> None:
        for part in parts:
            faults_of(part.columns)
            look(part, figures_of(part.columns, Assumed(), "published"), limits)

    return work


def parts_of(columns: Columns) -> Iterator[Given]:
    """The columns in parts, as a run takes them: what is made on the way stays near."""
    assert columns.read is not None
    for first in range(0, len(columns), PART):
        last = min(first + PART, len(columns))
        here = slice(columns.starts[first], columns.starts[last])
        read = Read(*(column[here] for column in columns.read))
        part = Columns(
            starts=columns.starts[first : last + 1] - columns.starts[first],
            channels=np.arange(last - first + 1),
            counts=columns.counts[first:last],
            tape_m=columns.tape_m[here],
            depth_m=columns.depth_m[here],
            velocity_ms=columns.velocity_ms[here],
            measured=columns.measured[here],
            read=read,
        )
        nothing = np.full(last - first, np.nan)
        ids = pa.nulls(last - first, pa.string())
        yield Given(np.arange(first, last), ids, part, *[None] * 4, nothing, nothing)


def peak() -> int:
    """The most memory that this process held since `from_here`, in bytes (Linux)."""
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmHWM"):
            return 1024 * int(line.split()[1])
    return 0


def from_here() -> None:
    """Let the peak begin anew (Linux)."""
    Path("/proc/self/clear_refs").write_text("5", encoding="ascii")


def seconds(work: Callable[[], Any]) -> tuple[float, float]:
    """How long one call takes by the clock, and how long processors worked at it."""
    start, worked = perf_counter(), process_time()
    work()
    return perf_counter() - start, process_time() - worked


def one(tool: str, gaugings: int) -> dict[str, Any]:
    """Measure a tool in this process, in turns with the floor."""
    columns = invented(gaugings)
    tape, depth, velocity = columns.tape_m, columns.depth_m, columns.velocity_ms

    def floor() -> float:
        return float(tape.sum() + depth.sum() + velocity.sum())

    work = work_of(tool, columns)
    first = work()
    from_here()
    before = peak()
    rounds = 1 if tool == BETWEEN else ROUNDS
    pairs = [(seconds(floor), seconds(work)) for _ in range(rounds)]
    found: dict[str, Any] = {
        "seconds": median(took for _, (took, _) in pairs),
        "ratio": median(took / least for (least, _), (took, _) in pairs),
        "processor": median(took / least for (_, least), (_, took) in pairs),
        "floor": median(least for (least, _), _ in pairs),
        "memory": (peak() - before) / (tape.nbytes * 3),
    }
    if tool == DISCHARGE or tool in LIBRARIES:
        found["sums"] = [math.fsum(values) for values in first[:1]]
    return found


def measured(tool: str, gaugings: int) -> dict[str, Any]:
    """Measure a tool in a process of its own."""
    command = [sys.executable, __file__, "--one", tool, str(gaugings)]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    if run.returncode:
        raise SystemExit(f"{tool}, {gaugings}: {run.stderr}")
    found: dict[str, Any] = json.loads(run.stdout)
    return found


def report(sizes: list[int]) -> dict[str, dict[int, dict[str, Any]]]:
    """Measure and print everything in memory."""
    tools = [*OURS, *(name for name in LIBRARIES if find_spec(name.lower()) is not None)]
    found: dict[str, dict[int, dict[str, Any]]] = {tool: {} for tool in tools}
    for size in sizes:
        print(
            f"\n{size} gaugings: times the sum of three columns (by the clock, by the processor),"
            " seconds, memory / columns"
        )
        for tool in tools:
            if tool == BETWEEN and size > BETWEEN_AT_MOST:
                continue
            told = found[tool][size] = measured(tool, size)
            print(
                f"  {tool:<66}{told['ratio']:9.2f} x{told['processor']:9.2f} x"
                f"{told['seconds']:10.4f} s{told['memory']:7.2f}",
                flush=True,
            )
        fastest = min(found[tool][size]["seconds"] for tool in tools if tool in LIBRARIES)
        print(f"  fastest library / ours: {fastest / found[DISCHARGE][size]['seconds']:.1f} x")
        at_size = [found[tool].get(size, {}) for tool in tools]
        sums = [one["sums"][0] for one in at_size if "sums" in one]
        if max(sums) - min(sums) > 1e-9 * abs(sums[0]):
            raise SystemExit(f"The tools do not give the same discharges: {sums}.")
    print("\nGrowth: time grows with the number of gaugings to the power")
    for tool, by_size in found.items():
        for small, large in pairwise(sizes):
            if large in by_size:
                power = math.log(by_size[large]["seconds"] / by_size[small]["seconds"])
                power /= math.log(large / small)
                print(f"  {tool:<66}{power:6.2f} from {small} to {large}")
    return found


def plot(found: dict[str, dict[int, dict[str, Any]]]) -> None:
    """Draw seconds against gaugings."""
    import matplotlib.pyplot as plt

    figure, axes = plt.subplots(figsize=(8, 5), layout="constrained")
    for tool, by_size in found.items():
        sizes = sorted(by_size)
        style = "o-" if tool in OURS else "s--"
        axes.loglog(sizes, [by_size[size]["seconds"] for size in sizes], style, label=tool)
    sizes = sorted(found[DISCHARGE])
    floor = [found[DISCHARGE][size]["floor"] for size in sizes]
    axes.loglog(sizes, floor, "k:", label="floor: NumPy sums the three columns")
    axes.set(xlabel="gaugings of 27 verticals", ylabel="seconds")
    axes.legend(fontsize="small")
    axes.grid(alpha=0.3)
    PLOT.parent.mkdir(exist_ok=True)
    figure.savefig(PLOT, dpi=100)
    print(f"\n{PLOT}")


def main() -> None:
    """Measure in memory, then from file to file."""
    if sys.argv[1:2] == ["--one"]:
        print(json.dumps(one(sys.argv[2], int(sys.argv[3]))))
        return
    sizes = [int(size) for size in sys.argv[1:]] or list(SIZES)
    plot(report(sizes))
    from bulk_files import files, starting

    with tempfile.TemporaryDirectory() as folder:
        files(sizes[1:] or sizes, Path(folder))
    starting()


if __name__ == "__main__":
    main()
