"""What a note says about where, when, by whom and with what a gauging was made."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Final

from bankside.gauging.header_records import Meter, MeterCheck, Position, RatingPart
from bankside.gauging.records import Gauging
from bankside.note.content import Fact, FactGroup

__all__ = ["NOT_RECORDED", "clock", "day_of", "fact", "fact_groups", "one_line"]

NOT_RECORDED: Final = "not recorded"


def one_line(text: str) -> str:
    """Return a name as one line, however it was typed."""
    return " ".join(text.split())


def fact(name: str, value: str | None) -> Fact:
    """Return a fact that is shown as open where nothing was recorded."""
    return Fact(name, NOT_RECORDED, open=True) if value is None else Fact(name, value)


def day_of(gauging: Gauging) -> datetime.date | None:
    """Return the day of a gauging, from its start where no date is written."""
    if gauging.date is not None or gauging.started is None:
        return gauging.date
    return gauging.started.date()


def clock(at: datetime.datetime | None, day: datetime.date | None) -> str | None:
    """Return a time with its offset from UTC, and its date where that is another day's."""
    if at is None:
        return None
    date = "" if at.date() == day else f"{at:%Y-%m-%d} "
    offset = at.strftime("%z")
    return f"{date}{at:%H:%M} (UTC{offset[:3]}:{offset[3:5]})"


def fact_groups(gauging: Gauging) -> tuple[FactGroup, ...]:
    """Return the facts of a gauging in groups; what nobody wrote down stays visible as open."""
    return (
        FactGroup("Where", tuple(_where(gauging))),
        FactGroup("When and who", (*_when(gauging), *_who(gauging))),
        FactGroup("With what", tuple(_with_what(gauging))),
    )


def _where(gauging: Gauging) -> Iterator[Fact]:
    # What was recorded of stream and site is the head of the note; here stands what was not.
    for name, value in (("Stream", gauging.site.stream), ("Site", gauging.site.name)):
        if value is None:
            yield fact(name, None)
    position = gauging.site.position
    yield fact("Position", None if position is None else _position(position))
    if position is not None and position.label is not None:
        yield _named("Point", position.label)
    yield fact("All water passes", _yes_or_no(gauging.whole_flow))
    if gauging.cleared is not None:
        yield fact("Last cleared", clock(gauging.cleared, day_of(gauging)))
    if gauging.moved is not None:
        yield Fact("What was moved", gauging.moved)


def _named(name: str, value: str | None) -> Fact:
    return fact(name, None if value is None else one_line(value))


def _position(position: Position) -> str:
    north = "N" if position.lat >= 0 else "S"
    east = "E" if position.lon >= 0 else "W"
    words = f"{abs(position.lat):.10g}° {north}, {abs(position.lon):.10g}° {east}"
    return words if position.accuracy_m is None else f"{words}, within {position.accuracy_m:g} m"


def _when(gauging: Gauging) -> Iterator[Fact]:
    day = day_of(gauging)
    yield fact("Started", clock(gauging.started, day))
    yield fact("Ended", clock(gauging.ended, day))
    if gauging.repeats is not None:
        yield _named("Duplicate of", gauging.repeats)


def _who(gauging: Gauging) -> Iterator[Fact]:
    if not gauging.crew:
        yield fact("Crew", None)
    for member in gauging.crew:
        role = "" if member.role is None else f" ({member.role})"
        yield Fact("Crew", one_line(f"{member.name}{role}"))


def _with_what(gauging: Gauging) -> Iterator[Fact]:
    meter = gauging.meter or Meter()
    yield _named("Meter", meter.kind)
    yield _named("Serial number", meter.serial)
    if meter.rotor is not None:
        yield Fact("Rotor", meter.rotor)
    unit = gauging.units.velocity
    if meter.rating:
        yield Fact("Rating", "\n".join((*map(_rating, meter.rating), f"(v in {unit}, n in rev/s)")))
    yield fact("Calibrated", None if meter.calibrated is None else meter.calibrated.isoformat())
    if meter.calibration_due is not None:
        yield Fact("Calibration due", meter.calibration_due.isoformat())
    if meter.slowest is not None:
        yield Fact("Slowest", f"{meter.slowest:g} {unit}")
    if meter.shallowest is not None:
        depth = gauging.units.depth or gauging.units.length
        yield Fact("Shallowest", f"{meter.shallowest:g} {depth}")
    checks = [_check(check, unit) for check in meter.checks]
    yield fact("Proofs", "\n".join(checks) or None)


def _rating(part: RatingPart) -> str:
    end = "" if part.up_to is None else f" up to n = {part.up_to:.10g}"
    sign = "-" if part.intercept < 0 else "+"
    return f"v = {part.slope:.10g} n {sign} {abs(part.intercept):.10g}{end}"


def _check(check: MeterCheck, unit: str) -> str:
    if check.kind == "spin":
        return f"spin {check.when}: {check.seconds:g} s"
    return f"still water {check.when}: {check.value:g} {unit}"


def _yes_or_no(answer: bool | None) -> str | None:
    return None if answer is None else "yes" if answer else "no"
