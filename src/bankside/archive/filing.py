"""Figures that are filed for a gauging: each with its method, its reason, and never changed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from typing import Any

import attrs
from sqlalchemy import Connection, func, insert, select

from bankside.archive.clock import now
from bankside.archive.plain import plain
from bankside.archive.tables import filings
from bankside.archive.trouble import ArchiveDamaged
from bankside.gauging.budget import Budget
from bankside.gauging.result import Result

__all__ = ["Filing", "figures_of", "file_figures", "filings_of", "last_filing", "last_filings"]


@attrs.frozen
class Filing:
    """A figure as it was filed.

    `state` tells the entries that it rests on, `method_version` the method that gave it, `version`
    that of Bankside. `figures` are the totals and panels in SI; `is_sound` says whether they are
    those that were filed, by their checksum.
    """

    number: int
    gauging: str
    state: str
    method_version: str
    version: str
    figures: Mapping[str, Any]
    sha256: str
    reason: str
    by: str | None
    at: str
    is_sound: bool

    @property
    def discharge_m3s(self) -> float:
        """The discharge that was filed."""
        return float(self.figures["discharge_m3s"])

    @property
    def in_row(self) -> dict[str, float | None]:
        """The figures that the row of the gauging shows, whatever would be worked out today."""
        names = ("discharge_m3s", "width_m", "area_m2", "mean_depth_m", "mean_velocity_ms")
        percents = ("standard_percent", "expanded_percent")
        return {name: self.figures[name] for name in (*names, *percents)}


def figures_of(result: Result, budget: Budget | None) -> dict[str, Any]:
    """Return what is filed of a result: totals, panels, and the uncertainty that is stated."""
    return {
        "method": result.method,
        "edge_rule": result.edge_rule,
        "discharge_m3s": result.discharge_m3s,
        "area_m2": result.area_m2,
        "width_m": result.width_m,
        "mean_depth_m": result.mean_depth_m,
        "mean_velocity_ms": result.mean_velocity_ms,
        "panels": [[p.channel, p.vertical, p.discharge_m3s] for p in result.panels],
        "uncertainty": None if budget is None else budget.key,
        "standard_percent": None if budget is None else budget.standard_percent,
        "expanded_percent": None if budget is None else budget.expanded_percent,
    }


def file_figures(
    connection: Connection,
    gauging: str,
    state: str,
    result: Result,
    budget: Budget | None,
    reason: str,
    by: str | None = None,
) -> None:
    """File the figures of a gauging; those filed before stay where they are."""
    text = _text(figures_of(result, budget))
    connection.execute(
        insert(filings).values(
            gauging=gauging,
            state=state,
            method_version=result.method_version,
            version=version("bankside"),
            figures=text,
            sha256=hashlib.sha256(text.encode()).hexdigest(),
            reason=plain(reason),
            filed_by=plain(by),
            filed_at=now(),
        )
    )


def last_filing(connection: Connection, gauging: str) -> Filing | None:
    """Return the figures that hold for a gauging, None where none were filed."""
    row = connection.execute(
        select(filings)
        .where(filings.c.gauging == gauging)
        .order_by(filings.c.number.desc())
        .limit(1)
    ).first()
    return None if row is None else _filing(row)


def last_filings(connection: Connection, ids: Sequence[str]) -> dict[str, Filing]:
    """Return the figures that hold for these gaugings, for those that have any."""
    latest = (
        select(func.max(filings.c.number))
        .where(filings.c.gauging.in_(list(ids)))
        .group_by(filings.c.gauging)
    )
    rows = connection.execute(select(filings).where(filings.c.number.in_(latest)))
    return {row.gauging: _filing(row) for row in rows}


def filings_of(connection: Connection, gauging: str) -> tuple[Filing, ...]:
    """Return all figures that were ever filed for a gauging, the first first."""
    rows = connection.execute(
        select(filings).where(filings.c.gauging == gauging).order_by(filings.c.number)
    )
    return tuple(map(_filing, rows))


def _filing(row: Any) -> Filing:
    try:
        figures = json.loads(row.figures)
    except ValueError:
        figures = None
    if not isinstance(figures, dict) or "discharge_m3s" not in figures:
        raise ArchiveDamaged(
            f"Figure {row.number}, which was filed for gauging {row.gauging}, cannot be read: the "
            "archive is damaged."
        )
    return Filing(
        number=row.number,
        gauging=row.gauging,
        state=row.state,
        method_version=row.method_version,
        version=row.version,
        figures=figures,
        sha256=row.sha256,
        reason=row.reason,
        by=row.filed_by,
        at=row.filed_at,
        is_sound=hashlib.sha256(row.figures.encode()).hexdigest() == row.sha256,
    )


def _text(figures: Mapping[str, Any]) -> str:
    return json.dumps(figures, sort_keys=True, separators=(",", ":"), allow_nan=False)
