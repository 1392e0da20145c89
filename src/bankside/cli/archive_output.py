"""What verifying an archive prints."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rich.console import Console

from bankside.archive.difference import Difference
from bankside.cli.amounts import amount
from bankside.cli.render import render_lines, render_points

__all__ = ["render_found"]


def render_found(console: Console, place: str, gaugings: int, found: Sequence[Difference]) -> None:
    """Print what verifying found."""
    counts = Counter(one.kind for one in found)
    said = ", ".join(f"{count} {kind}" for kind, count in counts.items()) or "nothing differs"
    render_lines(console, [f"{place}: {amount(gaugings, 'gauging')} worked out anew: {said}."])
    _render_some(console, [f"{one.kind}: {one.what}: {one.words}." for one in found])


def _render_some(console: Console, sentences: Sequence[str]) -> None:
    if sentences:
        render_points(console, sentences)
