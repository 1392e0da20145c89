"""How often the water is stronger than advice takes it for where it sends somebody.

`python -m calibration.strong_water` lets careful crews read 12 verticals of simulated streams, asks
of the middle of every interval whether somebody may be sent there, reads it, and writes what was
found to calibration/strong_water_results.json.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

import attrs

from bankside.gauging.checks.wadeable import wadeable
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.units import metres_per_second_per
from bankside.kernel.limits import above, below
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.section_types import SECTION_TYPES
from calibration.advice import FIRST, SEEDS
from calibration.advice_document import STRONG_WATER_RESULTS
from calibration.advised_visit import Visit

__all__ = ["Tried", "counts", "main", "tried_in"]

_RULES: Final = load_rule_set(BASE)


@attrs.frozen
class Tried:
    """The middle of an interval: what was read there, over what was taken as the most, and sent.

    `deeper` and `stronger` say whether depth, and depth times velocity, were more than that,
    `at_limit` whether they were at the limits, `sent` whether somebody would be sent there.
    """

    deeper: bool
    stronger: bool
    at_limit: bool
    sent: bool


def tried_in(kind: str, seed: int) -> Iterator[Tried]:
    """Yield the middles of the intervals of one stream that have room for a vertical."""
    visit = Visit(make_stream(kind, seed), CAREFUL, seed, FIRST, _RULES)
    examined = visit.examined()
    (channel,), (wades,) = examined.channels, wadeable(examined)
    for low, high in pairwise(channel.across):
        if not (low.depth_m or high.depth_m):
            continue
        if below(high.tape_m - low.tape_m, 2.0 * _RULES.si("spacing_least")):
            continue
        called = visit.wading.vertical((low.tape_m + high.tape_m) / 2.0)
        if not low.tape_m < called.tape_m < high.tape_m:
            continue
        fastest = max((abs(point.value) for point in called.points), default=0.0)
        product = called.depth_m * fastest * metres_per_second_per(CAREFUL.velocity_unit)
        yield Tried(
            deeper=called.depth_m > wades.depth.likely_most(called.tape_m),
            stronger=product > wades.product.likely_most(called.tape_m),
            at_limit=above(called.depth_m, wades.most_depth)
            or not below(product, wades.most_product),
            sent=wades.anew(called.tape_m),
        )


def counts(tried: Sequence[Tried]) -> dict[str, int]:
    """Return how many there were of each kind."""
    return {
        "places": len(tried),
        "deeper": sum(one.deeper for one in tried),
        "stronger": sum(one.stronger for one in tried),
        "at a limit": sum(one.at_limit for one in tried),
        "sent to a limit": sum(one.at_limit and one.sent for one in tried),
        "held back below": sum(not one.at_limit and not one.sent for one in tried),
    }


def main(arguments: Sequence[str]) -> None:
    """Write what came of so many streams of each type (200)."""
    streams = int(arguments[0]) if arguments else 200
    found: dict[str, object] = {"streams": streams}
    for kind in SECTION_TYPES:
        tried = [one for k in range(streams) for one in tried_in(kind, SEEDS + k)]
        found[kind] = counts(tried)
        print(kind, found[kind], flush=True)
    STRONG_WATER_RESULTS.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
