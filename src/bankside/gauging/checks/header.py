"""What is missing around the readings, so that nobody can say later where they were made."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import Gauging

__all__ = ["CHECKS"]


def _gaps(examined: Examined) -> Iterator[Finding]:
    missing = [*_from_the_start(examined.gauging)]
    if examined.finished:
        missing += _at_the_end(examined.gauging)
    if missing:
        yield Finding(
            check="Header gaps",
            severity="note",
            found=f"Not written down: {', '.join(missing)}.",
            advice="Fill it in before leaving the stream; what nobody knows any more stays empty.",
        )


def _from_the_start(gauging: Gauging) -> Iterator[str]:
    """Yield what should be there before the first reading and is not."""
    site, meter = gauging.site, gauging.meter
    if site.stream is None:
        yield "the stream"
    if site.name is None:
        yield "the site"
    if site.position is None:
        yield "the position"
    if gauging.date is None and gauging.started is None:
        yield "the date"
    if gauging.started is None:
        yield "the start with its time zone"
    if not gauging.crew:
        yield "the crew"
    yield from _roles(gauging)
    if meter is None or (meter.kind is None and meter.serial is None):
        yield "the meter"
    elif meter.serial is None:
        yield "the meter's serial number"
    elif meter.kind is None:
        yield "the kind of meter"
    if not gauging.stage and not gauging.no_gauge:
        yield "the stage (or that there is no gauge)"


def _roles(gauging: Gauging) -> Iterator[str]:
    """Yield whose role in the crew is missing."""
    without = [member.name for member in gauging.crew if member.role is None]
    if without:
        yield f"the role of {' and '.join(without)}"


def _at_the_end(gauging: Gauging) -> Iterator[str]:
    """Yield what comes with the last reading and is not there."""
    if gauging.ended is None:
        yield "the end with its time zone"
    if len(gauging.stage) == 1:
        yield "the second stage"


CHECKS = (
    Check(
        name="Header gaps",
        trigger="Stream, site, position, date, start with its time zone, crew or somebody's role "
        "in it, meter, its kind or serial number, or the stage (or that there is no gauge) is "
        "missing; once the gauging is finished, its end with its time zone or the second stage as "
        "well.",
        severities=("note",),
        remedy="Fill them in before leaving.",
        source="USGS TM 3-A8 (from memory); Manual of Standard Operating Procedures for "
        "Hydrometric Surveys in British Columbia, 1998, F.3",
        find=_gaps,
    ),
)
