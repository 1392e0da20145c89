"""Try other figures in the model than the shipped ones, on gaugings that judge nothing else.

Writes what each does to coverage, width and score into `calibration/results.json`, part by part:
`python -m calibration.tried models` tries these alone, `halves` and `constants` likewise.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping, Sequence
from itertools import product
from time import perf_counter
from typing import Any

import numpy as np

from bankside.gauging import between, between_section
from bankside.gauging.between import Character
from bankside.kernel import between as kernel
from bankside.kernel import between_assumed, between_prior
from calibration import fit
from calibration.changed import Changes, changed, prior_rows
from calibration.fit import evidences, fitted_prior
from calibration.gaugings import FITTING, Case, cases, in_parallel
from calibration.judge import RESULTS
from calibration.judged import Interval, Judged, ours_alone
from calibration.measures import Held, figures, score_against

__all__ = ["CONSTANTS", "MODELS", "main"]

TRYING = 5_000_000
"""The first seed: beyond what is fitted on, below what judges."""

FITTED_OF_EACH, TRIED_OF_EACH, HALVED_OF_EACH = 12, 12, 80

CONSTANTS = (
    "DEPTH_READING_M",
    "ROD_M",
    "PILE_UP",
    "ZERO_MS",
    "PROFILE_COMMON",
    "SURFACE_COMMON",
    "PROFILE_SMOOTH",
    "PROFILE_UNEVEN",
    "AT_SURFACE",
    "FLOAT",
    "PROFILE_LENGTH",
    "STANDS_IN",
)
"""What is assumed in `kernel/between_assumed.py`, one of them halved or doubled at a time."""


def _grid(
    shapes: Sequence[float], unevenness: Sequence[float], lengths: Sequence[float]
) -> Changes:
    characters = tuple(Character(*each) for each in product(shapes, unevenness, lengths))
    return {
        between: {"CHARACTERS": characters},
        between_section: {"CHARACTERS": characters},
        fit: {"CHARACTERS": characters},
        between_prior: {
            "UNEVENNESS_LENGTHS_M": tuple(lengths),
            # Until one is fitted.
            "_PRIOR": ((1.0,) * len(lengths),) * (len(shapes) * len(unevenness)),
        },
    }


_SHAPES, _ROUGH = between_prior.SHAPE_LENGTHS, between_prior.UNEVENNESS
_LENGTHS = between_prior.UNEVENNESS_LENGTHS_M
_ROUGHER = (0.03, 0.07, 0.16, 0.37, 0.85, 2.0)

_WIDER_SHAPE = "shape's deviation 2"

MODELS: Mapping[str, Changes] = {
    "shape's deviation 0.8": {between_prior: {"SHAPE_DEVIATION": 0.8}},
    _WIDER_SHAPE: {between_prior: {"SHAPE_DEVIATION": 2.0}},
    "scale to the power 0.2": {kernel: {"_SCALE_POWER": 0.2}},
    "scale to the power 0.6": {kernel: {"_SCALE_POWER": 0.6}},
    "scale reaches 0.03": {kernel: {"_SCALE_REACH": 0.03}},
    "scale reaches 0.12": {kernel: {"_SCALE_REACH": 0.12}},
    "unevenness up to 2": _grid(_SHAPES, _ROUGHER, _LENGTHS),
    "unevenness up to 2, its lengths 0.1, 0.5 and 2 m": _grid(_SHAPES, _ROUGHER, (0.1, 0.5, 2.0)),
    "lengths of unevenness 0.1, 0.4, 1.6 and 6 m": _grid(_SHAPES, _ROUGH, (0.1, 0.4, 1.6, 6.0)),
    "lengths of the shape 0.15 and 0.4": _grid((0.15, 0.4), _ROUGH, _LENGTHS),
    "lengths of the shape 0.07, 0.15, 0.3, 0.6 and 1.2": _grid(
        (0.07, 0.15, 0.3, 0.6, 1.2), _ROUGH, _LENGTHS
    ),
    "lengths of unevenness 0.08, 0.3, 1.2 and 5 m": _grid(_SHAPES, _ROUGH, (0.08, 0.3, 1.2, 5.0)),
}
"""Other models; the prior is fitted anew for each."""


def _fitted() -> list[float]:
    found = in_parallel(evidences, cases(FITTING, FITTED_OF_EACH, crews=("perfect",)))
    return [float(one) for one in fitted_prior(np.array(found))]


def _intervals(tried: Sequence[Case]) -> list[Judged]:
    return in_parallel(ours_alone, tried)


def _held(found: Sequence[Judged], crew: str) -> list[Held]:
    return [
        (one.error, one.intervals["between-verticals"]) for one in found if one.case.crew == crew
    ]


def _beside(found: Sequence[Judged], standing: Sequence[Judged]) -> dict[str, Any]:
    crews = {one.case.crew for one in found}
    return {
        crew: figures(held := _held(found, crew))
        | {"against": score_against(held, _held(standing, crew))}
        for crew in sorted(crews)
    }


def by_ratio(found: Sequence[Judged]) -> list[Judged]:
    """Return the same intervals of 95 % from Q / (1 + u) to Q (1 + u), about their middles."""
    turned = []
    for one in found:
        u = one.intervals["between-verticals"].wide
        low, high = 1.0 / (1.0 + u) - 1.0, u
        middle, half = (low + high) / 2.0, (high - low) / 2.0
        narrow = one.intervals["between-verticals"].narrow
        turned.append(
            Judged(one.case, one.error - middle, {"between-verticals": Interval(half, narrow)})
        )
    return turned


def models() -> dict[str, Any]:
    """Return what every other model does, beside the shipped one with a prior fitted alike."""
    tried = list(cases(TRYING, TRIED_OF_EACH, crews=("perfect", "drawn")))
    with changed(prior_rows(_fitted())):
        standing = _intervals(tried)
    found: dict[str, Any] = {
        "as shipped": _beside(standing, standing),
        "from Q / (1 + u) to Q (1 + u)": _beside(by_ratio(standing), standing),
    }
    root = [one**0.5 for row in between_prior._PRIOR for one in row]
    with changed(prior_rows(root)):
        found["root of the prior"] = _beside(_intervals(tried), standing)
    flat = [1.0] * len(root)
    with changed(prior_rows(flat)):
        found["all characters alike"] = _beside(_intervals(tried), standing)
    for name, changes in MODELS.items():
        with changed(changes), changed(prior_rows(_fitted())):
            found[name] = _beside(_intervals(tried), standing)
        print(name, found[name], flush=True)
    return found


def by_halves() -> dict[str, Any]:
    """Return what a wider shape does on what is fitted on, each half by the prior of the other.

    So many more gaugings than are tried otherwise: what was so near on those is decided on these.
    """
    halves = [list(cases(FITTING, HALVED_OF_EACH, crews=("perfect",)))[i::2] for i in (0, 1)]

    def judged_by_the_other() -> list[Judged]:
        tables = [np.array(in_parallel(evidences, half)) for half in halves]
        found: list[Judged] = []
        for half, other in zip(halves, reversed(tables), strict=True):
            with changed(prior_rows([float(one) for one in fitted_prior(other)])):
                found += _intervals(half)
        return found

    standing = judged_by_the_other()
    with changed(MODELS[_WIDER_SHAPE]):
        wider = judged_by_the_other()
    return {"as shipped": _beside(standing, standing), _WIDER_SHAPE: _beside(wider, standing)}


def constants() -> dict[str, Any]:
    """Return what coverage and score are when one assumed constant is halved or doubled."""
    tried = list(cases(TRYING, TRIED_OF_EACH, crews=("careful", "drawn")))
    standing = _intervals(tried)
    found: dict[str, Any] = {"as shipped": _beside(standing, standing)}
    for name, times in product(CONSTANTS, (0.5, 2.0)):
        value = times * getattr(between_assumed, name)
        with changed({between_assumed: {name: value}}):
            found[f"{name} {value:g}"] = _beside(_intervals(tried), standing)
        print(name, value, flush=True)
    return found


_PARTS: Mapping[str, Callable[[], dict[str, Any]]] = {
    "models": models,
    "halves": by_halves,
    "constants": constants,
}


def main(arguments: Sequence[str]) -> None:
    """Try the parts named, or everything, and store each beside the judgement once it is done."""
    for part in arguments or _PARTS:
        start = perf_counter()
        found = _PARTS[part]()
        results = json.loads(RESULTS.read_text("utf-8")) | {part: found}
        RESULTS.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")
        print(f"{part}: {perf_counter() - start:.0f} s", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
