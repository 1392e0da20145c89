"""`bankside compute`: from sheets or records to discharge, panel by panel."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Final

from cyclopts import Parameter

from bankside.cli.inputs import Computed, SheetOptions, compute_all, load, require_usable
from bankside.cli.output import write_utf8
from bankside.cli.render import PlainConsole, render_lines, render_result
from bankside.cli.results import as_document
from bankside.cli.rules_used import rules_for
from bankside.cli.summary import render_rows, render_summary
from bankside.cli.uncertainty import render_uncertainty
from bankside.gauging.checks.finding import SEVERITIES, Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.compute import EdgeRule, Method
from bankside.gauging.reconcile_words import explain
from bankside.sheets.answers import save_answers

__all__ = ["compute_command"]

_GRAVE: Final = SEVERITIES[:2]
_FEW = 3
"""Up to so many gaugings are shown in full; more make a summary, unless every one is asked for."""


def compute_command(
    files: list[Path],
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    method: Method = "mid-section",
    edges: EdgeRule = "half-width",
    each: Annotated[bool, Parameter(show_default=False)] = False,
    parts: Annotated[bool, Parameter(show_default=False)] = False,
    rows: Annotated[bool, Parameter(show_default=False)] = False,
    keep_going: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Compute the discharge of every gauging in the given files.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS), gaugings in our JSON form, journals of the app, or open
        formats: Data Package, GeoPackage, Parquet, WaterML.
    as_json
        Print one JSON object with everything instead of tables.
    method
        mid-section: a panel around every vertical; mean-section: a panel between verticals.
    edges
        How wide the panel beside a bank is, for mid-section: half-width, or the textbooks'
        triangular rule. Every figure names its rule.
    each
        Show the full table of every gauging, however many there are.
    parts
        Show the parts of the uncertainty, and where each figure comes from.
    rows
        List every row that was not used, and why.
    keep_going
        Compute what can be computed although some gaugings are refused; they are still listed.
    """
    answers = options.to_answers()
    sources, computed = compute_all(load(files, answers), method, edges)
    require_usable(sources, len(computed), keep_going)
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    if as_json:
        document = as_document(sources, computed)
        write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
        return
    console = PlainConsole()
    if each or len(computed) <= _FEW:
        for number, one in enumerate(computed):
            render_lines(console, ["", "-" * 60, ""] if number else [])
            filed = () if one.filed is None else explain(one.filed, one.result)
            render_result(console, one.gauging, one.result, (*one.item.notes, *filed))
            rules, _ = rules_for(one.gauging, None)
            findings = check_gauging(one.gauging, rules)
            render_uncertainty(console, one.gauging, one.result, findings, parts=parts)
            render_lines(console, _grave(one, findings))
    if len(computed) > 1:
        render_summary(console, computed)
    render_rows(console, sources, listed=rows)


def _grave(one: Computed, findings: Sequence[Finding]) -> list[str]:
    """Return that the checks have something grave to say, if nobody has answered it."""
    open_ones = [f for f in findings if f.answer is None]
    counts = {severity: sum(f.severity == severity for f in open_ones) for severity in _GRAVE}
    said = " and ".join(f"{count} {severity}" for severity, count in counts.items() if count)
    return ["", f"The checks have {said}: bankside check {one.file} says what."] if said else []
