"""Judge the intervals of all methods on simulated gaugings that nothing was fitted on.

Writes `calibration/results.json`, the tables of `docs/uncertainty.md` and its pictures.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from pathlib import Path
from statistics import fmean
from time import perf_counter
from typing import Any

import numpy as np

from bankside.practice.section_types import SECTION_TYPES
from calibration.changed import changed, prior_rows
from calibration.fit import OF_EACH as FITTED_OF_EACH
from calibration.fit import evidences, fitted_prior
from calibration.gaugings import CREWS, FITTING, JUDGING, VERTICALS, Case, cases, in_parallel
from calibration.judged import METHODS, Judged, judged, ours_alone
from calibration.measures import Figures, figures
from calibration.thinned import (
    TRANSECTS,
    WAYS,
    WITH_READINGS,
    Thinned,
    thinned_sections,
    whole_sections,
)

__all__ = ["RESULTS", "main"]

RESULTS = Path(__file__).parent / "results.json"

OF_EACH = 50
"""How many gaugings are judged of each section type, number of verticals and crew."""


def summed_up(found: Sequence[Judged]) -> dict[str, Any]:
    """Return the figures of every method: overall, by section type and by number of verticals."""
    return {
        method: {
            "all": _figures(found, method),
            "type": {
                kind: _figures([one for one in found if one.case.kind == kind], method)
                for kind in SECTION_TYPES
            },
            "verticals": {
                str(count): _figures([one for one in found if one.case.verticals == count], method)
                for count in VERTICALS
            },
        }
        for method in METHODS
    }


def _figures(found: Iterable[Judged | Thinned], method: str) -> Figures:
    return figures([(one.error, one.intervals[method]) for one in found if method in one.intervals])


def beside_scatter(found: Sequence[Judged]) -> dict[str, dict[str, dict[str, float]]]:
    """Return width and score of the model over those of interpolated variance.

    Of the gaugings where both are stated: overall, by section type, and by number of verticals.
    """
    both = [
        one for one in found if {"between-verticals", "interpolated-variance"} <= set(one.intervals)
    ]

    def ratios(here: Iterable[Judged]) -> dict[str, float]:
        listed = list(here)
        ours, theirs = (
            _figures(listed, name) for name in ("between-verticals", "interpolated-variance")
        )
        return {of: round(ours[of] / theirs[of], 3) for of in ("width", "score")}

    return {
        "all": {"all": ratios(both)},
        "type": {
            kind: ratios(one for one in both if one.case.kind == kind) for kind in SECTION_TYPES
        },
        "verticals": {
            str(count): ratios(one for one in both if one.case.verticals == count)
            for count in VERTICALS
        },
    }


def narrowed(found: Sequence[Judged]) -> dict[str, float]:
    """Return by which factors interpolated variance would hold the truth 95 and 93 times in 100.

    So that its width can be held against the model's where both hold the truth alike.
    """
    name = "interpolated-variance"
    beyond = [abs(one.error) / one.intervals[name].wide for one in found if name in one.intervals]
    return {str(held): round(float(np.quantile(beyond, held / 100.0)), 3) for held in (95, 93)}


def leaning(found: Sequence[Judged]) -> dict[str, dict[str, float]]:
    """Return by how much the truth is more than what was stated, by number of verticals.

    In percent: on the mean, and how often it lies above and below the model's interval of 95 %.
    """
    leans = {}
    for count in VERTICALS:
        here = [one for one in found if one.case.verticals == count]
        beyond = [one.error / one.intervals["between-verticals"].wide for one in here]
        leans[str(count)] = {
            "mean": round(100.0 * fmean(one.error for one in here), 2),
            "above": round(100.0 * sum(one > 1.0 for one in beyond) / len(here), 2),
            "below": round(100.0 * sum(one < -1.0 for one in beyond) / len(here), 2),
        }
    return leans


def without_types() -> dict[str, dict[str, Figures]]:
    """Return how the model does on each section type when the prior never saw that type."""
    fitted = list(cases(FITTING, FITTED_OF_EACH, crews=("perfect",)))
    evidence = np.array(in_parallel(evidences, fitted))
    kinds = np.array([case.kind for case in fitted])
    left_out: dict[str, dict[str, Figures]] = {}
    for kind in SECTION_TYPES:
        with changed(prior_rows(list(fitted_prior(evidence[kinds != kind])))):
            found = in_parallel(ours_alone, _of_kind(kind))
        left_out[kind] = {
            crew: _figures([one for one in found if one.case.crew == crew], "between-verticals")
            for crew in ("perfect", "drawn")
        }
    return left_out


def _of_kind(kind: str) -> list[Case]:
    judging = cases(JUDGING, OF_EACH)
    return [case for case in judging if case.kind == kind and case.crew in ("perfect", "drawn")]


def thinned() -> dict[str, Any] | None:
    """Return how between-vertical intervals do on thinned transects, None without the file."""
    if not TRANSECTS.exists():
        return None
    sections = whole_sections(TRANSECTS)
    found = [one for i, whole in enumerate(sections) for one in thinned_sections(i, whole)]
    return {
        "sections": len(sections),
        "alike": {
            name: _figures([one for one in found if one.alike is alike], WITH_READINGS)
            for name, alike in (("within", True), ("beyond", False))
        },
        "ways": {
            way: {
                method: _figures([one for one in found if one.way == way], method)
                for method in (*METHODS, WITH_READINGS)
            }
            for way in WAYS
        },
    }


def main() -> None:
    """Judge, print and store."""
    start = perf_counter()
    found = in_parallel(judged, cases(JUDGING, OF_EACH))
    by_crew = {crew: [one for one in found if one.case.crew == crew] for crew in CREWS}
    results: dict[str, Any] = json.loads(RESULTS.read_text("utf-8")) if RESULTS.exists() else {}
    results |= {
        "judged": len(found),
        "crews": {crew: summed_up(of_crew) for crew, of_crew in by_crew.items()},
        "beside interpolated variance": {
            crew: beside_scatter(of_crew) for crew, of_crew in by_crew.items()
        },
        "narrowed": {crew: narrowed(of_crew) for crew, of_crew in by_crew.items()},
        "leaning": {crew: leaning(of_crew) for crew, of_crew in by_crew.items()},
        "without type": without_types(),
    }
    # What was found on the transects stays where they are not at hand.
    if (on_transects := thinned()) is not None:
        results["thinned"] = on_transects
    RESULTS.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")
    for crew in CREWS:
        for method in METHODS:
            print(crew, method, results["crews"][crew][method]["all"])
    print(f"{len(found)} gaugings judged; {perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
