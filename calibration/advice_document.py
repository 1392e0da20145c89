"""Put what was measured of advice and of soundings into `docs/advice.md`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from calibration.document import put_in
from calibration.tables_assumed import table

__all__ = ["ADVICE_DOCUMENT", "ADVICE_RESULTS", "SOUNDINGS_RESULTS", "advice_filled"]

ADVICE_DOCUMENT = Path(__file__).parents[1] / "docs" / "advice.md"
ADVICE_RESULTS = Path(__file__).with_name("advice_results.json")
SOUNDINGS_RESULTS = Path(__file__).with_name("soundings_results.json")

# Head in the document, and name in the results.
_REACHING = (
    ("reached, %", "reached"),
    ("verticals", "verticals"),
    ("minutes", "minutes"),
    ("of 25 equal", "minutes of 25"),
    ("fewer, %", "saved"),
    ("25 equal reach it, %", "25 reach"),
    ("truth within it, %", "held"),
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
    parts = {
        "whole": _by_type(found["whole"], _REACHING),
        "verticals": _by_type(found["verticals"], _REACHING),
        "planning": _by_type(found["whole"], _PLANNING),
        "sparing": _sparing(found["sparing"]),
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


def _sparing(results: Mapping[str, Mapping[str, tuple[float, float]]]) -> str:
    counts = list(next(iter(results.values())))

    def rows() -> Iterator[list[str]]:
        for kind, row in results.items():
            yield [kind, *(f"{row[n][0]:.2f} / {row[n][1]:.2f}" for n in counts)]

    return table(["type", *counts], rows())


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
