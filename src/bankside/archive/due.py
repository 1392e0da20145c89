"""When a figure is filed for a gauging: where readings or an approval give a reason to.

A version of the method is no reason, nor is a remark, an answer or a verdict that leaves the
figures as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import attrs

from bankside.archive.filing import Filing, figures_of
from bankside.archive.plain import plain
from bankside.archive.work_out import Worked
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.review_record import Review
from bankside.gauging.journal.state import state_of

__all__ = ["Due", "entries_of_state", "figures_in", "filing_due"]

_FIRST = "first worked out"
_CHANGED = "the readings changed"
_APPROVED = "approved"

Then = Callable[[str], Worked | None]
"""What a gauging comes to by its entries as they were in a state, None where they are not known."""


@attrs.frozen
class Due:
    """A filing that is due: what is filed, why, and by whom."""

    worked: Worked
    reason: str
    by: str | None = None


def filing_due(filings: Sequence[Filing], worked: Worked, then: Then) -> Due | None:
    """Return the filing that is due for a gauging now, None where none is.

    filings: those that there are, the first first. Called again after each filing, until none is
    due.
    """
    if not worked.over:
        return None
    approved = _approved(filings, worked, then)
    if approved is not None or (worked.row["state"] == "changed since approval" and filings):
        return approved
    if figures_in(worked) is None:
        return None
    if not filings:
        return Due(worked, _FIRST)
    last = filings[-1]
    if not _changed(last, worked, then):
        return None
    return Due(worked, _by_which_method(_CHANGED, last, worked))


def entries_of_state(entries: Sequence[Entry], state: str) -> Sequence[Entry] | None:
    """Return the entries of a gauging as they were in a state, None where they never were.

    entries: in the order in which they came. They are looked for in that order, and in the order in
    which they were said, as when a whole journal came at once.
    """
    for ordered in (entries, sorted(entries, key=lambda entry: entry.order)):
        for count in range(len(ordered), 0, -1):
            if state_of(ordered[:count]) == state:
                return ordered[:count]
    return None


def figures_in(worked: Worked | None) -> dict[str, Any] | None:
    """Return the figures that a gauging comes to, None where its readings give none."""
    if worked is None or worked.visit is None or worked.visit.result is None:
        return None
    return figures_of(worked.visit.result, worked.visit.budget)


def _approved(filings: Sequence[Filing], worked: Worked, then: Then) -> Due | None:
    """Return the filing of what was approved, None where nothing was, or it is filed already."""
    review = None if worked.recorded is None else worked.recorded.review
    if review is None or review.verdict != "approved":
        return None
    if any(_is_of(one, review) for one in filings):
        return None
    approved = worked if review.state == worked.state else then(review.state)
    version = None if approved is None else _version_in(approved)
    if approved is None or version is None or review.method_version not in (None, version):
        # The figure that was looked at is one of another version, filed before: it holds.
        return None
    last = filings[-1] if filings else None
    return Due(approved, _by_which_method(_APPROVED, last, approved), review.by)


def _is_of(filing: Filing, review: Review) -> bool:
    """Return whether a figure was filed for a review; a person may file with any words."""
    approval = filing.reason.split(";")[0] == _APPROVED and filing.by == plain(review.by)
    return approval and filing.state == review.state


def _changed(last: Filing, worked: Worked, then: Then) -> bool:
    """Return whether what was said since a figure was filed gives another one."""
    now = figures_in(worked)
    if last.state == worked.state or now == last.figures:
        return False
    if last.method_version == _version_in(worked):
        return True
    # Two versions of the method differ by themselves: both sets of entries go by this one.
    return figures_in(then(last.state)) != now


def _by_which_method(reason: str, last: Filing | None, worked: Worked) -> str:
    version = _version_in(worked)
    if last is None or last.method_version == version:
        return reason
    return f"{reason}; by version {version} of the method, before {last.method_version}"


def _version_in(worked: Worked) -> str | None:
    """Return the version of the method by which there is a figure, None where there is none."""
    if worked.visit is None or worked.visit.result is None:
        return None
    return worked.visit.result.method_version
