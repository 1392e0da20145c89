"""Put what was measured of advice and of soundings into `docs/advice.md`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from calibration.document import put_in
from calibration.tables_assumed import table

__all__ = [
    "ADVICE_DOCUMENT",
    "ADVICE_RESULTS",
    "DEPTHS_RESULTS",
    "SOUNDINGS_RESULTS",
    "STRONG_WATER_RESULTS",
    "advice_filled",
]

ADVICE_DOCUMENT = Path(__file__).parents[1] / "docs" / "advice.md"
ADVICE_RESULTS = Path(__file__).with_name("advice_results.json")
SOUNDINGS_RESULTS = Path(__file__).with_name("soundings_results.json")
DEPTHS_RESULTS = Path(__file__).with_name("planned_by_depths_results.json")
STRONG_WATER_RESULTS = Path(__file__).with_name("strong_water_results.json")

# Head in the document, and name in the results.
_REACHING = (
    ("reached, %", "reached"),
    ("verticals", "verticals"),
    ("minutes", "minutes"),
    ("of 25 equal", "minutes of 25"),
    ("fewer, %", "saved"),
    ("25 equal reach it, %", "25 reach"),
    ("truth within it, %", "held"),
    ("25 equal hold theirs, %", "held by 25"),
    ("told when missed, %", "told when missed"),
    ("after the first pass, %", "told at first"),
    ("told though reached, %", "told though reached"),
)
_PLANNING = (
    ("given a number, %", "plans"),
    ("verticals", "planned"),
    ("stated is then at the target, %", "plan reached"),
    ("truth within it, %", "plan held"),
)


def advice_filled(text: str) -> str:
    """Return the document with its generated parts put in anew."""
    found = json.loads(ADVICE_RESULTS.read_text(encoding="utf-8"))
    soundings = json.loads(SOUNDINGS_RESULTS.read_text(encoding="utf-8"))
    strong = json.loads(STRONG_WATER_RESULTS.read_text(encoding="utf-8"))
    depths = json.loads(DEPTHS_RESULTS.read_text(encoding="utf-8"))
    parts = {
        "whole": _by_type(_with_all(found["whole"]), _REACHING),
        "verticals": _by_type(_with_all(found["verticals"]), _REACHING),
        "planning": _by_type(found["whole"], _PLANNING),
        "planning by depths": _by_type(depths, _PLANNING),
        "sparing": _sparing(found["sparing"]),
        "strong water": _strong_water(strong),
        "soundings": _soundings(soundings["careful"]),
        "soundings without other errors": _soundings(soundings["perfect"]),
    }
    return put_in(text, parts)


def _by_type(results: Mapping[str, Mapping[str, Any]], columns: tuple[tuple[str, str], ...]) -> str:
    def rows() -> Iterator[list[str]]:
        for kind, row in results.items():
            figures = (row[name] for _, name in columns)
            yield [kind, *("" if value is None else f"{value:.0f}" for value in figures)]

    return table(["type", *(head for head, _ in columns)], rows())


def _with_all(results: Mapping[str, Mapping[str, Any]]) -> dict[str, Mapping[str, Any]]:
    """Return the results with all types together, each with as many visits, where that is told."""
    rows = list(results.values())
    names = dict.fromkeys(name for _, name in _REACHING)
    reached = sum(row["reached"] for row in rows)
    held = sum(row["reached"] * row["held"] for row in rows if row["held"] is not None)
    together = {
        "reached": reached / len(rows),
        "held": held / reached,
        "held by 25": sum(row["held by 25"] for row in rows) / len(rows),
        "25 reach": sum(row["25 reach"] for row in rows) / len(rows),
    }
    return {**results, "all": {name: together.get(name) for name in names}}


def _sparing(results: Mapping[str, Mapping[str, tuple[float, float]]]) -> str:
    counts = sorted({count for row in results.values() for count in row}, key=int)

    def rows() -> Iterator[list[str]]:
        for kind, row in results.items():
            pairs = (row.get(count) for count in counts)
            yield [kind, *("" if p is None else f"{p[0]:.2f} / {p[1]:.2f}" for p in pairs)]

    return table(["type", *counts], rows())


def _strong_water(results: Mapping[str, Any]) -> str:
    by_type = {kind: row for kind, row in results.items() if kind != "streams"}
    names = next(iter(by_type.values()))
    together = {name: sum(row[name] for row in by_type.values()) for name in names}

    def rows() -> Iterator[list[str]]:
        for kind, row in {**by_type, "all": together}.items():
            shares = (f"{100.0 * row[name] / row['places']:.1f}" for name in ("deeper", "stronger"))
            numbers = (str(row[name]) for name in ("at a limit", "sent to a limit"))
            held = f"{100.0 * row['held back below'] / row['places']:.0f}"
            yield [kind, *shares, *numbers, held]

    heads = ["deeper, %", "stronger, %", "at a limit", "of these sent to", "held back below, %"]
    return table(["type", *heads], rows())


def _soundings(results: Mapping[str, Mapping[str, Mapping[str, float]]]) -> str:
    heads = list(next(iter(results.values()))["12"])

    def rows() -> Iterator[list[str]]:
        for kind, by_count in results.items():
            yield [kind, *(f"{value:.2f}" for value in by_count["12"].values())]

    return table(["type", *heads], rows())


def main() -> None:
    """Write the document."""
    text = ADVICE_DOCUMENT.read_text(encoding="utf-8")
    ADVICE_DOCUMENT.write_text(advice_filled(text), encoding="utf-8")


if __name__ == "__main__":
    main()
