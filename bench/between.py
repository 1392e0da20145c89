"""What the model between verticals costs: beside the plain discharge, interpreted and compiled.

Simulated gaugings of all section types with 30 verticals. Prints the time of a discharge by the
kernel, of the model (54 characters weighed, and their variances) and of its interval, each as a
ratio to the discharge in the same run; then what Numba makes of the weighing.
"""

from __future__ import annotations

import inspect
import math
import sys
from collections.abc import Callable
from statistics import median
from time import perf_counter

import numpy as np
from numba import njit
from numba.extending import register_jitable

from bankside.gauging.between import CHARACTERS, Line, between_over
from bankside.kernel import between as kernel_between
from bankside.kernel import discharge, section
from bankside.kernel.between import mixture_half_width
from bankside.kernel.discharge import mid_section_discharge
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.measuring import measure
from bankside.practice.section_types import SECTION_TYPES

VERTICALS, STREAMS, ROUNDS = 30, 5, 3


def measured() -> list[tuple[list[float], list[float], list[float]]]:
    """Tapes, depths and velocities of the simulated gaugings."""
    found = []
    for kind in SECTION_TYPES:
        for seed in range(STREAMS):
            one = measure(make_stream(kind, seed), CAREFUL, seed=seed, positions=VERTICALS)
            found.append((list(one.tapes), list(one.depths), list(one.velocities)))
    return found


def line(tapes: list[float], depths: list[float], velocities: list[float]) -> Line:
    """The line of a gauging, each reading uncertain by 5 %."""
    carried = [d * v for d, v in zip(depths, velocities, strict=True)]
    return Line(tuple(tapes), tuple(carried), tuple((0.05 * q) ** 2 for q in carried))


def seconds(work: Callable[[], object]) -> float:
    """How long one call takes, the middle of some."""
    times = []
    for _ in range(ROUNDS):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return median(times)


def compiled(function: Callable[..., float]) -> Callable[..., float]:
    """The compiled twin of a function of the kernel."""
    for module in (section, discharge, kernel_between):
        for _, each in inspect.getmembers(module, inspect.isfunction):
            if each.__module__ == module.__name__:
                register_jitable(each)
    twin: Callable[..., float] = njit(function)
    return twin


def main() -> int:
    """Measure and print."""
    sections = measured()
    lines = [line(*one) for one in sections]
    plain = seconds(lambda: [mid_section_discharge(*one) for one in sections]) / len(sections)
    models = [between_over([one]) for one in lines]

    def whole() -> None:
        for one in sections:
            _ = between_over([line(*one)]).variances

    def intervals() -> None:
        for one in models:
            mixture_half_width(one.weights, [math.sqrt(v) for v in one.variances], 0.95)

    of_model, of_interval = (seconds(work) / len(sections) for work in (whole, intervals))
    print(
        f"{len(sections)} simulated gaugings, {VERTICALS} verticals, {len(CHARACTERS)} characters"
    )
    print(f"discharge by mid-section       {1e6 * plain:10.1f} µs a gauging")
    print(
        f"model, interpreted             {1e6 * of_model:10.1f} µs, {of_model / plain:7.0f} times"
    )
    print(
        f"interval of 95 %, interpreted  {1e6 * of_interval:10.1f} µs, "
        f"{of_interval / plain:7.0f} times"
    )
    evidence, fast_discharge = (
        compiled(kernel_between.between_evidence),
        compiled(mid_section_discharge),
    )
    arrays = [
        tuple(
            np.array(values)
            for values in (*one, each.unit_discharge, each.reading_variance, each.scale)
        )
        for one, each in zip(sections, lines, strict=True)
    ]

    def discharges() -> None:
        for x, d, v, *_ in arrays:
            fast_discharge(x, d, v)

    def evidences() -> None:
        for x, _, _, q, read, scale in arrays:
            for one in CHARACTERS:
                evidence(x, q, read + 1e-12, scale, 0.3, one.shape_length, one.unevenness, 0.3)

    discharges()
    evidences()
    fast, slow = (seconds(work) / len(sections) for work in (discharges, evidences))
    print(f"discharge, compiled            {1e6 * fast:10.1f} µs a gauging, the call included")
    print(f"54 evidences, compiled         {1e6 * slow:10.1f} µs, {slow / fast:7.0f} times")
    return 0


if __name__ == "__main__":
    sys.exit(main())
