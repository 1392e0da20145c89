"""How much a section costs: the kernel interpreted, and compiled by Numba, against a floor.

The same source computes every section twice, over lists and as compiled code over arrays. The
floor is one pass of NumPy over the same three columns, about what reading them costs. Times
differ from machine to machine, so what is printed to remember are ratios within one run.
"""

import inspect
import sys
from collections.abc import Callable
from statistics import median
from time import perf_counter

import numpy as np
from numba import njit
from numba.extending import register_jitable
from numpy.typing import NDArray

from bankside.kernel import discharge, section

Columns = tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]

VERTICALS = 27
SECTIONS = 200_000  # 130 MB of readings: more than a processor keeps close by
INTERPRETED_SECTIONS = 2_000
ROUNDS = 7


def invented_sections() -> Columns:
    """Tape, depth and velocity of all sections end to end; rough beds, sloping banks."""
    random = np.random.default_rng(20)
    shape = (SECTIONS, VERTICALS)
    tape = np.cumsum(random.uniform(0.1, 0.4, shape), axis=1)
    across = np.linspace(0.0, 1.0, VERTICALS)
    bed = 4.0 * across * (1.0 - across)
    depth = bed * random.uniform(0.3, 0.6, shape)
    velocity = bed * random.uniform(0.2, 0.9, shape)
    return tape.ravel(), depth.ravel(), velocity.ravel()


def whole_sections(tape, depth, velocity, verticals, result):
    """Discharge, area, width and wetted perimeter of each section, four figures a section."""
    for k in range(len(tape) // verticals):
        start = k * verticals
        stop = start + verticals
        x, d, v = tape[start:stop], depth[start:stop], velocity[start:stop]
        result[4 * k] = discharge.mid_section_discharge(x, d, v)
        result[4 * k + 1] = section.section_area(x, d)
        result[4 * k + 2] = section.water_width(x, d)
        result[4 * k + 3] = section.wetted_perimeter(x, d)


def compiled(driver: Callable[..., None]) -> Callable[..., None]:
    """The driver and all of the kernel below it as compiled code; the kernel stays as it is."""
    for module in (section, discharge):
        for _, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__:
                register_jitable(function)
    return njit(driver)


def seconds(work: Callable[[], object]) -> float:
    """How long one call takes."""
    start = perf_counter()
    work()
    return perf_counter() - start


def main() -> int:
    """Measure, print, and fail if the two runs of the kernel differ in any bit."""
    tape, depth, velocity = columns = invented_sections()
    rows = INTERPRETED_SECTIONS * VERTICALS
    lists = [column[:rows].tolist() for column in columns]
    plain_result = [0.0] * (4 * INTERPRETED_SECTIONS)
    fast_result = np.zeros(4 * SECTIONS)
    fast = compiled(whole_sections)
    compile_time = seconds(lambda: fast(*columns, VERTICALS, fast_result))

    plain_times, fast_times, floor_times = [], [], []
    for _ in range(ROUNDS):
        plain = seconds(lambda: whole_sections(*lists, VERTICALS, plain_result))
        plain_times.append(plain / INTERPRETED_SECTIONS)
        fast_times.append(seconds(lambda: fast(*columns, VERTICALS, fast_result)) / SECTIONS)
        floor = seconds(lambda: tape.sum() + depth.sum() + velocity.sum())
        floor_times.append(floor / SECTIONS)

    print(f"One section of {VERTICALS} verticals; median of {ROUNDS} rounds (least to most)")
    report_time("floor: one pass over the columns", floor_times)
    report_time("kernel compiled", fast_times)
    report_time("kernel interpreted", plain_times)
    report_ratio("compiled / floor", fast_times, floor_times)
    report_ratio("interpreted / floor", plain_times, floor_times)
    report_ratio("interpreted / compiled", plain_times, fast_times)
    print(f"  first call, compiling included: {compile_time:.2f} s")
    if plain_result != fast_result[: len(plain_result)].tolist():
        print("The compiled kernel does not give the same figures as the interpreted one.")
        return 1
    print("  interpreted and compiled figures: equal to the last bit")
    return 0


def report_time(name: str, times: list[float]) -> None:
    """One line of microseconds a section."""
    micro = sorted(1e6 * time for time in times)
    print(f"  {name:<34} {median(micro):8.3f} µs ({micro[0]:.3f} to {micro[-1]:.3f})")


def report_ratio(name: str, times: list[float], base: list[float]) -> None:
    """One line of ratios, each between two times of the same round."""
    ratios = sorted(time / other for time, other in zip(times, base, strict=True))
    print(f"  {name:<34} {median(ratios):8.1f} x  ({ratios[0]:.1f} to {ratios[-1]:.1f})")


if __name__ == "__main__":
    sys.exit(main())
