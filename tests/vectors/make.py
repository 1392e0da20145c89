"""Make the vectors of the kernel and of gaugings: `python -m tests.vectors.make` in the root.

`kernel.json` has calls of every public function of the kernel: on sections made up at random from a
fixed start, on the published examples, and with arguments that are refused. `gaugings.json` has
gaugings in their wire form. The results are those of the CPython that runs this, so make them anew
only when a figure is meant to change, and see in the differences that no other one did.
"""

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from bankside.gauging.records import Gauging
from bankside.gauging.wire import to_json

from ..kernel.calls import (
    ALONG_THE_TAPE,
    ALONG_THE_TAPE_ULPS,
    REFUSED,
    TOTALS,
    WITHIN_ONE_ULP,
    Call,
    calls,
)
from ..kernel.compiled import public_functions
from ..kernel.sections import Section, random_section
from ..note.odd_gaugings import ODD, demo
from ..published.examples import (
    EXAMPLES,
    feet_meter_table,
    floats,
    meter_tutorial,
    raghunath_6_1,
    subramanya_4_1,
    two_point_section,
)
from . import runner

HERE = Path(__file__).parent

ABOUT = (
    "These vectors hold one runtime to another. What they expect is what this code gave once, so "
    "they prove no formula and no figure; tests/published and tests/kernel do that."
)
KERNEL_ABOUT = (
    f"{ABOUT} Arguments are JSON numbers, results the hexadecimal text of a float. A function "
    "agrees to the last bit unless ulps has a budget for it, in units in the last place: those use "
    "cos or pow, which a library of the platform works out."
)
GAUGINGS_ABOUT = (
    f"{ABOUT} Figures agree to the last bit unless ulps, of the gauging or of the figure, has a "
    "budget in units in the last place: an angle in degrees takes a cosine, and the components of "
    "uncertainty take a power, which a library of the platform works out; the model between "
    "verticals carries exponentials along the tape."
)
# One unit for the library of either platform; a product after it may count it double.
LIBRARY_ULPS = 2
# A sum of panels, one of which has such a cosine, and square roots of sums with such a power.
SUM_ULPS = 8

START = 20260714
SECTIONS = 7
LONGEST = 12


def main() -> None:
    """Write both files."""
    _write("kernel.json", kernel_vectors())
    _write("gaugings.json", gauging_vectors())


def kernel_vectors() -> dict[str, Any]:
    """Return the vectors of the kernel."""
    functions = public_functions()
    names = {
        name: f"{function.__module__.rpartition('.')[2]}.{name}"
        for name, function in functions.items()
    }
    made = []
    for name, arguments in (*_made_up(), *_published(), *REFUSED):
        made.append(
            {
                "function": names[name],
                "arguments": [list(a) if isinstance(a, tuple) else a for a in arguments],
                **_outcome(functions[name], arguments),
            }
        )
    return {
        "format": runner.KERNEL_FORMAT,
        "about": KERNEL_ABOUT,
        "ulps": {
            **{names[name]: LIBRARY_ULPS for name in sorted(WITHIN_ONE_ULP)},
            **{names[name]: ALONG_THE_TAPE_ULPS for name in sorted(ALONG_THE_TAPE)},
        },
        "calls": made,
    }


def _outcome(function: Any, arguments: tuple[Any, ...]) -> dict[str, Any]:
    try:
        return {"result": runner.written(function(*arguments))}
    except (ValueError, IndexError) as error:
        return {"raises": type(error).__name__, "message": str(error)}


def _made_up() -> Iterator[Call]:
    rng = random.Random(START)
    short = 0
    while short < SECTIONS:
        section = random_section(rng)
        if len(section.tape) <= LONGEST:
            short += 1
            yield from calls(rng, section)


def _published() -> Iterator[Call]:
    for section in (
        two_point_section("two_point_tutorial"),
        two_point_section("two_point_lecture"),
        meter_tutorial(120.0),
        subramanya_4_1(),
        raghunath_6_1(),
        feet_meter_table(),
    ):
        yield from _of_section(section)
    yield from _of_meters()
    yield from _of_verticals()
    yield from _of_iso_748()


def _of_section(section: Section) -> Iterator[Call]:
    tape, depth, velocity = (list(values) for values in section)
    for name in TOTALS:
        yield name, (tape, depth, velocity)
    for name in ("section_area", "water_width", "wetted_perimeter"):
        yield name, (tape, depth)
    for i in range(len(tape)):
        yield "panel_width", (tape, i)
        yield "panel_width_triangular", (tape, depth, i)
        yield "panel_width_full_end", (tape, i)


