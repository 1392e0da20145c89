"""The sheets "Findings" and "Corrections": what the checks say, and what was struck through."""

from __future__ import annotations

from collections.abc import Sequence

from xlsxwriter.worksheet import Worksheet

from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.report.workbook_cells import Cell, Column, Looks, Table
from bankside.report.workbook_readings import moment

__all__ = ["write_corrections", "write_findings"]


def write_findings(
    sheet: Worksheet,
    looks: Looks,
    gauging: Gauging,
    findings: Sequence[Finding] | None,
    title: str,
) -> None:
    """Write a row a finding; a sentence where there is none, or where no checks were made."""
    unit = gauging.units.length
    table = Table(
        sheet,
        looks,
        title,
        "What the checks say: stop is unsafe or nonsense; fix now: while the crew is in the water; "
        "explain: acceptable with a reason; note: to be known.",
        (
            Column("severity", "severity", 10, "text"),
            Column("check", "check", 18, "text"),
            Column("channel", "channel", 8),
            Column("tapes", f"at tape ({unit})", 12, "text"),
            Column("found", "found", 38, "text"),
            Column("advice", "advice", 34, "text"),
            Column("instead", "probably meant", 10),
            Column("thresholds", "thresholds and their sources", 44, "text"),
            Column("answer", "accepted because", 24, "text"),
            Column("by", "by", 12, "text"),
            Column("at", "at", 14, "text"),
        ),
    )
    for finding in findings or ():
        table.add(_finding(finding))
    if not findings:
        none = "no checks were made" if findings is None else "the checks found nothing"
        table.add({"severity": "none", "check": none})


def _finding(finding: Finding) -> dict[str, Cell]:
    answer = finding.answer
    cells: dict[str, Cell] = {
        "severity": finding.severity,
        "check": finding.check,
        "channel": None if finding.channel is None else finding.channel + 1,
        "tapes": ", ".join(f"{float(tape)!r}".removesuffix(".0") for tape in finding.tapes),
        "found": finding.found,
        "advice": " ".join(part for part in (finding.advice, finding.hangs_on) if part),
        "instead": finding.instead,
        "thresholds": "\n".join(_threshold(threshold) for threshold in finding.thresholds),
    }
    if answer is not None:
        cells |= {"answer": answer.reason, "by": answer.by, "at": moment(answer.at)}
    return cells


def _threshold(threshold: Threshold) -> str:
    checked = f", checked by {threshold.checked_by}" if threshold.checked_by else ""
    return (
        f"{threshold.meaning}: {threshold.words()} ({threshold.source}; {threshold.confidence}"
        f"{checked}; rule set {threshold.rule_set})"
    )


def write_corrections(sheet: Worksheet, looks: Looks, gauging: Gauging, title: str) -> None:
    """Write a row a correction, or that there is none."""
    table = Table(
        sheet,
        looks,
        title,
        "Figures that were struck through and written again. The readings are those of now.",
        (
            Column("what", "what", 36, "text"),
            Column("was", "was", 20, "text"),
            Column("now", "now", 20, "text"),
            Column("reason", "reason", 48, "text"),
            Column("by", "by", 18, "text"),
            Column("at", "at", 27, "text"),
        ),
    )
    for correction in gauging.corrections:
        table.add(
            {
                "what": correction.what,
                "was": correction.was,
                "now": "taken out" if correction.now is None else correction.now,
                "reason": correction.reason,
                "by": correction.by,
                "at": moment(correction.at),
            }
        )
    if not gauging.corrections:
        table.add({"what": "no correction is written down"})
