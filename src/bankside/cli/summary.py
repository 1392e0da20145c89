"""Many gaugings at a glance, how ours differ from the filed totals, and the count of all rows."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise

from rich.console import Console

from bankside.cli.inputs import Computed, Source
from bankside.cli.render import (
    plain_table,
    render_lines,
    render_points,
    render_table,
    safe_text,
)
from bankside.gauging.reconcile import Reconciliation
from bankside.gauging.reconcile_words import explain
from bankside.gauging.units import cubic_metres_per_second_per, metres_per
from bankside.sheets.read import SheetGauging

__all__ = ["gauging_words", "render_rows", "render_summary"]

_STEPS = (0.05, 0.5, 1.0, 2.0, 5.0, 10.0)
"""Bounds, in percent, between which differences from filed totals are counted."""


_LABEL_WIDTH = 28
"""Longer names of gaugings are wrapped."""


_NAMELESS = ("the gauging", "the file")
"""Labels that tell nothing beside the name of the file."""


_CUBIC_FOOT = cubic_metres_per_second_per("ft3/s")


def render_summary(console: Console, computed: Sequence[Computed]) -> None:
    """Print one line a gauging, and the distribution of ours minus the filed totals."""
    table = plain_table()
    names = [gauging_words(one) for one in computed]
    several = len({one.file for one in computed}) > 1
    if several:
        table.add_column("file", overflow="fold", min_width=_fitting(one.file for one in computed))
    table.add_column("gauging", overflow="fold", min_width=_fitting(names))
    filed = any(one.filed is not None for one in computed)
    feet = all(one.gauging.units.length in ("ft", "in") for one in computed)
    heads = ["discharge\n(ft³/s)"] if feet else []
    heads += ["discharge\n(m³/s)", "width\n(ft)" if feet else "width\n(m)", "panels"]
    heads.append("largest\nshare (%)")
    heads.append("notes")
    if filed:
        heads += ["filed\n(ft³/s)" if feet else "filed\n(m³/s)", "ours - filed\n(%)"]
    for head in heads:
        table.add_column(head, justify="right", no_wrap=True)
    for one, name in zip(computed, names, strict=True):
        places = [safe_text(text) for text in ((one.file, name) if several else (name,))]
        table.add_row(*places, *_figures(one, feet), *(_filed_figures(one, feet) if filed else ()))
    render_lines(console, [""])
    render_table(console, table)
    if filed:
        render_lines(console, ["", *_filed_lines(computed)])
        render_points(console, _odd_totals(computed))
    if any(_notes(one) for one in computed):
        render_lines(console, ["", "--each shows the notes: what was assumed for each gauging."])


def _notes(one: Computed) -> int:
    return len(one.item.notes) + len(one.result.notes)


def _odd_totals(computed: Sequence[Computed]) -> list[str]:
    """Return what is odd about single filed totals, a gauging each."""
    odd = []
    for one in computed:
        if one.filed is None:
            continue
        if one.filed.rule is None or one.filed.apart or one.filed.exceptions:
            name = f"{one.file}, {gauging_words(one)}"
            odd.append(f"{name}: {' '.join(explain(one.filed, one.result))}")
    return odd


def _fitting(texts: Iterable[str]) -> int:
    return min(max(len(text) for text in texts), _LABEL_WIDTH)


def gauging_words(one: Computed) -> str:
    """Return stream, site and date of a gauging, as far as they are known."""
    gauging = one.gauging
    day = gauging.date or (gauging.started.date() if gauging.started is not None else None)
    parts = [gauging.site.stream, gauging.site.name, day.isoformat() if day is not None else None]
    known = [part for part in parts if part]
    # A sheet's own label may add which part of a table it is.
    return one.item.label if all(part in one.item.label for part in known) else ", ".join(known)


def _figures(one: Computed, feet: bool) -> list[str]:
    shares = [abs(p.share) for p in one.result.panels if p.share is not None]
    discharge = one.result.discharge_m3s
    return [
        *([f"{discharge / _CUBIC_FOOT:.4g}"] if feet else []),
        f"{discharge:.4g}",
        f"{one.result.width_m / (metres_per('ft') if feet else 1.0):.4g}",
        str(len(one.result.panels)),
        f"{max(shares):.1f}" if shares else "",
        str(_notes(one)) if _notes(one) else "",
    ]


def _filed_figures(one: Computed, feet: bool) -> list[str]:
    if one.filed is None:
        return ["", ""]
    percent = one.filed.difference_percent
    return [
        f"{one.filed.discharge_m3s / (_CUBIC_FOOT if feet else 1.0):.4g}",
        "" if percent is None else f"{percent:+z.2f}",
    ]


def _filed_lines(computed: Sequence[Computed]) -> list[str]:
    """Return which rules the filed totals follow, and how ours differ from them."""
    filed = [one.filed for one in computed if one.filed is not None]
    rules = Counter(_rule(f) for f in filed)
    lines = [f"Filed totals: {len(filed)}. They follow:"]
    lines.extend(f"  {rule}: {count}" for rule, count in rules.most_common())
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


def _rule(filed: Reconciliation) -> str:
    if filed.rule is None:
        return "none of the known rules"
    products = "the products " if filed.apart else ""
    angles = " with the angles left out" if filed.angles_left_out else ""
    return f'{products}"{filed.rule}"{angles}{", the total nothing known" if filed.apart else ""}'


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
    """Print what became of every row, and with `listed` the reason for each one not used.

    Gaugings that were refused while others were computed are named once more at the end.
    """
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
    refused = [_refusal(source, item) for source in sources for item in source.items if item.faults]
    if refused:
        count = "One gauging was" if len(refused) == 1 else f"{len(refused)} gaugings were"
        render_lines(console, ["", f"{count} refused and not computed:"])
        render_points(console, refused)


def _refusal(source: Source, item: SheetGauging) -> str:
    """Return a refused gauging with the first of its faults, which names the file and the row."""
    first = str(item.faults[0])
    if item.label in _NAMELESS and source.file in first:
        place = ""
    else:
        place = f"{item.label}: " if source.file in first else f"{source.file}, {item.label}: "
    more = len(item.faults) - 1
    rest = "" if not more else " (and one fault more)" if more == 1 else f" (and {more} more)"
    return f"{place}{first}{rest}"
