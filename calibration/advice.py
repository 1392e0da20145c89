"""What advice is worth: simulated visits that follow it, beside verticals at equal distances.

`python -m calibration.advice` prints tables and writes calibration/advice_results.json, from which
`python -m calibration.advice_document` puts those of docs/advice.md. Each gauging has its own
stream, with a seed beyond all that the model was fitted on.
"""

from __future__ import annotations

import json
import math
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from multiprocessing import get_context
from statistics import median
from typing import Any, Final

import attrs

from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.practice.crew import CAREFUL, PERFECT
from bankside.practice.making import make_stream
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.stream import SimulatedStream
from calibration.advice_document import ADVICE_RESULTS
from calibration.advised_visit import Step, Visit, fixed, planned

__all__ = ["SEEDS", "TARGETS", "main", "middle", "share"]

SEEDS: Final = 20_000_000
"""The first seed: beyond those that anything is fitted on or judged by elsewhere."""

FIRST: Final = 12
"""How many verticals the first pass of an advised visit has."""

MORE: Final = 25
"""So many more verticals at most: what then is not reached counts as out of reach."""

TARGETS: Final = {"whole": 8.0, "verticals": 5.0}
"""Half an interval of 95 %, percent: of the whole budget, and of what verticals leave open."""

COUNTS: Final = (12, 14, 16, 18, 20, 22, 25)
"""At so many verticals advised and equal spacing are compared."""

LOW_WATER: Final = ", low water"
"""Behind the name of a section type whose streams are taken so low that all of each is waded."""

_CONCENTRATED: Final = "bar and thalweg"
# Of the limits from which the leader decides, so much at most is read at low water (ours).
_WADED: Final = 0.6

_RULES = load_rule_set(BASE)


@attrs.frozen
class Reaching:
    """How one advised visit went on to a target, and the visits that are held against it.

    `end` is its last state, `reached` whether the target was met there, `told` at how many
    verticals it was first told that it would not be, None if never. `equal` is the visit with 25
    verticals at equal distances, `plan` the one with as many as an earlier gauging made likely to
    do, None where none were.
    """

    target: str
    end: Step
    reached: bool
    told: int | None
    acts: dict[str, int]
    equal: Step
    plan: Step | None


def reaching(kind: str, target: str, number: int) -> Reaching:
    """Return how the visit with this number went."""
    seed = SEEDS + number
    stream, crew = make_stream(kind, seed), CAREFUL
    common, wanted = target == "whole", TARGETS[target]
    steps = Visit(stream, crew, seed, FIRST, _RULES).follow(
        wanted, most=FIRST + MORE, common=common
    )
    done = [step.act for step in steps[1:]]
    return Reaching(
        target=target,
        end=steps[-1],
        reached=_stated(steps[-1], common) <= wanted,
        told=next((step.verticals for step in steps if step.elsewhere), None),
        acts={act: done.count(act) for act in sorted(set(done))},
        equal=fixed(stream, crew, seed, 25, _RULES),
        plan=planned(stream, crew, seed, wanted, _RULES) if common else None,
    )


def _stated(step: Step, common: bool) -> float:
    return step.stated if common else step.by_verticals


def sparing(kind: str, number: int) -> dict[int, tuple[float, float]]:
    """Return the errors of advised and of equal verticals by their number, without other errors."""
    seed = SEEDS + number
    low = kind.endswith(LOW_WATER)
    stream = make_stream(kind.removesuffix(LOW_WATER), seed)
    stream = at_low_water(stream) if low else stream
    steps = Visit(stream, PERFECT, seed, FIRST, _RULES).follow(
        None, most=max(COUNTS), kinds=("vertical",)
    )
    advised = {step.verticals: step.error for step in steps}
    equal = (fixed(stream, PERFECT, seed, count, _RULES) for count in COUNTS)
    return {
        step.verticals: (advised[step.verticals], step.error)
        for step in equal
        if step.verticals in advised
    }


def at_low_water(stream: SimulatedStream) -> SimulatedStream:
    """Return a stream with depths and velocities lowered until all of it can be waded.

    Each by one factor, so the form of the section stays as it is.
    """
    deepest = _WADED * _RULES.si("wade_depth_caution") / max(stream.depths)
    depths = [depth * min(1.0, deepest) for depth in stream.depths]
    strongest = max(d * abs(v) for d, v in zip(depths, stream.velocities, strict=True))
    slower = min(1.0, _WADED * _RULES.si("wade_product_caution") / strongest)
    return attrs.evolve(
        stream, depths=depths, velocities=[velocity * slower for velocity in stream.velocities]
    )


