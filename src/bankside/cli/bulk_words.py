"""What `bankside bulk` says of many gaugings, as text."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.bulk.compare import BANDS, CheckChange, Comparison
from bankside.cli.amounts import amount

__all__ = ["check_changes", "figure_changes"]


def figure_changes(compared: Comparison) -> str:
    """Return how many gaugings change by how much, and the list of those that change most."""
    lines = [amount(compared.gaugings, "gauging"), ""]
    words = ["unchanged", *(f"up to {band:g} %" for band in BANDS[1:-1]), f"above {BANDS[-2]:g} %"]
    lines += [f"{word:<14}{count:>10}" for word, count in zip(words, compared.counts, strict=True)]
    if compared.alone:
        lines.append(f"{'on one side':<14}{compared.alone:>10}")
    if compared.changes:
        lines += ["", f"{'change, %':>11}{'before':>14}{'after':>14}  gauging"]
        lines += [
            f"{_figure(one.percent, '+.3f'):>11}{_figure(one.before):>14}{_figure(one.after):>14}"
            f"  {one.gauging}"
            for one in compared.changes
        ]
    return "\n".join(lines)


def check_changes(changes: Sequence[CheckChange]) -> str:
    """Return how many gaugings have each finding before and after."""
    lines = [f"{'before':>9}{'after':>9}{'new':>9}{'gone':>9}  finding"]
    lines += [
        f"{one.before:>9}{one.after:>9}{one.new:>9}{one.gone:>9}  {one.check}"
        f"{'' if one.severity is None else f' ({one.severity})'}"
        for one in changes
    ]
    return "\n".join(lines)


def _figure(value: float | None, form: str = ".6g") -> str:
    return "none" if value is None else format(value, form)
