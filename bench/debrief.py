"""How well a debrief names what went wrong, and how far off people are who do it well.

Prints, for each mistake that is planted, how often over all practice streams that can be waded its
source has the largest part of the error and what it costs; and for a script that does everything
well the mean and the standard deviation of the error. Run with the root of the project on the path:
`PYTHONPATH=.:src python bench/debrief.py`.
"""

from __future__ import annotations

import statistics

from tests.practice.test_debrief import PLANTED
from tests.practice.trainee import Trainee, practise

from bankside.practice.debrief.error_parts import ErrorParts, error_parts, take_apart
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import make_reach

SEEDS = 12
# Where nobody should go in no error is told.
STREAMS = [one.name for one in PRACTICE_STREAMS.values() if not one.swells]
# So little that one has to look for it.
SMALL = {
    "facing 20° off": ("meter handling", Trainee(hold={"facing": 20.0})),
    "tape 15° askew": ("tape", Trainee(skew=15.0, angles=False)),
    "depths 2 cm too deep": ("depth reading", Trainee(deeper=0.02)),
    "rod set 20 % too low": ("rod setting", Trainee(setting=0.8)),
    "8 verticals": ("spacing", Trainee(verticals=8)),
    "5 s exposure": ("exposure", Trainee(seconds=5)),
}


def main() -> None:
    """Print both tables."""
    for name in STREAMS:
        errors = [_parts(name, seed, Trainee()) for seed in range(SEEDS)]
        percents = [100.0 * one.error / one.discharge for one in errors]
        mean, spread = statistics.mean(percents), statistics.stdev(percents)
        print(f"well done, {name}: {mean:+.1f} ± {spread:.1f} %")
    for name, (source, trainee) in {**PLANTED, **SMALL}.items():
        found = [_parts(stream, seed, trainee) for stream in STREAMS for seed in range(SEEDS)]
        named = sum(one.largest == source for one in found)
        cost = statistics.median(abs(one.percent(source)) for one in found)
        print(f"{name}: {source} named in {named} of {len(found)}, costs {cost:.1f} % (median)")
    _worst_sections()


def _worst_sections() -> None:
    found = []
    for stream in STREAMS:
        for seed in range(SEEDS):
            sections = make_reach(stream, seed).sections
            worst = max(sections, key=lambda one: one.error).name
            found.append(_parts(stream, seed, Trainee(section=worst, verticals=14)))
    named = sum(one.largest == "section choice" for one in found)
    cost = statistics.median(abs(one.percent("section choice")) for one in found)
    print(f"worst section: named in {named} of {len(found)}, costs {cost:.1f} % (median)")


def _parts(stream: str, seed: int, trainee: Trainee) -> ErrorParts:
    _, followed, record = practise(stream, seed, trainee)
    return error_parts(followed, take_apart(followed, record))


if __name__ == "__main__":
    main()
