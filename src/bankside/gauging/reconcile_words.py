"""A filed total explained in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bankside.gauging.filed_fits import CLOSE, NOTHING
from bankside.gauging.filed_rules import MEAN_SECTION, RULES
from bankside.gauging.reconcile import PanelDifference, Reconciliation
from bankside.gauging.result import Result
from bankside.gauging.rounding import as_it_stands, to_figures
from bankside.gauging.units import cubic_metres_per_second_per

__all__ = ["explain", "in_one_sentence"]

_SYMBOLS = {"m3/s": "m³/s", "ft3/s": "ft³/s", "L/s": "L/s"}

_DOUBLE = 200.0
"""Beyond so many percent more a factor says it better."""

_SAME = 0.005
"""A difference of fewer percent is none."""

_FEW = 3
"""So many verticals are named at most as those that make a difference."""

_MOST = 0.8
"""Verticals that make this share of all differences make most of the difference."""

_ALL = 0.99
"""Verticals that make this share make the difference."""

_BY_WIDTH_BEFORE_OR_AFTER = {RULES[1], RULES[2]}
"""Rules that part from mid-section wherever the spacing is uneven."""

_ONE_WITHOUT_FLOW_AT_THE_EDGES = {RULES[0], RULES[3]}
"""Rules that differ in the edges alone."""

_OUR_RULES = {
    ("mid-section", "half-width"): RULES[0],
    ("mid-section", "triangular"): RULES[4],
    ("mean-section", None): MEAN_SECTION,
}
"""Our method and edge rule → the same among the rules by which totals are filed."""

_MOST_ROUNDING = 0.005
"""The share of a filed figure up to which a difference within its last digit is none. Ours."""


def explain(found: Reconciliation, result: Result) -> tuple[str, ...]:
    """Return a reconciliation in words, figures in the unit of the filed total.

    result: the computation that was held against the filed total.
    """
    return tuple(_sentences(found, result))


def in_one_sentence(found: Reconciliation, result: Result) -> str:
    """Return the filed figure, the rule it follows, how ours differs, and where it does."""
    return f"{_which_rule(found).removesuffix('.')}; {_comparison(found, result)}"


def _sentences(found: Reconciliation, result: Result) -> Iterator[str]:
    yield _which_rule(found)
    yield from _which_unit(found)
    comparison = _comparison(found, result)
    yield comparison[:1].upper() + comparison[1:]
    if found.unread and found.rule is not None:
        yield (
            f"The filed figures count a velocity of zero at tape {_tapes(found.unread)}, where "
            "there is water and none was read."
        )
    yield from _products(found)
    if found.widths:
        several = " (the spacing does not tell which)" if len(found.widths) > 1 else ""
        yield f"The sheet's widths are the {' or the '.join(found.widths)}{several}."


def _which_rule(found: Reconciliation) -> str:
    """Return what was filed, and the rule that gives it."""
    figure = _filed(found)
    if not found.total_filed:
        rule = "none of the known rules" if found.rule is None else _rule(found)
        return f"The filed products add up to {figure} and follow {rule}."
    if not found.figure and len(found.also) >= len(RULES) - 2:
        return f"The filed total, {figure}, is what every rule gives."
    if found.rule is None:
        return f"The filed total, {figure}, follows none of the known rules."
    if _total_is_by_rule(found):
        return f"The filed total, {figure}, follows {_rule(found)}."
    return f"The filed products follow {_rule(found)}; the filed total is {figure}."


def _total_is_by_rule(found: Reconciliation) -> bool:
    if found.evidence == "total":
        return True
    given = found.rule_m3s or 0.0
    return not found.exceptions and _is_same(found.discharge_m3s, given, found.rounding_m3s)


def _rule(found: Reconciliation) -> str:
    """Return the rule, the others that give the same, and what about it is out of the way."""
    name = f'"{found.rule}"'
    if found.angles_left_out:
        name += " with the angles left out"
    if found.also:
        others = _and([f'"{rule}"' for rule in found.also])
        give = "gives" if len(found.also) == 1 else "give"
        name += f" ({others} {give} the same{_why_the_same(found)})"
    if found.exceptions:
        name += f", except at tape {_tapes(found.exceptions)}"
    return name


def _why_the_same(found: Reconciliation) -> str:
    rules = {found.rule, *found.also}
    if rules == _ONE_WITHOUT_FLOW_AT_THE_EDGES and found.evidence == "products":
        return ", as nothing flows at the edges"
    what = "spacing does" if rules & _BY_WIDTH_BEFORE_OR_AFTER else "figures do"
    favour = f'; "{found.rule}" fits the most gaugings here' if found.favoured else ""
    return f"; the {what} not tell which{favour}"


def _which_unit(found: Reconciliation) -> Iterator[str]:
    """Yield how the unit was found, where the sheet does not state it or states another."""
    unit = _symbol(found.unit)
    if found.unit_stated is None:
        if found.figure:
            fits = "fits" if found.rule is not None else "comes nearest to our figure"
            yield f"The sheet gives no unit of discharge; {unit} {fits}."
    elif found.unit_stated != found.unit:
        stated = _symbol(found.unit_stated)
        yield f"That fits if the figures are in {unit}, not in {stated} as stated."


def _comparison(found: Reconciliation, result: Result) -> str:
    """Return how our figure differs from the filed one, and where."""
    edges = f" ({result.edge_rule} edges)" if result.edge_rule else ""
    name = f"{result.method}{edges}"
    if found.angles_left_out:
        name += ", with the angles applied,"
    ours = _ours(found, result)
    percent = found.difference_percent
    filed = "filed total" if found.total_filed else "sum of the filed products"
    if percent is None and found.difference_m3s:
        return f"{name} gives {ours}; the {filed} is 0."
    if percent is None or abs(percent) < _SAME:
        # Where another rule was used, that both agree is the chance of this one section.
        by_chance = found.rule is not None and not _is_our_rule(found, result)
        return f"{name} gives the same{' here' if by_chance else ''}, {ours}."
    if abs(found.difference_m3s) <= found.rounding_m3s:
        within = (
            "last digit of the filed total" if found.total_filed else "rounding of the products"
        )
        # "7.00" reaches us as 7.0 and "0.30" as 0.3, so how coarse the figure is, is a guess:
        # beyond half a percent the size is told with it.
        if abs(found.difference_m3s) <= _MOST_ROUNDING * abs(found.discharge_m3s):
            return f"{name} gives {ours}, the same within the {within}."
        return f"{name} gives {ours}, {_how_much(percent, filed)}, within the {within}."
    return f"{name} gives {ours}, {_how_much(percent, filed)}{_where(found, result)}."


def _is_our_rule(found: Reconciliation, result: Result) -> bool:
    ours = _OUR_RULES.get((result.method, result.edge_rule))
    return ours in (found.rule, *found.also)


def _how_much(percent: float, filed: str) -> str:
    """Return a difference in words, with as many figures as it is worth."""
    if percent < -100.0:
        return f"in the opposite direction to the {filed}"
    if percent > _DOUBLE:
        return f"{to_figures(percent / 100.0 + 1.0, 3)} times the {filed}"
    more = "more" if percent > 0 else "less"
    size = abs(percent)
    if size < 10.0:
        return f"{size:.2g} % {more}"
    # Close below the whole, "100 % less" would claim that nothing is left.
    return f"{size:.1f} % {more}" if size > 99.0 and percent < 0 else f"{size:.0f} % {more}"


def _where(found: Reconciliation, result: Result) -> str:
    """Return which verticals make the difference: few that make most of it, or the largest."""
    if found.apart or (found.rule == MEAN_SECTION and result.method != MEAN_SECTION):
        # The products explain neither a total that is not their sum, nor panels of another kind.
        return ""
    least = max(found.products_rounding_m3s, NOTHING * abs(found.discharge_m3s))
    ranked = sorted(
        (p for p in found.panels if abs(p.difference_m3s) > least),
        key=lambda p: -abs(p.difference_m3s),
    )
    whole = 0.0
    for panel in ranked:
        whole += abs(panel.difference_m3s)
    if not ranked or whole < CLOSE * abs(found.discharge_m3s):
        return ""
    named: list[PanelDifference] = []
    share = 0.0
    for panel in ranked[:_FEW]:
        named.append(panel)
        share += abs(panel.difference_m3s) / whole
        if share >= _MOST:
            break
    tapes = _and([_at(found, panel, len(result.channels)) for panel in named])
    if share < _MOST:
        return f"; the largest differences are at tape {tapes}"
    what = "the difference" if share >= _ALL else "most of the difference"
    kind = "stretch" if found.rule == MEAN_SECTION else "vertical"
    plural = "es" if kind == "stretch" else "s"
    if len(named) == 1:
        return f"; the {kind} at tape {tapes} makes {what}"
    return f"; the {kind}{plural} at tape {tapes} make {what}"


def _at(found: Reconciliation, panel: PanelDifference, channels: int) -> str:
    tape = f"{panel.tape:g}" if panel.tape_to is None else f"{panel.tape:g} to {panel.tape_to:g}"
    channel = f" of channel {panel.channel + 1}" if channels > 1 else ""
    sign = "+" if panel.difference_m3s > 0 else "-"
    return f"{tape}{channel} ({sign}{_amount(found, abs(panel.difference_m3s), 2)})"


def _products(found: Reconciliation) -> Iterator[str]:
    """Yield how the filed products stand to the filed total."""
    if found.products_m3s is None or not found.total_filed:
        return
    added = _amount(found, found.products_m3s)
    if found.apart:
        yield f"The filed total is not the sum of its own products, {added}."
    elif not _is_same(found.products_m3s, found.discharge_m3s, found.rounding_m3s):
        yield f"The filed products, as rounded, add up to {added}."
    if found.evidence == "total" and sum(1 for panel in found.panels if panel.filed_m3s) > 1:
        yield "The filed products do not follow that rule throughout."


def _is_same(here_m3s: float, there_m3s: float, rounding_m3s: float) -> bool:
    return abs(here_m3s - there_m3s) <= max(CLOSE * abs(there_m3s), rounding_m3s)


def _filed(found: Reconciliation) -> str:
    """Return the filed figure as it stands on the sheet, with its unit where that is sure."""
    figure = as_it_stands(found.figure)
    if found.unit_stated not in (None, found.unit):
        return figure
    if found.unit in _SYMBOLS:
        return f"{figure} {_SYMBOLS[found.unit]}"
    return f"{figure} in {found.unit} ({_amount(found, found.discharge_m3s)})"


def _ours(found: Reconciliation, result: Result) -> str:
    """Return our discharge, 0 where only the rounding of floats is left of it."""
    flowing = 0.0
    for panel in result.panels:
        flowing += abs(panel.discharge_m3s)
    ours = result.discharge_m3s
    return _amount(found, ours if abs(ours) > NOTHING * flowing else 0.0)


def _amount(found: Reconciliation, discharge_m3s: float, figures: int = 4) -> str:
    """Return a discharge in the unit of the filed total; in m³/s where that has no name."""
    unit = found.unit if found.unit in _SYMBOLS else "m3/s"
    value = discharge_m3s / cubic_metres_per_second_per(unit)
    return f"{to_figures(value, figures)} {_SYMBOLS[unit]}"


def _symbol(unit: str) -> str:
    return _SYMBOLS.get(unit, unit)


def _tapes(tapes: Sequence[float]) -> str:
    return _and([f"{tape:g}" for tape in tapes])


def _and(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
