"""A filed total explained in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.filed_rules import CLOSE, RULES
from bankside.gauging.reconcile import PanelDifference, Reconciliation
from bankside.gauging.result import Result
from bankside.gauging.units import cubic_metres_per_second_per

__all__ = ["explain"]

_SYMBOLS = {"m3/s": "m³/s", "ft3/s": "ft³/s", "L/s": "L/s"}

_ROUNDING = 1e-9
"""Differences smaller than this part of the total are the rounding of floats."""

_DOUBLE = 200.0
"""Beyond so many percent more a factor says it better."""

_FEW = 3
"""So many verticals are named at most as those that make a difference."""


def explain(found: Reconciliation, result: Result) -> tuple[str, ...]:
    """Return a reconciliation in words, figures in the unit of the filed total.

    result: the computation that was held against the filed total.
    """
    return tuple(_sentences(found, result))


def _sentences(found: Reconciliation, result: Result) -> Iterator[str]:
    total = _amount(found, found.discharge_m3s)
    products = found.products_m3s
    apart = products is not None and _differ(products, found.discharge_m3s)
    if found.rule is None:
        yield f"The filed total, {total}, follows none of the known rules."
    elif apart:
        yield f'The filed products follow "{found.rule}"; the filed total is {total}.'
    else:
        yield f'The filed total, {total}, follows "{found.rule}".'
    yield _comparison(found, result)
    if found.unread and found.rule is not None:
        tapes = ", ".join(f"{tape:g}" for tape in found.unread)
        yield f"The filed figure counts the water at tape {tapes}, with no velocity, as standing."
    if products is not None and apart:
        yield f"The filed total is not the sum of its own products, {_amount(found, products)}."
    odd = [panel for panel in found.panels if panel.exception]
    if odd and found.rule is not None:
        tapes = ", ".join(f"{panel.tape:g}" for panel in odd)
        yield f"The filed products at tape {tapes} do not follow that rule."
    if found.widths:
        several = " (the spacing does not tell which)" if len(found.widths) > 1 else ""
        yield f"The sheet's widths are the {' or the '.join(found.widths)}{several}."


def _comparison(found: Reconciliation, result: Result) -> str:
    """Return how our figure differs from the filed one, and where."""
    edges = f" ({result.edge_rule} edges)" if result.edge_rule else ""
    name = f"{result.method.capitalize()}{edges}"
    ours = _amount(found, result.discharge_m3s)
    percent = found.difference_percent
    if percent is None and found.difference_m3s:
        return f"{name} gives {ours}; the filed total is 0."
    if percent is None or abs(percent) < 0.005:
        here = " here" if found.rule is not None and found.rule != RULES[0] else ""
        return f"{name} gives the same{here}, {ours}."
    return f"{name} gives {ours}, {_how_much(percent)}{_where(found)}."


def _how_much(percent: float) -> str:
    """Return a difference in words, with as many figures as it is worth."""
    if percent > _DOUBLE:
        return f"{percent / 100.0 + 1.0:.3g} times the filed total"
    more = "more" if percent > 0 else "less"
    size = abs(percent)
    if size < 10.0:
        return f"{size:.2g} % {more}"
    # Close below the whole, "100 % less" would claim that nothing is left.
    return f"{size:.1f} % {more}" if size > 99.0 and percent < 0 else f"{size:.0f} % {more}"


def _differ(here_m3s: float, there_m3s: float) -> bool:
    return abs(here_m3s - there_m3s) > CLOSE * abs(there_m3s)


def _where(found: Reconciliation) -> str:
    """Return which verticals make the difference: few that make most of it, or the largest."""
    least = _ROUNDING * abs(found.discharge_m3s)
    ranked = sorted(
        (p for p in found.panels if abs(p.difference_m3s) > least),
        key=lambda p: -abs(p.difference_m3s),
    )
    whole = 0.0
    for panel in ranked:
        whole += abs(panel.difference_m3s)
    largest = 0.0
    for panel in ranked[:_FEW]:
        largest += abs(panel.difference_m3s)
    if not ranked or whole < CLOSE * abs(found.discharge_m3s):
        return ""
    named = ranked[:_FEW]
    most = largest >= 0.8 * whole
    tapes = _and([_at(found, panel) for panel in named])
    if most and len(named) == 1:
        return f"; the vertical at tape {tapes} makes the difference"
    if most:
        return f"; the verticals at tape {tapes} make the difference"
    return f"; the largest differences are at tape {tapes}"


def _at(found: Reconciliation, panel: PanelDifference) -> str:
    sign = "+" if panel.difference_m3s > 0 else "-"
    return f"{panel.tape:g} ({sign}{_amount(found, abs(panel.difference_m3s), 2)})"


def _and(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _amount(found: Reconciliation, discharge_m3s: float, figures: int = 4) -> str:
    """Return a discharge in the unit of the filed total; in m³/s where that has no name."""
    unit = found.unit if found.unit in _SYMBOLS else "m3/s"
    value = discharge_m3s / cubic_metres_per_second_per(unit)
    # Trailing zeros are figures too; a bare point behind whole numbers is not.
    return f"{f'{value:#.{figures}g}'.rstrip('.')} {_SYMBOLS[unit]}"