def _of_meters() -> Iterator[Call]:
    for name in ("meter_tutorial", "subramanya_4_1"):
        read = EXAMPLES[name]["read"]
        for counts, seconds in zip(floats(read["counts"]), floats(read["seconds"]), strict=True):
            yield "revolutions_per_second", (counts, seconds)
            if seconds > 0:
                rate = counts / seconds
                yield "velocity_from_rating", (rate, read["slope"], read["intercept"])
    ratings = EXAMPLES["meter_ratings"]["from_memory"]
    low, high = ratings["large_no1_low"], ratings["large_no1_high"]
    for rate in (0.5, 1.0, 1.5):
        parts = (*low, *high, ratings["large_no1_change_at"])
        yield "velocity_from_two_part_rating", (rate, *parts)


def _of_verticals() -> Iterator[Call]:
    read = EXAMPLES["two_point_lecture"]["read"]
    for pair in zip(floats(read["v02"]), floats(read["v08"]), strict=True):
        yield "velocity_two_point", pair
    curve = EXAMPLES["standard_vertical_curve"]["from_memory"]
    yield "velocity_by_integration", (floats(curve["fraction"]), floats(curve["ratio"]))
    for degrees in EXAMPLES["angle_coefficients"]["from_memory"]["degrees"]:
        yield "normal_velocity", (1.0, float(degrees))
    for ratio in (*EXAMPLES["wall_table"]["from_memory"]["distance_over_depth"], 0.125, 0.75):
        yield "wall_ratio", (float(ratio),)
    for flume in EXAMPLES["flumes"]["read"]:
        yield "hydraulic_radius", (flume["width"] * flume["depth"], float(flume["width"]))


def _of_iso_748() -> Iterator[Call]:
    names = "verticals points width depth profile meter exposure number systematic".split()
    for example in ("iso_748_example", "iso_748_older_example"):
        inputs = EXAMPLES[example]["from_memory"]
        yield (
            "velocity_area_uncertainty_equal_panels",
            tuple(float(inputs[name]) for name in names),
        )
    for verticals in EXAMPLES["iso_748_tables"]["from_memory"]["verticals"]["rows"]:
        yield "verticals_uncertainty", (float(verticals),)
        yield "verticals_component", (float(verticals),)
    exposure = EXAMPLES["iso_748_tables"]["from_memory"]["exposure"]
    for seconds in floats(exposure["seconds"]):
        for velocity in (0.05, 0.25, 1.0, 1.5):
            for fraction in (0.2, 0.7, 0.8):
                yield "exposure_uncertainty", (velocity, seconds, fraction)
    uneven = floats(EXAMPLES["interpolated_variance"]["derived"]["uneven"]["tape"])
    yield "interpolation_weight", (uneven, 1)
    around = [uneven[0] - 1.0, *uneven, uneven[-1] + 1.0]
    yield "interpolated_variance", (around, [0.0, 0.0, 1.0, 0.0, 0.0])


def gauging_vectors() -> dict[str, Any]:
    """Return the vectors of gaugings: those of the demonstration, and each oddity of a record."""
    chosen = {**demo(), **{name: one for name, one in ODD.items() if name != "sixty"}}
    return {
        "format": runner.GAUGINGS_FORMAT,
        "about": GAUGINGS_ABOUT,
        "ulps": {
            "uncertainty: between": ALONG_THE_TAPE_ULPS,
            "uncertainty: components": SUM_ULPS,
        },
        "gaugings": [
            {
                "name": name,
                "ulps": SUM_ULPS if _has_an_angle(gauging) else 0,
                "gauging": json.loads(to_json(gauging)),
                "figures": runner.figures(gauging),
            }
            for name, gauging in chosen.items()
        ],
    }


def _has_an_angle(gauging: Gauging) -> bool:
    return any(v.angle is not None for channel in gauging.channels for v in channel.verticals)


def _write(name: str, vectors: dict[str, Any]) -> None:
    text = json.dumps(vectors, ensure_ascii=False, allow_nan=False, indent=None)
    # A line for each call or gauging, so that a difference of versions can be read.
    text = text.replace('}, {"function"', '},\n{"function"').replace('}, {"name"', '},\n{"name"')
    (HERE / name).write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
