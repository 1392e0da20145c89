"""What a plan by a few depths is worth: the number that it names, read at equal distances.

`python -m calibration.planned_by_depths` lets careful crews sound 8 depths at equal distances of
simulated streams, asks how many verticals are likely to do for ± 8 %, lets the crew read so many,
and writes what was found to calibration/planned_by_depths_results.json.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from typing import Any, Final

from bankside.gauging.advice_depths import section_of_depths
from bankside.gauging.advice_design import HowRead
from bankside.gauging.advice_plan import fewest_verticals
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.wading import Wading
from calibration.advice import SEEDS, TARGETS, middle, share
from calibration.advice_document import DEPTHS_RESULTS
from calibration.advised_visit import Step, fixed

__all__ = ["main", "planned_by_depths", "sounded", "summary"]

SOUNDINGS: Final = 8
"""So many depths a section."""

_RULES: Final = load_rule_set(BASE)
_HOW: Final = HowRead.by(_RULES)


def planned_by_depths(kind: str, seed: int) -> Step | None:
    """Return how a visit ends that reads as many verticals as depths make likely to do.

    None where no number is.
    """
    stream = make_stream(kind, seed)
    soundings = sounded(Wading(stream, CAREFUL, seed))
    section = section_of_depths(soundings, _HOW)
    count = fewest_verticals(section, TARGETS["whole"], _HOW)
    return None if count is None else fixed(stream, CAREFUL, seed, count, _RULES)


def sounded(wading: Wading) -> list[tuple[float, float]]:
    """Return tape positions and depths in m: both edges, and soundings at equal distances."""
    left, right = wading.edges()
    found = {edge.tape_m: max(edge.depth_m, 0.0) for edge in (left, right)}
    for k in range(1, SOUNDINGS + 1):
        part = k / (SOUNDINGS + 1)
        called = wading.sound(left.tape_m + (right.tape_m - left.tape_m) * part)
        if left.tape_m < called.tape_m < right.tape_m:
            found[called.tape_m] = max(called.depth_m, 0.0)
    return sorted(found.items())


def summary(visits: Sequence[Step | None]) -> dict[str, Any]:
    """Return what is told of many visits of one type."""
    target = TARGETS["whole"]
    planned = [one for one in visits if one is not None]
    return {
        "plans": share(planned, visits),
        "planned": middle(one.verticals for one in planned),
        "plan reached": share([one for one in planned if one.stated <= target], planned),
        "plan held": share([one for one in planned if 100.0 * abs(one.error) <= target], planned),
    }


def main(arguments: Sequence[str]) -> None:
    """Write what came of so many streams of each type (200)."""
    streams = int(arguments[0]) if arguments else 200
    found: dict[str, Any] = {}
    for kind in SECTION_TYPES:
        found[kind] = summary([planned_by_depths(kind, SEEDS + k) for k in range(streams)])
        print(kind, found[kind], flush=True)
    DEPTHS_RESULTS.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
