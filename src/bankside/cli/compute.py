"""`bankside compute`: from sheets or records to discharge, panel by panel."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from rich.console import Console

from bankside.cli.inputs import Computed, SheetOptions, Source, compute_all, load
from bankside.cli.render import render_lines, render_result
from bankside.cli.results import as_document
from bankside.cli.summary import render_rows, render_summary
from bankside.gauging.compute import EdgeRule, Method
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.reconcile_words import explain
from bankside.sheets.answers import save_answers

__all__ = ["compute_command", "refuse_unless_all_computed"]

_FEW = 3
"""Up to so many gaugings are shown in full; more make a summary, unless every one is asked for."""


def compute_command(
    files: Annotated[list[Path], Parameter(negative=())],
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json", negative=())] = False,
    method: Method = "mid-section",
    edges: EdgeRule = "half-width",
    each: Annotated[bool, Parameter(negative=())] = False,
    rows: Annotated[bool, Parameter(negative=())] = False,
    keep_going: Annotated[bool, Parameter(negative=())] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Compute the discharge of every gauging in the given files.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS) or gaugings in our JSON form.
    as_json
        Print one JSON object with everything instead of tables.
    method
        mid-section: a panel around every vertical; mean-section: a panel between verticals.
    edges
        How wide the panel beside a bank is, for mid-section: half-width, or the textbooks'
        triangular rule. Every figure names its rule.
    each
        Show the full table of every gauging, however many there are.
    rows
        List every row that was not used, and why.
    keep_going
        Compute what can be computed although some gaugings are refused; they are still listed.
    """
    answers = options.to_answers()
    sources, computed = compute_all(load(files, answers), method, edges)
    refuse_unless_all_computed(sources, computed, keep_going)
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    if as_json:
        document = as_document(sources, computed)
        print(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False))
        return
    console = Console(highlight=False)
    if each or len(computed) <= _FEW:
        for number, one in enumerate(computed):
            render_lines(console, ["", "-" * 60, ""] if number else [])
            filed = () if one.filed is None else explain(one.filed, one.result)
            render_result(console, one.gauging, one.result, (*one.item.notes, *filed))
    if len(computed) > 1:
        render_summary(console, computed)
    render_rows(console, sources, listed=rows)


def refuse_unless_all_computed(
    sources: Sequence[Source], computed: Sequence[Computed], keep_going: bool
) -> None:
    """Refuse everything when a gauging is refused, unless a person said to keep going.

    Raises InputRefused. With `keep_going` the refused gaugings are told on stderr instead, as long
    as there is one that could be computed.
    """
    faults = tuple(dict.fromkeys(f for s in sources for i in s.items for f in i.faults))
    if faults and keep_going and computed:
        for fault in faults:
            print(fault, file=sys.stderr)
        return
    if faults:
        if computed:
            hint = (
                f"{len(computed)} other gaugings could be computed"
                if len(computed) > 1
                else "one other gauging could be computed"
            )
            faults = (*faults, Fault(f"{hint}: say --keep-going to leave the refused ones out"))
        raise InputRefused(faults)
    if not computed:
        raise InputRefused(
            [
                Fault(f"{item.label}: {item.reason}; nothing to compute", file=source.file)
                for source in sources
                for item in source.items
            ]
        )
