"""Many gaugings at a glance, how ours differ from the filed totals, and the count of all rows."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from rich.console import Console

from bankside.cli.inputs import Computed, Source
from bankside.cli.render import plain_table, render_lines, render_points, render_table

__all__ = ["render_rows", "render_summary"]

_STEPS = (0.05, 0.5, 1.0, 2.0, 5.0, 10.0)
"""Bounds, in percent, between which differences from filed totals are counted."""


_LABEL_WIDTH = 28
"""Longer names of gaugings are wrapped."""


def render_summary(console: Console, computed: Sequence[Computed]) -> None:
    """Print one line a gauging, and the distribution of ours minus the filed totals."""
    table = plain_table()
    longest = max(len(one.item.label) for one in computed)
    table.add_column("gauging", overflow="fold", min_width=min(longest, _LABEL_WIDTH))
    filed = any(one.filed is not None for one in computed)
    heads = ["discharge\n(m³/s)", "width\n(m)", "panels", "largest\nshare (%)"]
    if filed:
        heads += ["filed\n(m³/s)", "ours - filed\n(%)"]
    for head in heads:
        table.add_column(head, justify="right", no_wrap=True)
    for one in computed:
        shares = [abs(p.share) for p in one.result.panels if p.share is not None]
        row = [
            one.item.label,
            f"{one.result.discharge_m3s:.4g}",
            f"{one.result.width_m:.4g}",
            str(len(one.result.panels)),
            f"{max(shares):.1f}" if shares else "",
        ]
        if filed:
            row += [
                "" if one.filed is None else f"{one.filed.discharge_m3s:.4g}",
                ""
                if one.filed is None or one.filed.difference_percent is None
                else f"{one.filed.difference_percent:+z.2f}",
            ]
        table.add_row(*row)
    render_table(console, table)
    if filed:
        render_lines(console, ["", *_filed_lines(computed)])


def _filed_lines(computed: Sequence[Computed]) -> list[str]:
    """Return which rules the filed totals follow, and how ours differ from them."""
    filed = [one.filed for one in computed if one.filed is not None]
    rules = Counter(f.rule or "none of the known rules" for f in filed)
    lines = [f"Filed totals: {len(filed)}. They follow:"]
    lines.extend(f'  "{rule}": {count}' for rule, count in rules.most_common())
    different = sorted(f.difference_percent for f in filed if f.difference_percent is not None)
    if not different:
        return lines
    first = computed[0].result
    edges = f", {first.edge_rule} edges" if first.edge_rule else ""
    lines += ["", f"{first.method}{edges} minus filed, in % of filed ({len(different)} totals):"]
    lines.extend(_histogram(different))
    middle = (
        different[len(different) // 2]
        if len(different) % 2
        else (different[len(different) // 2 - 1] + different[len(different) // 2]) / 2.0
    )
    lines.append(
        f"  least {different[0]:+z.2f}, median {middle:+z.2f}, greatest {different[-1]:+z.2f}"
    )
    return lines


def _histogram(values: Sequence[float]) -> list[str]:
    """Return one line for each class of differences, empty classes beyond the ends left out."""
    bounds = [-step for step in reversed(_STEPS)] + list(_STEPS)
    labels = [f"below {bounds[0]:+g}"]
    labels += [
        f"within ±{_STEPS[0]:g}" if low == -high else f"{low:+g} to {high:+g}"
        for low, high in pairwise(bounds)
    ]
    labels.append(f"above {bounds[-1]:+g}")
    counts = [0] * len(labels)
    for value in values:
        counts[sum(1 for bound in bounds if value > bound)] += 1
    filled = [i for i, count in enumerate(counts) if count]
    most = max(counts)
    return [
        f"  {labels[i]:>14} {counts[i]:>4} {'#' * math.ceil(40 * counts[i] / most)}"
        for i in range(filled[0], filled[-1] + 1)
    ]


def render_rows(console: Console, sources: Sequence[Source], listed: bool) -> None:
    """Print what became of every row, and with `listed` the reason for each one not used."""
    render_lines(console, [""])
    for source in sources:
        counts = source.counts
        total = sum(counts.values())
        render_lines(
            console,
            [
                f"{source.file}: {total} rows: {counts['used']} used, {counts['remark']} kept as "
                f"remark, {counts['refused']} refused."
            ],
        )
        points = list(source.notes)
        points += [f"{item.label}: {item.reason}." for item in source.items if item.reason]
        if listed:
            points += [
                f"row {fate.row}{'' if fate.sheet is None else f' of sheet {fate.sheet}'}: "
                f"{fate.fate}, {fate.reason}"
                for item in source.items
                for fate in item.rows
                if fate.fate != "used"
            ]
        render_points(console, points)
