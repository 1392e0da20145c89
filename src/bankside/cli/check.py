"""`bankside check`: what is doubtful about a gauging, by whose rule, and what to do about it."""

from __future__ import annotations

import datetime
import json
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import Parameter

from bankside.cli.findings import Checked, findings_as_document, render_findings, render_overview
from bankside.cli.inputs import SheetOptions, Source, load, require_usable
from bankside.cli.next_acts import next_acts
from bankside.cli.output import suffix_faults, write_file, write_utf8
from bankside.cli.plan_options import percent
from bankside.cli.render import PlainConsole, render_lines
from bankside.cli.rules_used import rules_for
from bankside.cli.summary import render_rows
from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.finding import SEVERITIES, Severity
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.wire import several_to_json
from bankside.sheets.answers import save_answers
from bankside.sheets.read import SheetGauging

__all__ = ["check_command"]

_FEW = 3
"""Findings of up to so many gaugings are shown in full, unless every one is asked for."""


def check_command(
    files: list[Path],
    /,
    *,
    rules: str | None = None,
    unfinished: Annotated[bool, Parameter(show_default=False)] = False,
    target: Annotated[float | None, Parameter(converter=percent)] = None,
    level: Severity = "note",
    accept: Annotated[tuple[str, ...], Parameter(show_default=False, consume_multiple=False)] = (),
    by: str | None = None,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    strict: Annotated[bool, Parameter(show_default=False)] = False,
    each: Annotated[bool, Parameter(show_default=False)] = False,
    as_json: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    keep_going: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> int:
    """Say what is doubtful about every gauging in the given files, and what to do about it.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS), gaugings in our JSON form, journals of the app, or open
        formats (Data Package, GeoPackage, Parquet, WaterML), finished or not.
    rules
        The rule set to go by: a name of `bankside rules list`, or a TOML file of your own. The one
        that the record names if nothing is said, else common-practice.
    unfinished
        The crew is still in the water: say only what can be said so far.
    target
        Say as well what to do next in the water, to so many percent (19 in 20), such as 8: which
        act lowers the uncertainty most for its time, that it is enough, or not to be had here.
    level
        The least severity shown: stop, fix now, explain or note.
    accept
        Answer a finding: KEY=REASON, the key as printed beside it. Repeat as needed; --output
        says where the record with its answers goes.
    by
        Who accepts.
    output
        Where to write the records, answers included, in our JSON form.
    replace
        Write over a file that is there already.
    strict
        End with 1 while a finding of "stop" or "fix now" is unanswered.
    each
        Show the findings of every gauging, however many there are.
    as_json
        Print one JSON object with everything.
    keep_going
        Check what can be read although some gaugings are refused; they are still listed.
    """
    _require_places(accept, output, by)
    if rules is not None:
        load_rule_set(rules)  # what is wrong with it is said before anything is read
    answers = options.to_answers()
    sources = load(files, answers)
    usable = [
        (source, item) for source in sources for item in source.items if item.gauging is not None
    ]
    require_usable(sources, len(usable), keep_going, "check")
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    looked = [
        _look(source, item, item.gauging, rules, not unfinished)
        for source, item in usable
        if item.gauging is not None
    ]
    if accept:
        looked = _answered(looked, accept, by)
    if target is not None:
        looked = [_with_next(one, target) for one in looked]
    if output is not None:
        text = several_to_json([one.gauging for one in looked])
        write_file(output, replace, lambda path: path.write_bytes(text.encode("utf-8")))
    if as_json:
        document = findings_as_document(looked)
        write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
    else:
        _show(sources, looked, level, each)
    grave = (f for one in looked for f in one.findings if f.severity in SEVERITIES[:2])
    return 1 if strict and any(finding.answer is None for finding in grave) else 0


def _look(
    source: Source, item: SheetGauging, gauging: Gauging, rules: str | None, finished: bool
) -> Checked:
    rule_set, about_rules = rules_for(gauging, rules)
    today = datetime.date.today()
    findings = check_gauging(gauging, rule_set, finished=finished, today=today)
    remarks = (*item.notes, *about_rules)
    return Checked(source.file, item.label, gauging, rule_set, finished, findings, remarks)


def _with_next(one: Checked, target: float) -> Checked:
    acts = next_acts(one.gauging, one.rules, one.findings, target, finished=one.finished)
    return attrs.evolve(one, next=acts)


def _require_places(accept: Sequence[str], output: Path | None, by: str | None) -> None:
    faults = []
    if accept and output is None:
        faults.append(Fault("--accept needs --output FILE.json, where the record keeps the answer"))
    keys = Counter(text.partition("=")[0].strip().lower() for text in accept)
    faults += [
        Fault(f'--accept: found the key "{key}" {number} times; one reason for each would be right')
        for key, number in keys.items()
        if number > 1
    ]
    faults += [] if output is None else suffix_faults(output, ".json")
    if by is not None and not accept:
        faults.append(Fault("--by must go with --accept"))
    faults += [
        Fault(f'--accept: found "{text}"; KEY=REASON with the key of a finding would be right')
        for text in accept
        if not text.partition("=")[1]
    ]
    if faults:
        raise InputRefused(faults)


def _answered(looked: Sequence[Checked], accept: Sequence[str], by: str | None) -> list[Checked]:
    """Return the gaugings with the answers in them; InputRefused unless a key is one finding's."""
    parted = (text.partition("=") for text in accept)
    reasons = {key.strip().lower(): reason.strip() for key, _, reason in parted}
    faults = [fault for key in reasons for fault in _key_faults(looked, key)]
    if faults:
        raise InputRefused(faults)
    now = datetime.datetime.now().astimezone().replace(microsecond=0)
    done = []
    for one in looked:
        own = {key_of(f) for f in one.findings} & set(reasons)
        if own:
            chosen = {key: reason for key, reason in reasons.items() if key in own}
            gauging = accepted(one.gauging, one.findings, chosen, by=by, at=now)
            findings = check_gauging(
                gauging, one.rules, finished=one.finished, today=datetime.date.today()
            )
            one = attrs.evolve(one, gauging=gauging, findings=findings)
        done.append(one)
    return done


def _key_faults(looked: Sequence[Checked], key: str) -> Iterator[Fault]:
    """Yield why a key does not say which finding is meant."""
    there = [one for one in looked if key in map(key_of, one.findings)]
    if not there:
        yield Fault(f'--accept: no finding has the key "{key}"; the keys stand before the findings')
    elif len(there) > 1:
        named = ", ".join(f"{one.file} ({one.label})" for one in there)
        yield Fault(
            f'--accept: found the key "{key}" in {len(there)} gaugings, {named}; a run with one of '
            "them would be right"
        )


def _show(
    sources: Sequence[Source], looked: Sequence[Checked], level: Severity, each: bool
) -> None:
    console = PlainConsole()
    if each or len(looked) <= _FEW:
        for number, one in enumerate(looked):
            render_lines(console, ["", "-" * 60, ""] if number else [])
            render_findings(console, one, level)
    if len(looked) > 1:
        render_overview(console, looked, level)
    render_rows(console, sources, listed=False)
