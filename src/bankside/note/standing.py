"""Whether a discharge may be taken as it stands, and how far it may be off: for note and workbook.

Nothing here changes a figure; it says what has to be seen beside it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.budget import Budget
from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.finding import SEVERITIES, Finding
from bankside.note.section_drawing import DrawnChannel

__all__ = ["IN_DOUBT", "headline_budgets", "warnings"]

IN_DOUBT: Final = "± not told while a reading is in doubt"

_GRAVE: Final = SEVERITIES[:2]
_FAR_APART: Final = 2.0
"""Methods that differ by more than this factor are told both. Ours, no source."""


def warnings(
    findings: Sequence[Finding], channels: Sequence[DrawnChannel], finished: bool
) -> tuple[str, ...]:
    """Return why a discharge is not the last word, one sentence each, the plainest first."""
    return tuple(_warnings(findings, channels, finished))


def _warnings(
    findings: Sequence[Finding], channels: Sequence[DrawnChannel], finished: bool
) -> Iterator[str]:
    if not finished:
        yield "Unfinished: readings are still to come"
    counts = Counter(finding.severity for finding in findings if is_open(finding))
    grave = [f"{counts[severity]} {severity}" for severity in _GRAVE if counts[severity]]
    if grave:
        yield f"Not a final figure: {', '.join(grave)} not answered"
    yield from _grave_answers(findings)
    for channel in channels:
        edges = _unmeasured(channel)
        if edges:
            where = f"{channel.title}: " if len(channels) > 1 else ""
            sentence = f"{where}{edges} not measured: the figure is too small"
            yield f"{sentence[0].upper()}{sentence[1:]}"


def _grave_answers(findings: Sequence[Finding]) -> Iterator[str]:
    """Yield what was accepted though it is grave, and by whom."""
    for finding in findings:
        if finding.answer is not None and finding.severity in _GRAVE:
            by = finding.answer.by or "somebody unnamed"
            yield f'{finding.severity.capitalize()}, "{finding.check}", accepted by {by}'


def _unmeasured(channel: DrawnChannel) -> str:
    """Return in words which edges of water were not measured; nothing where both were."""
    if all(channel.unmeasured):
        return "both edges"
    if not any(channel.unmeasured):
        return ""
    bank = channel.banks[channel.unmeasured.index(True)]
    return "one edge" if bank is None else f"{bank} edge"


def headline_budgets(budgets: Sequence[Budget]) -> tuple[Budget, ...]:
    """Return the budgets whose figure may stand beside the discharge: none, one or two of them.

    The model between verticals, by itself. Where there is none that of ISO 748, or by interpolated
    variance; both, the smaller first, where they are far apart or the section's own scatter is the
    larger. Components are a lower bound and never stand there.
    """
    ours = tuple(budget for budget in budgets if budget.key == "between-verticals")
    if ours:
        return ours
    fit = [budget for budget in budgets if budget.key != "components"]
    fit.sort(key=lambda budget: budget.standard_percent)
    larger_scatter = len(fit) > 1 and fit[-1].key == "interpolated-variance"
    far = len(fit) > 1 and fit[-1].standard_percent > _FAR_APART * fit[0].standard_percent
    if far or larger_scatter:
        return fit[0], fit[-1]
    return tuple(budget for budget in budgets if budget in fit)[:1]
