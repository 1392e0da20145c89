"""How a gauging stands after every entry: the record, the discharge, the findings, what is next."""

from __future__ import annotations

import datetime
from typing import Any

from bankside.bank.journal import JournalRead, faults_as_json, read_journal
from bankside.bank.last_time import earlier_view
from bankside.bank.request import Request
from bankside.bank.standing import Standing, standing_of
from bankside.bank.time_left import seconds_left
from bankside.bank.view_findings import finding_view
from bankside.bank.view_next import next_view, target_of
from bankside.bank.view_result import result_view
from bankside.bank.view_verticals import largest_shares, rod_view, verticals_view
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Gauging
from bankside.gauging.share_limits import limits_of
from bankside.gauging.structure import unstructured
from bankside.gauging.wire import FORMAT

__all__ = ["look", "record_as_json"]


def look(request: Request) -> dict[str, Any]:
    """Return the view of a gauging, finished or not: docs/bank.md has every member of it."""
    items, earlier = request.entries("entries"), request.entries("earlier")
    now, finished = request.moment("now"), request.flag("finished")
    request.done("entries")
    journal = read_journal(items or [])
    standing = standing_of(journal.recorded, finished)
    today = None if now is None else now.date()
    view = _of_nothing(standing) if standing.gauging is None else _of(standing, today)
    compared, remarks = earlier_view(standing, earlier)
    return {
        **_about(journal, standing),
        **view,
        "earlier": compared,
        "remarks": [*standing.remarks, *remarks],
    }


def record_as_json(gauging: Gauging) -> dict[str, Any]:
    """Return a record in its wire form."""
    return {"format": FORMAT, **unstructured(gauging)}


def _about(journal: JournalRead, standing: Standing) -> dict[str, Any]:
    record = standing.recorded.gauging
    limits = limits_of(standing.rules)
    return {
        "record": None if record is None else record_as_json(record),
        "faults": faults_as_json(journal.faults),
        "state": "closed" if standing.recorded.closed else "open",
        "finished": standing.finished,
        "no_result": standing.no_result,
        "exposure_s": standing.rules.si("exposure"),
        "share_limits": {"aim": limits.aim, "limit": limits.limit},
        "seconds_left": seconds_left(standing),
        "target": target_of(journal.recorded),
    }


def _of_nothing(standing: Standing) -> dict[str, Any]:
    return {
        **result_view(standing, ()),
        "verticals": [],
        "findings": [],
        "rod": {},
        "largest": [],
        "next": [],
    }


def _of(standing: Standing, today: datetime.date | None) -> dict[str, Any]:
    gauging, rules = standing.gauging, standing.rules
    assert gauging is not None
    findings = check_gauging(gauging, rules, finished=standing.finished, today=today)
    examined = examine(gauging, rules, finished=standing.finished, today=today)
    return {
        **result_view(standing, findings),
        "verticals": verticals_view(standing, examined),
        "findings": [finding_view(standing, finding) for finding in findings],
        "rod": rod_view(standing, examined),
        "largest": largest_shares(standing, examined),
        "next": next_view(standing, examined, findings),
    }
