"""The generated parts of `docs/uncertainty.md`, from what was stored and from the code."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from bankside.gauging import bridge, uncertainty_bridge
from bankside.gauging.bridge_prior import (
    ROUGHNESS,
    ROUGHNESS_LENGTHS_M,
    SHAPE_LENGTHS,
    prior_weight,
)
from bankside.kernel import bridge as kernel
from calibration.gaugings import CREWS
from calibration.judged import METHODS
from calibration.thinned import WITH_READINGS

__all__ = ["blocks"]

Results = Mapping[str, Any]

NAMES = {
    "bridge": "bridge",
    "interpolated-variance": "interpolated variance",
    "iso-748": "ISO 748",
    "components": "components",
    WITH_READINGS: "bridge, with readings and profiles",
}
# Where the coverage of a section type or a number of verticals is called good (the target).
_LOW, _HIGH = 90.0, 98.0

# Name, unit and reason of everything that is assumed about readings.
_ASSUMED = (
    ("_DEPTH_READING_M", "m", "a depth as read and rounded to 1 cm, each for itself"),
    ("_ROD_M", "m", "all depths together: a rod that sinks in, stands on stones or leans"),
    ("_PILE_UP", "v²/2g", "all depths together: water that piles up on the rod"),
    ("_CALIBRATION", "of the velocity", "the meter's calibration, all velocities together"),
    ("_ZERO_MS", "m/s", "the meter's zero, all velocities together"),
    (
        "_PROFILE_COMMON",
        "of the velocity",
        "the profile of the whole section is not the one for which a point at 0.6 is the mean",
    ),
    ("_PROFILE_SMOOTH", "of the velocity", "the profile of one vertical, on a smooth bed"),
    ("_PROFILE_ROUGH", "of the velocity", "the same, more with the root of roughness"),
    ("_TWO_POINTS", "1", "how much of it is left with two points: ISO 748 has 3.5 % for 7.5 %"),
    ("_PROFILE_LENGTH", "mean depths", "verticals nearer to each other share what makes it differ"),
    ("_STANDS_IN", "of the velocity", "a velocity at a wall that was worked out, not read"),
)


def blocks(results: Results) -> dict[str, str]:
    """Return the generated parts by their names."""
    return {
        "prior": _prior(),
        "model": _model(),
        "assumed": _assumed(),
        "all": _overall(results),
        **{
            f"{crew} by {part}": _by_part(results, crew, part)
            for crew in CREWS
            for part in ("type", "verticals")
        },
        "outside": "\n".join(_outside(results)),
        "target": _target(results),
        "without type": _without_type(results),
        "thinned": _thinned(results),
        "models": _tried(results["models"], ("perfect", "drawn")),
        "constants": _tried(results["constants"], ("careful", "drawn")),
    }


def _table(head: list[str], rows: Iterator[list[str]]) -> str:
    lines = [f"| {' | '.join(head)} |", f"|---|{'---|' * (len(head) - 1)}"]
    return "\n".join([*lines, *(f"| {' | '.join(row)} |" for row in rows)])


def _prior() -> str:
    """Return the table of prior weights, in percent of all."""
    across = len(ROUGHNESS_LENGTHS_M)
    count = len(SHAPE_LENGTHS) * len(ROUGHNESS) * across
    whole = sum(prior_weight(i) for i in range(count))

    def rows() -> Iterator[list[str]]:
        for i in range(0, count, across):
            shape, rough = divmod(i // across, len(ROUGHNESS))
            shares = (100.0 * prior_weight(i + j) / whole for j in range(across))
            yield [
                f"{SHAPE_LENGTHS[shape]:g}",
                f"{ROUGHNESS[rough]:g}",
                *(f"{share:.2g}" for share in shares),
            ]

    heads = [f"L {length:g} m" for length in ROUGHNESS_LENGTHS_M]
    return _table(["shape's length / width", "roughness", *heads], rows())


def _model() -> str:
    rows = (
        ("_SHAPE_DEVIATION", bridge._SHAPE_DEVIATION, "the shape's deviation a / mean q"),
        ("_SCALE_POWER", kernel._SCALE_POWER, "the power p of the local scale"),
        ("_SCALE_REACH", kernel._SCALE_REACH, "over which part of the width it is taken"),
    )
    return _table(
        ["figure", "value", "meaning"], ([f"`{n}`", f"{v:g}", about] for n, v, about in rows)
    )


def _assumed() -> str:
    rows = (
        [f"`{name}`", f"{getattr(uncertainty_bridge, name):.3g}", unit, reason]
        for name, unit, reason in _ASSUMED
    )
    return _table(["constant", "value", "unit", "stands for"], rows)


def _overall(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for crew in CREWS:
            for method in METHODS:
                here = results["crews"][crew][method]["all"]
                yield [
                    crew,
                    NAMES[method],
                    str(here["gaugings"]),
                    f"{here['coverage 95']:.1f}",
                    f"{here['coverage 68']:.1f}",
                    f"{here['width']:.2f}",
                    f"{here['middle width']:.2f}",
                    f"{here['score']:.1f}",
                ]

    heads = ["crew", "method", "gaugings", "95 % holds", "68 % holds", "mean width"]
    return _table([*heads, "middle width", "score"], rows())


def _by_part(results: Results, crew: str, part: str) -> str:
    methods = results["crews"][crew]

    def rows() -> Iterator[list[str]]:
        for name, ours in methods["bridge"][part].items():
            others = (methods[method][part][name] for method in METHODS)
            yield [
                name,
                *(f"{other['coverage 95']:.0f}" for other in others),
                f"{ours['coverage 68']:.0f}",
                f"{ours['width']:.2f}",
                f"{results['beside interpolated variance'][crew][part][name]:.2f}",
            ]

    heads = [part, *(NAMES[method] for method in METHODS)]
    return _table([*heads, "bridge, 68 %", "bridge, width", "over interpolated variance"], rows())


def _outside(results: Results) -> Iterator[str]:
    """Yield which section types and numbers of verticals are not held as often as they should."""
    for crew in CREWS:
        found = results["crews"][crew]["bridge"]
        for words, wrong in (("too seldom", _too_seldom), ("too often", _too_often)):
            named = [
                f"{name}{' verticals' if part == 'verticals' else ''} ({here['coverage 95']:.1f} %)"
                for part in ("type", "verticals")
                for name, here in found[part].items()
                if wrong(here["coverage 95"])
            ]
            yield f"- {crew} crews, held {words}: {', '.join(named) or 'none'}."


def _too_seldom(coverage: float) -> bool:
    return coverage < _LOW


def _too_often(coverage: float) -> bool:
    return coverage > _HIGH


def _target(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for crew in CREWS:
            methods = results["crews"][crew]
            ratio = results["beside interpolated variance"][crew]
            narrowest = min(ratio["type"], key=lambda kind: ratio["type"][kind])
            yield [
                f"{crew}, {'between verticals' if crew == 'perfect' else 'whole budget'}",
                f"{ratio['all']['all']:.2f}",
                f"{ratio['type'][narrowest]:.2f} ({narrowest})",
                f"{methods['bridge']['all']['coverage 95']:.1f}",
                f"{methods['interpolated-variance']['all']['coverage 95']:.1f}",
            ]

    return _table(
        [
            "crew",
            "width over interpolated variance",
            "least, by type",
            "bridge holds, %",
            "interpolated variance holds, %",
        ],
        rows(),
    )


def _without_type(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for kind, crews in results["without type"].items():
            of = {crew: results["crews"][crew]["bridge"]["type"][kind] for crew in crews}
            yield [
                kind,
                *(
                    f"{figures['coverage 95']:.1f}"
                    for crew in crews
                    for figures in (of[crew], crews[crew])
                ),
                *(f"{crews[crew]['width'] / of[crew]['width']:.2f}" for crew in crews),
            ]

    heads = ["perfect", "perfect, never seen", "drawn", "drawn, never seen"]
    return _table(["type", *heads, "width, perfect", "width, drawn"], rows())


def _thinned(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for way, methods in results["thinned"]["ways"].items():
            for method, here in methods.items():
                yield [
                    way,
                    NAMES[method],
                    str(here["gaugings"]),
                    f"{here['coverage 95']:.1f}",
                    f"{here['coverage 68']:.1f}",
                    f"{here['width']:.1f}",
                    f"{here['middle width']:.1f}",
                ]

    heads = ["left out", "method", "sections", "95 % holds", "68 % holds"]
    return _table([*heads, "mean width", "middle width"], rows())


def _tried(found: Mapping[str, Any], crews: tuple[str, str]) -> str:
    def rows() -> Iterator[list[str]]:
        for name, by_crew in found.items():
            cells = []
            for crew in crews:
                here = by_crew[crew]
                worse, error = here["against"]
                cells += [f"{here['coverage 95']:.1f}", f"{here['width']:.2f}"]
                cells.append(f"{worse:+.1f} ± {error:.1f}")
            yield [name.replace("_", r"\_"), *cells]

    heads = [f"{crew}: {what}" for crew in crews for what in ("95 % holds", "width", "score")]
    return _table(["tried", *heads], rows())
