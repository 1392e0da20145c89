"""The generated parts of `docs/uncertainty.md`, from what was stored and from the code."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from calibration.gaugings import CREWS
from calibration.judged import METHODS
from calibration.tables_assumed import assumed_blocks, table
from calibration.thinned import WITH_READINGS

__all__ = ["blocks"]

Results = Mapping[str, Any]

NAMES = {
    "between-verticals": "ours",
    "interpolated-variance": "interpolated variance",
    "iso-748": "ISO 748",
    "components": "components",
    WITH_READINGS: "ours, with readings and profiles",
}
# Where the coverage of a section type or a number of verticals is called good (the target).
_LOW, _HIGH = 90.0, 98.0

_RATIOS = ("width over interpolated variance", "score over interpolated variance")


def blocks(results: Results) -> dict[str, str]:
    """Return the generated parts by their names."""
    return {
        **assumed_blocks(),
        "all": _overall(results),
        **{
            f"{crew} by {part}": _by_part(results, crew, part)
            for crew in CREWS
            for part in ("type", "verticals")
        },
        "outside": "\n".join(_outside(results)),
        "leaning": _leaning(results),
        "target": _target(results),
        "without type": _without_type(results),
        "thinned": _thinned(results),
        "thinned alike": _thinned_alike(results),
        "models": _tried(results.get("models"), ("perfect", "drawn")),
        "halves": _tried(results.get("halves"), ("perfect",)),
        "constants": _tried(results.get("constants"), ("careful", "drawn")),
    }


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
    return table([*heads, "middle width", "score"], rows())


def _by_part(results: Results, crew: str, part: str) -> str:
    methods = results["crews"][crew]

    def rows() -> Iterator[list[str]]:
        for name, ours in methods["between-verticals"][part].items():
            others = (methods[method][part][name] for method in METHODS)
            yield [
                name,
                *(f"{other['coverage 95']:.0f}" for other in others),
                f"{ours['coverage 68']:.0f}",
                f"{ours['width']:.2f}",
                *_ratios(results["beside interpolated variance"][crew][part][name]),
            ]

    heads = [part, *(NAMES[method] for method in METHODS)]
    return table([*heads, "ours, 68 %", "ours, width", *_RATIOS], rows())


def _ratios(beside: Mapping[str, float]) -> list[str]:
    return [f"{beside['width']:.2f}", f"{beside['score']:.2f}"]


def _outside(results: Results) -> Iterator[str]:
    """Yield which section types and numbers of verticals are not held as often as they should."""
    for crew in CREWS:
        found = results["crews"][crew]["between-verticals"]
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


def _leaning(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        of_crews = [results["leaning"][crew] for crew in CREWS]
        for count in of_crews[0]:
            cells = []
            for by_count in of_crews:
                here = by_count[count]
                cells += [_signed(here["mean"]), f"{here['above']:.1f}, {here['below']:.1f}"]
            yield [count, *cells]

    heads = [f"{crew}: {what}" for crew in CREWS for what in ("mean", "above, below")]
    return table(["verticals", *heads], rows())


def _signed(value: float) -> str:
    return f"{value:+.1f}".replace("-", "−")


def _target(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for crew in CREWS:
            methods = results["crews"][crew]
            beside = results["beside interpolated variance"][crew]
            by_type = {kind: ratios["width"] for kind, ratios in beside["type"].items()}
            least, most = (
                min(by_type, key=by_type.__getitem__),
                max(by_type, key=by_type.__getitem__),
            )
            yield [
                f"{crew}, {'between verticals' if crew == 'perfect' else 'whole budget'}",
                *_ratios(beside["all"]["all"]),
                f"{by_type[least]:.2f} ({least})",
                f"{by_type[most]:.2f} ({most})",
                f"{methods['between-verticals']['all']['coverage 95']:.1f}",
                f"{methods['interpolated-variance']['all']['coverage 95']:.1f}",
                *(f"{results['narrowed'][crew][held]:.2f}" for held in ("95", "93")),
            ]

    heads = ["crew", *_RATIOS, "least width, by type", "most", "ours holds, %"]
    heads += ["interpolated variance holds, %", "it would hold 95 % times", "93 % times"]
    return table(heads, rows())


def _without_type(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for kind, crews in results["without type"].items():
            of = {crew: results["crews"][crew]["between-verticals"]["type"][kind] for crew in crews}
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
    return table(["type", *heads, "width, perfect", "width, drawn"], rows())


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
                    f"{here['score']:.0f}",
                ]

    heads = ["left out", "method", "sections", "95 % holds", "68 % holds"]
    return table([*heads, "mean width", "middle width", "score"], rows())


def _thinned_alike(results: Results) -> str:
    def rows() -> Iterator[list[str]]:
        for name, here in results["thinned"]["alike"].items():
            yield [
                f"{name} the ranges",
                str(here["gaugings"]),
                f"{here['coverage 95']:.1f}",
                f"{here['coverage 68']:.1f}",
                f"{here['width']:.1f}",
            ]

    heads = ["whole transect", "thinned sections", "95 % holds", "68 % holds", "mean width"]
    return table(heads, rows())


def _tried(found: Mapping[str, Any] | None, crews: Sequence[str]) -> str:
    if found is None:
        return "Not tried with the model as it stands."

    def rows() -> Iterator[list[str]]:
        for name, by_crew in found.items():
            cells = []
            for crew in crews:
                here = by_crew[crew]
                worse, error = here["against"]
                cells += [f"{here['coverage 95']:.1f}", f"{here['width']:.2f}"]
                cells.append(f"{_signed(worse)} ± {error:.1f}")
            yield [name.replace("_", r"\_"), *cells]

    heads = [f"{crew}: {what}" for crew in crews for what in ("95 % holds", "width", "score")]
    return table(["tried", *heads], rows())
