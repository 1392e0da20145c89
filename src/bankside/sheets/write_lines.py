"""What stands around a single gauging, as lines over its table that are read back."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from bankside.gauging.records import Gauging, Meter, Units
from bankside.gauging.text_guard import guarded
from bankside.sheets.names import name_line

__all__ = ["CREW_KEYS", "comment_line", "figure_text", "header_lines"]

CREW_KEYS = {"rod": "operator", "recorder": "recorder", "leader": "leader"}
"""What a crew member did → the key of the line that says so."""

_SEPARATORS = re.compile(r"[,;|\t]")


def figure_text(value: str | float) -> str:
    """Return a figure with all its digits, whole numbers without a point; a text as it is."""
    return value if isinstance(value, str) else f"{value!r}".removesuffix(".0")


def header_lines(gauging: Gauging) -> Iterator[tuple[str, str]]:
    """Yield what stands around a single gauging, under keys that `read_preface` knows."""
    if gauging.id is not None:
        yield "gauging id", gauging.id
    position = gauging.site.position
    if position is not None:
        yield "latitude", figure_text(position.lat)
        yield "longitude", figure_text(position.lon)
        if position.accuracy_m is not None:
            yield "accuracy (m)", figure_text(position.accuracy_m)
        if position.label is not None:
            yield "label", position.label
    for key, moment in (
        ("started", gauging.started),
        ("ended", gauging.ended),
        ("cleared", gauging.cleared),
    ):
        if moment is not None:
            yield key, moment.isoformat()
    if gauging.meter is not None:
        yield from _meter_lines(gauging)
    for member in gauging.crew:
        yield CREW_KEYS.get(member.role or "", "crew"), name_line(member.name)
    for stage in gauging.stage:
        yield "stage", _at(figure_text(stage.value), stage.at)
    if gauging.no_gauge:
        yield "stage", "no gauge"
    if gauging.whole_flow is not None:
        yield "whole flow", "yes" if gauging.whole_flow else "no"
    if gauging.moved is not None:
        yield "moved", " ".join(gauging.moved.split())
    if gauging.quality is not None:
        yield "quality", gauging.quality
    if gauging.rule_set is not None:
        yield "rule set", gauging.rule_set
    if gauging.remarks is not None:
        yield "remarks", " ".join(gauging.remarks.split())


def comment_line(key: str, line: str) -> str:
    """Return a key and its line as a comment over a table in CSV.

    Line breaks and other space in it are single spaces. A spreadsheet cuts it up like any row:
    where a part would be a formula to it then, whatever sign it cuts at, the comment stands in
    quotation marks, as one cell.
    """
    text = f"# {key}: {' '.join(line.split())}"
    parts = (part.strip().lstrip('"') for part in _SEPARATORS.split(text)[1:])
    if all(part == guarded(part) for part in parts):
        return text
    return '"' + text.replace('"', '""') + '"'


def _meter_lines(gauging: Gauging) -> Iterator[tuple[str, str]]:
    meter = gauging.meter
    assert meter is not None
    if meter.kind is not None:
        yield "meter", meter.kind
    if meter.serial is not None:
        yield "meter serial", meter.serial
    if meter.rating:
        yield (
            "meter rating",
            "; ".join(
                " ".join(figure_text(n) for n in (p.slope, p.intercept, p.up_to) if n is not None)
                for p in meter.rating
            ),
        )
    yield from _paper_lines(meter, gauging.units)
    for proof in meter.checks:
        figure = proof.seconds if proof.kind == "spin" else proof.value
        assert figure is not None
        yield f"{proof.kind} {proof.when}", _at(figure_text(figure), proof.at)


def _paper_lines(meter: Meter, units: Units) -> Iterator[tuple[str, str]]:
    """Yield what the papers of a meter say, its limits in the units of the gauging."""
    if meter.rotor is not None:
        yield "rotor", meter.rotor
    if meter.slowest is not None:
        yield f"least velocity ({units.velocity})", figure_text(meter.slowest)
    if meter.shallowest is not None:
        yield f"least depth ({units.depth or units.length})", figure_text(meter.shallowest)
    for key, day in (
        ("calibrated", meter.calibrated),
        ("calibration due", meter.calibration_due),
    ):
        if day is not None:
            yield key, day.isoformat()


def _at(figure: str, moment: datetime.datetime | None) -> str:
    """Return a figure with the moment at which it was read, where that is known."""
    return figure if moment is None else f"{figure} at {moment.isoformat()}"
