"""The published examples, and what it means to agree with a printed figure."""

import json
from collections.abc import Callable, Iterable
from decimal import Decimal
from pathlib import Path
from typing import Any, NamedTuple

from bankside.kernel.meter import revolutions_per_second, velocity_from_rating
from bankside.kernel.vertical import velocity_one_point, velocity_two_point

EXAMPLES: dict[str, Any] = json.loads(
    Path(__file__).with_name("worked_examples.json").read_text(encoding="utf-8")
)


class Section(NamedTuple):
    tape: list[float]
    depth: list[float]
    velocity: list[float]


def agrees(value: float | Decimal, printed: str) -> bool:
    """Whether a value is the printed figure to half a unit of its last printed digit."""
    figure = Decimal(printed)
    exponent = figure.as_tuple().exponent
    assert isinstance(exponent, int)
    return abs(Decimal(value) - figure) <= Decimal(5).scaleb(exponent - 1)


def all_agree(values: list[float], printed: list[str]) -> bool:
    """Whether every value of a column is the figure printed for it."""
    return all(agrees(*pair) for pair in zip(values, printed, strict=True))


def panels(section: Section, width: Callable[[int], float]) -> list[float]:
    """The discharge of every vertical, by a rule for the width of its panel."""
    return [width(i) * section.depth[i] * section.velocity[i] for i in range(len(section.tape))]


def floats(values: Iterable[float | str]) -> list[float]:
    """The figures of a table as floats, whole numbers and text too."""
    return [float(value) for value in values]


def metered(table: dict[str, Any], counts: float, seconds: float) -> float:
    """Velocity from a count by the rating of the table; no time, as at a bank, is no velocity."""
    if seconds == 0:
        return 0.0
    rps = revolutions_per_second(float(counts), float(seconds))
    return velocity_from_rating(rps, table["slope"], table["intercept"])


def of_points(points: list[float]) -> float:
    """Mean velocity of a vertical with one or two points; none, as at a bank, is no velocity."""
    if not points:
        return 0.0
    return velocity_one_point(*points) if len(points) == 1 else velocity_two_point(*points)


def two_point_section(name: str) -> Section:
    """A section with velocities at 0.2 and 0.8."""
    read = EXAMPLES[name]["read"]
    velocity = [velocity_two_point(*pair) for pair in zip(read["v02"], read["v08"], strict=True)]
    return Section(floats(read["tape"]), floats(read["depth"]), velocity)


def meter_tutorial(seconds_at_tape_23: float) -> Section:
    """The tutorial's second question, with a time of our choice at the vertical in doubt."""
    read = EXAMPLES["meter_tutorial"]["read"]
    seconds = list(read["seconds"])
    seconds[read["tape"].index(23)] = seconds_at_tape_23
    velocity = [metered(read, *pair) for pair in zip(read["counts"], seconds, strict=True)]
    return Section(floats(read["tape"]), floats(read["depth"]), velocity)


def subramanya_4_1() -> Section:
    """Subramanya's Example 4.1; its last bank, at tape 12, is from memory."""
    example = EXAMPLES["subramanya_4_1"]
    read, bank = example["read"], example["from_memory"]["last_bank"]
    pairs = zip(read["counts"], read["seconds"], strict=True)
    velocity = [metered(read, *pair) for pair in pairs]
    return Section(
        floats([*read["tape"], bank["tape"]]),
        floats([*read["depth"], bank["depth"]]),
        [*velocity, 0.0],
    )


def raghunath_6_1() -> Section:
    """Raghunath's Example 6.1, which writes down no banks."""
    return _metered_points(EXAMPLES["raghunath_6_1"]["read"])


def feet_meter_table() -> Section:
    """The exercise in feet, all of it from memory."""
    return _metered_points(EXAMPLES["feet_meter_table"]["from_memory"])


def _metered_points(table: dict[str, Any]) -> Section:
    velocity = [
        of_points([metered(table, *pair) for pair in pairs])
        for pairs in table["counts_and_seconds"]
    ]
    return Section(floats(table["tape"]), floats(table["depth"]), velocity)