def main(arguments: Sequence[str]) -> None:
    """Run so many gaugings a section type and target (200), print tables and write the results."""
    count = int(arguments[0]) if arguments else 200
    kinds = list(SECTION_TYPES)
    results: dict[str, Any] = {"gaugings": count, "first": FIRST, "targets": TARGETS}
    for target in TARGETS:
        results[target] = {}
        print(f"\n± {TARGETS[target]:g} % of {'the whole budget' if target == 'whole' else target}")
        print(_HEAD)
        for kind in kinds:
            found = list(_in_parallel(_reach, ((kind, target, i) for i in range(count))))
            results[target][kind] = row = summary(found)
            print(_line(kind, row), flush=True)
    results["sparing"] = {}
    print(f"\nError in %, advised / equal verticals, perfect crew, at {COUNTS}")
    for kind in (*kinds, _CONCENTRATED + LOW_WATER):
        pairs = list(_in_parallel(_spare, ((kind, i) for i in range(count))))
        spared = errors(pairs)
        results["sparing"][kind] = spared
        print(f"| {kind} | " + " | ".join(f"{a:.2f} / {e:.2f}" for a, e in spared.values()) + " |")
    ADVICE_RESULTS.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")


def summary(found: Sequence[Reaching]) -> dict[str, Any]:
    """Return what is told of many visits of one type."""
    target = TARGETS[found[0].target]
    common = found[0].target == "whole"
    reached = [one for one in found if one.reached]
    missed = [one for one in found if not one.reached]
    equal_reached = [one for one in found if _stated(one.equal, common) <= target]
    plans = [one.plan for one in found if one.plan is not None]
    return {
        "reached": share(reached, found),
        "verticals": middle(one.end.verticals for one in reached),
        "minutes": middle(one.end.seconds / 60.0 for one in reached),
        "minutes of 25": middle(one.equal.seconds / 60.0 for one in reached),
        "saved": middle(100.0 * (1.0 - one.end.seconds / one.equal.seconds) for one in reached),
        "25 reach": share(equal_reached, found),
        "held": share([one for one in reached if 100.0 * abs(one.end.error) <= target], reached),
        "held by 25": share(
            [one for one in found if 100.0 * abs(one.equal.error) <= _stated(one.equal, True)],
            found,
        ),
        "error": _rms(one.end.error for one in reached),
        "told when missed": share([one for one in missed if one.told is not None], missed),
        "told at": middle(one.told for one in missed if one.told is not None),
        "told at first": share([one for one in missed if one.told in _FIRST_PASS], missed),
        "told though reached": share([one for one in reached if one.told is not None], reached),
        "acts": {
            act: sum(one.acts.get(act, 0) for one in found)
            for act in sorted({act for one in found for act in one.acts})
        },
        "planned": middle(one.verticals for one in plans),
        "plans": share(plans, found),
        "plan reached": share([one for one in plans if _stated(one, common) <= target], plans),
        "plan held": share([one for one in plans if 100.0 * abs(one.error) <= target], plans),
    }


_FIRST_PASS = range(FIRST + 1)


def errors(pairs: Sequence[dict[int, tuple[float, float]]]) -> dict[int, tuple[float, float]]:
    """Return the root mean squares of both errors in percent, by the number of verticals.

    A number that no visit came to is left out.
    """
    found = {}
    for count in COUNTS:
        advised, equal = (_rms(p[count][k] for p in pairs if count in p) for k in (0, 1))
        if advised is not None and equal is not None:
            found[count] = advised, equal
    return found


_COLUMNS = (
    "reached",
    "verticals",
    "minutes",
    "minutes of 25",
    "saved",
    "25 reach",
    "held",
    "held by 25",
    "told when missed",
    "told at",
    "told at first",
    "told though reached",
    "plans",
    "planned",
    "plan reached",
    "plan held",
)
_HEAD = "| type | " + " | ".join(_COLUMNS) + " |\n|" + "---|" * (len(_COLUMNS) + 1)


def _line(kind: str, row: dict[str, Any]) -> str:
    figures = ("" if row[name] is None else f"{row[name]:.0f}" for name in _COLUMNS)
    return f"| {kind} | " + " | ".join(figures) + " |"


def share(some: Sequence[object], all_: Sequence[object]) -> float | None:
    """Return how many of all they are, in percent; None of none."""
    return round(100.0 * len(some) / len(all_), 1) if all_ else None


def middle(values: Iterable[float | None]) -> float | None:
    """Return the median of those that there are."""
    found = [value for value in values if value is not None]
    return round(median(found), 2) if found else None


def _rms(values: Iterable[float]) -> float | None:
    squares = [value * value for value in values]
    return round(100.0 * math.sqrt(math.fsum(squares) / len(squares)), 3) if squares else None


def _reach(one: tuple[str, str, int]) -> Reaching:
    return reaching(*one)


def _spare(one: tuple[str, int]) -> dict[int, tuple[float, float]]:
    return sparing(*one)


def _in_parallel(work: Callable[[Any], Any], given: Iterable[Any]) -> Iterator[Any]:
    with get_context("spawn").Pool(os.cpu_count()) as pool:
        yield from pool.imap(work, given, chunksize=4)


if __name__ == "__main__":
    main(sys.argv[1:])
