"""Whether simulated streams err as publications have it, and what it costs to make and wade one.

Prints the deviation of one and of two points from the mean of the vertical, that of exposures by
velocity, and how long a stream and a visit of 30 verticals take, in ms and as ratios to the
discharge that the kernel works out of that visit.
"""

from __future__ import annotations

import math
import statistics
from collections import defaultdict
from collections.abc import Callable, Iterator
from time import perf_counter

from bankside.kernel.discharge import mid_section_discharge
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.measuring import measure
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.stream import SimulatedStream

STREAMS, PLACES = 150, 19
VELOCITIES = (0.1, 0.2, 0.3, 0.5, 1.0)
EXPOSURES = (30.0, 60.0, 180.0)
# A place counts for a velocity that it has within this part of it.
NEAR = 0.15


def places(kind: str) -> Iterator[tuple[SimulatedStream, float]]:
    """Yield places with water in which a meter works, of many streams of a type."""
    for seed in range(STREAMS):
        stream = make_stream(kind, seed)
        for k in range(1, PLACES + 1):
            y = stream.left + stream.drawn["width"] * k / (PLACES + 1)
            if stream.depth_at(y) >= 0.1 and stream.velocity_at(y) >= 0.03:
                yield stream, y


def milliseconds(work: Callable[[int], object], times: int = 300) -> float:
    """Return how long one of many calls takes, the median."""
    spent = []
    for k in range(times):
        start = perf_counter()
        work(k)
        spent.append(perf_counter() - start)
    return statistics.median(spent) * 1e3


def main() -> None:
    """Print all figures."""
    errors: dict[str, tuple[list[float], list[float]]] = {}
    pulses: dict[tuple[float, float], list[float]] = defaultdict(list)
    for kind in SECTION_TYPES:
        one, two = errors.setdefault(kind, ([], []))
        for stream, y in places(kind):
            mean, v = stream.mean_speed_at(y), stream.velocity_at(y)
            one.append(stream.speed_at(y, 0.6) / mean - 1)
            two.append((stream.speed_at(y, 0.2) + stream.speed_at(y, 0.8)) / 2 / mean - 1)
            for near in VELOCITIES:
                if abs(v / near - 1) < NEAR:
                    for seconds in EXPOSURES:
                        pulses[seconds, near].append(stream.exposure_deviation(y, seconds) / v)
    errors["all types"] = tuple([e for pair in errors.values() for e in pair[k]] for k in (0, 1))
    for kind, (one, two) in errors.items():
        print(
            f"{kind:16} point at 0.6 {statistics.fmean(one):+.1%} ± {statistics.pstdev(one):.1%}"
            f"   points at 0.2 and 0.8 {statistics.fmean(two):+.1%} ± {statistics.pstdev(two):.1%}"
        )
    for seconds in EXPOSURES:
        shares = [
            math.sqrt(statistics.fmean(x * x for x in pulses[seconds, near])) for near in VELOCITIES
        ]
        row = ", ".join(f"{share:.1%}" for share in shares)
        print(f"exposure {seconds:3.0f} s at {', '.join(map(str, VELOCITIES))} m/s: {row}")
    stream = make_stream("cobble bed", 3)
    lists = measure(stream, CAREFUL, 1, 30)
    make = milliseconds(lambda seed: make_stream("cobble bed", seed))
    wade = milliseconds(lambda seed: measure(stream, CAREFUL, seed, 30))
    kernel = milliseconds(
        lambda _: mid_section_discharge(lists.tapes, lists.depths, lists.velocities)
    )
    print(f"a stream {make:.2f} ms, {make / kernel:.0f} times its discharge by the kernel")
    print(f"a visit of 30 verticals {wade:.2f} ms, {wade / kernel:.0f} times")


if __name__ == "__main__":
    main()
