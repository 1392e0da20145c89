"""What is not settled about gaugings: their review, filed figures, and what nobody answered.

Gaugings of files have no state and nothing filed; then the words on these are empty.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from bankside.gauging.checks.finding import SEVERITIES, Finding
from bankside.gauging.rounding import to_figures
from bankside.report.survey.material import SurveyMaterial
from bankside.survey.visits import Visit
from bankside.survey.words import listed

__all__ = [
    "approved_words",
    "filed_in_short",
    "filed_words",
    "not_approved_words",
    "open_words",
    "state_to_know",
    "state_words",
]

_APPROVED = "approved"
_SENT_BACK = "sent back"
_FIGURES = 3
_MOST_FIGURES = 9
"""Figures to which two discharges are told: as any other, more where they would look alike."""


def approved_words(material: SurveyMaterial) -> str:
    """Return how many gaugings are approved, empty where none has a state."""
    states = _states(material)
    if not states:
        return ""
    return f"approved {states[_APPROVED]} of {_count(states.total())}"


def not_approved_words(material: SurveyMaterial) -> str:
    """Return in a sentence which gaugings are not approved, empty where that is not known of any.

    Each state with how many are in it, the most frequent first.
    """
    states = _states(material)
    total, waiting = states.total(), states.total() - states[_APPROVED]
    if not waiting:
        return ""
    told = listed([f"{n} {state}" for state, n in states.most_common() if state != _APPROVED])
    are = "is" if waiting == 1 else "are"
    return f"{waiting} of {_count(total)} {are} not approved ({told})."


def state_to_know(visit: Visit) -> str:
    """Return the state of a gauging where it is to be known: all but approved ones.

    One that is under way is told as unfinished already.
    """
    return visit.state if visit.finished and visit.state != _APPROVED else ""


def state_words(visit: Visit) -> str:
    """Return the state of a gauging, and by whom where it is a verdict; empty without a state."""
    verdict = visit.state in (_APPROVED, _SENT_BACK) and visit.reviewed_by
    return f"{visit.state} by {visit.reviewed_by}" if verdict else visit.state


def open_words(waiting: Sequence[Finding]) -> str:
    """Return how many findings are open, with how grave they are where that is to be seen."""
    found = {finding.severity for finding in waiting}
    grave = next((f", {severity}" for severity in SEVERITIES[:2] if severity in found), "")
    return f"{len(waiting)} open{grave}"


def filed_words(visit: Visit) -> str:
    """Return the filed figure with what readings give now, empty where they are one."""
    filed, result = visit.filed_m3s, visit.result
    if not visit.differs_from_filed or filed is None:
        return ""
    by = "" if visit.filed_by is None else f" by version {visit.filed_by} of the method"
    if result is None:
        before = to_figures(filed, _FIGURES)
        return f"filed {before} m³/s{by}; readings now give no discharge: {visit.refused}"
    before, now = _told_apart(filed, result.discharge_m3s)
    return f"filed {before} m³/s{by}; readings now give {now} m³/s"


def filed_in_short(visit: Visit) -> str:
    """Return both figures in m³/s as short as a cell has room, empty where they are one."""
    filed, result = visit.filed_m3s, visit.result
    if not visit.differs_from_filed or filed is None:
        return ""
    if result is None:
        return f"filed {to_figures(filed, _FIGURES)}, readings now give none"
    before, now = _told_apart(filed, result.discharge_m3s)
    return f"filed {before}, readings now give {now}"


def _told_apart(one: float, other: float) -> tuple[str, str]:
    """Return two figures that differ with as many figures as it takes to see it."""
    for figures in range(_FIGURES, _MOST_FIGURES + 1):
        told = to_figures(one, figures), to_figures(other, figures)
        if told[0] != told[1]:
            return told
    return repr(one), repr(other)


def _states(material: SurveyMaterial) -> Counter[str]:
    """Return how many gaugings are in each state; those without one are in none."""
    return Counter(one.visit.state for one in material.surveyed if one.visit.state)


def _count(total: int) -> str:
    return "1 gauging" if total == 1 else f"{total} gaugings"
