"""What the model between verticals assumes, as tables: taken from the code itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bankside.kernel import between as kernel
from bankside.kernel import between_assumed, between_prior
from bankside.kernel.between_prior import (
    SHAPE_LENGTHS,
    UNEVENNESS,
    UNEVENNESS_LENGTHS_M,
    prior_weight,
)

__all__ = ["assumed_blocks", "table"]

# Name, unit, meaning and reason of everything that is assumed about readings.
_ASSUMED = (
    (
        "DEPTH_READING_M",
        "m",
        "a depth as read and rounded, each for itself",
        "rounding to 1 cm (3 mm) and reading to 5 mm, a careful crew's",
    ),
    (
        "ROD_M",
        "m",
        "all depths together: a rod that sinks in, stands on stones or leans",
        "chosen by coverage of drawn crews",
    ),
    (
        "PILE_UP",
        "v²/2g",
        "all depths together: water that piles up on the rod",
        "what a careful crew reads too much",
    ),
    (
        "ZERO_MS",
        "m/s",
        "the meter's zero, all velocities together",
        "a careful crew's; drawn crews have 4 mm/s in the middle, of which the rating's table, 5 % "
        "at 0.1 m/s, has a part",
    ),
    (
        "PROFILE_COMMON",
        "of the velocity",
        "0.6 is not where this section has its mean, all velocities together",
        "chosen by coverage; simulated profiles are some 1 % off at 0.6 on the mean",
    ),
    (
        "SURFACE_COMMON",
        "of the velocity",
        "the same where the surface alone was read, for its coefficient of 0.85",
        "power laws with m of 4 to 10 (ISO 748, from memory) want 0.80 to 0.91; a USGS "
        "note has 0.84 to 0.90",
    ),
    (
        "PROFILE_SMOOTH",
        "of the velocity",
        "the profile of one vertical read at one point, on any bed",
        "with the next: 3.5 % on the smoothest beds, as simulated canals have",
    ),
    (
        "PROFILE_UNEVEN",
        "of the velocity",
        "the same, times the root of unevenness besides",
        "with the last: 12 % on the roughest, as simulated pocket water has",
    ),
    (
        "TWO_POINTS",
        "1",
        "how much of that is left with two points",
        "3.5 % for 7.5 % in ISO 748:2007, annex E (from memory)",
    ),
    (
        "AT_SURFACE",
        "1",
        "how many times that of a point at 0.6 it is where the surface alone was read",
        "2.2 to 2.5 on simulated streams of each of the ten types, whose profiles are assumed",
    ),
    (
        "FLOAT",
        "of the velocity",
        "a surface velocity without an exposure time, taken as a float's, each for itself",
        "a careful crew's",
    ),
    (
        "PROFILE_LENGTH",
        "mean depths",
        "verticals nearer to each other share what makes a profile differ",
        "the middle of 0.5 to 2 depths, as simulated",
    ),
    (
        "STANDS_IN",
        "of the velocity",
        "a velocity at a wall that was worked out, not read",
        "walls slow the water to 0.45 to 0.65, as simulated, for the table's 0.65",
    ),
)


def assumed_blocks() -> dict[str, str]:
    """Return the parts of the document that say what is assumed, by their names."""
    return {"prior": _prior(), "model": _model(), "assumed": _assumed()}


def table(head: Sequence[str], rows: Iterator[list[str]]) -> str:
    """Return a table in Markdown."""
    lines = [f"| {' | '.join(head)} |", f"|---|{'---|' * (len(head) - 1)}"]
    return "\n".join([*lines, *(f"| {' | '.join(row)} |" for row in rows)])


def _prior() -> str:
    """Return the table of prior weights, in percent of all."""
    across = len(UNEVENNESS_LENGTHS_M)
    count = len(SHAPE_LENGTHS) * len(UNEVENNESS) * across
    whole = sum(prior_weight(i) for i in range(count))

    def rows() -> Iterator[list[str]]:
        for i in range(0, count, across):
            shape, rough = divmod(i // across, len(UNEVENNESS))
            shares = (100.0 * prior_weight(i + j) / whole for j in range(across))
            yield [
                f"{SHAPE_LENGTHS[shape]:g}",
                f"{UNEVENNESS[rough]:g}",
                *(f"{share:.2g}" for share in shares),
            ]

    heads = [f"L {length:g} m" for length in UNEVENNESS_LENGTHS_M]
    return table(["shape's length / width", "unevenness", *heads], rows())


def _model() -> str:
    rows = (
        ("SHAPE_DEVIATION", between_prior.SHAPE_DEVIATION, "the shape's deviation a / mean q"),
        ("_SCALE_POWER", kernel._SCALE_POWER, "the power p of the local scale"),
        ("_SCALE_REACH", kernel._SCALE_REACH, "over which part of the width it is taken"),
    )
    return table(
        ["figure", "value", "meaning"], ([f"`{n}`", f"{v:g}", about] for n, v, about in rows)
    )


def _assumed() -> str:
    rows = (
        [f"`{name}`", f"{getattr(between_assumed, name):.3g}", unit, meaning, reason]
        for name, unit, meaning, reason in _ASSUMED
    )
    return table(["constant", "value", "unit", "stands for", "why so much"], rows)
