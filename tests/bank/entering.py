"""A gauging entered into a journal as a crew calls it out, entry by entry."""

import datetime
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import attrs

from bankside.bank import answer
from bankside.gauging.records import (
    Gauging,
    MeterCheck,
    PointReading,
    RatingPart,
    Units,
    Vertical,
)
from bankside.sheets.read import read_sheets

DEMO = Path(__file__).parents[2] / "demo" / "sheets"
START = datetime.datetime(
    2026, 7, 14, 10, 5, tzinfo=datetime.timezone(datetime.timedelta(hours=-7))
)
GAUGING = "11111111-2222-4333-8444-555555555555"

Entry = dict[str, Any]
Said = tuple[str, Any]


def demo(name: str) -> Gauging:
    """The first gauging of a sheet of the demonstration."""
    found = next(i.gauging for i in read_sheets(DEMO / name).gaugings if i.gauging is not None)
    return in_metres(found) if found.units.depth == "cm" else found


def in_metres(gauging: Gauging) -> Gauging:
    """A gauging with depths in cm as it is called on a phone, which knows ft and m."""
    channels = tuple(
        attrs.evolve(
            channel,
            verticals=tuple(
                v if v.depth is None else attrs.evolve(v, depth=round(v.depth / 100, 6))
                for v in channel.verticals
            ),
        )
        for channel in gauging.channels
    )
    units = Units(gauging.units.length, gauging.units.velocity)
    return attrs.evolve(gauging, units=units, channels=channels)


def ask(**request: Any) -> dict[str, Any]:
    """Ask the bank and return its reply, which must be JSON without anything that JSON has not."""
    reply: dict[str, Any] = json.loads(answer(json.dumps(request)), parse_constant=_refuse)
    return reply


def _refuse(constant: str) -> None:
    raise AssertionError(f"{constant} is no JSON")


def look(entries: Sequence[Entry], **more: Any) -> dict[str, Any]:
    """The view of a journal."""
    view = ask(ask="look", entries=list(entries), now=_at(len(entries)), **more)
    assert view["ok"], view
    return view


class Pad:
    """A device that writes entries; what it says again replaces what it said before."""

    def __init__(self, device: str = "phone", gauging: str = GAUGING) -> None:
        self.entries: list[Entry] = []
        self._device, self._gauging = device, gauging

    def say(self, what: str, value: Any, **more: Any) -> "Pad":
        """Write one entry."""
        heads = [entry["id"] for entry in self.entries if entry["what"] == what][-1:]
        number = len(self.entries) + 1
        self.entries.append(
            {
                "id": f"{self._device}-{number:04d}",
                "gauging": self._gauging,
                "device": self._device,
                "sequence": number,
                "at": _at(number),
                "what": what,
                "value": value,
                **({"replaces": heads} if heads else {}),
                **more,
            }
        )
        return self

    def say_all(self, said: Iterator[Said]) -> "Pad":
        """Write one entry after another."""
        for what, value in said:
            self.say(what, value)
        return self


def _at(number: int) -> str:
    return (START + datetime.timedelta(seconds=15 * number)).isoformat()


def entered(gauging: Gauging) -> Pad:
    """A pad on which a whole record was entered in the order of the record."""
    return Pad().say_all(said_of(gauging))


def said_of(gauging: Gauging) -> Iterator[Said]:
    """What a crew says to make this record: header, then verticals in their order, then the end."""
    yield from _header(gauging)
    for number, channel in enumerate(gauging.channels, 1):
        if channel.name is not None:
            yield f"channels/{number}/name", channel.name
        for place, vertical in enumerate(channel.verticals, 1):
            yield from _vertical(f"channels/{number}/verticals/v{place}", vertical)
    for number, level in enumerate(gauging.stage, 1):
        yield f"stage/s{number}", {"value": text(level.value), **_when(level.at)}
    if gauging.whole_flow is not None:
        yield "whole_flow", gauging.whole_flow
    if gauging.quality is not None:
        yield "quality", gauging.quality
    if gauging.ended is not None:
        yield "ended", gauging.ended.isoformat()


def text(figure: float) -> str:
    """A figure as somebody types it."""
    return f"{figure:.10g}"


def _header(gauging: Gauging) -> Iterator[Said]:
    yield "units/length", gauging.units.length
    yield "units/velocity", gauging.units.velocity
    if gauging.site.stream is not None:
        yield "site/stream", gauging.site.stream
    if gauging.site.name is not None:
        yield "site/name", gauging.site.name
    if gauging.rule_set is not None:
        yield "rule_set", gauging.rule_set
    for number, member in enumerate(gauging.crew, 1):
        role = {} if member.role is None else {"role": member.role}
        yield f"crew/c{number}", {"name": member.name, **role}
    meter = gauging.meter
    if meter is not None:
        for name in ("kind", "serial", "rotor"):
            if getattr(meter, name) is not None:
                yield f"meter/{name}", getattr(meter, name)
        if meter.rating:
            yield "meter/rating", [_rating(part) for part in meter.rating]
        for number, check in enumerate(meter.checks, 1):
            yield f"meter/checks/m{number}", _check(check)
    if gauging.started is not None:
        yield "started", gauging.started.isoformat()


def _rating(part: RatingPart) -> dict[str, str]:
    up_to = {} if part.up_to is None else {"up_to": text(part.up_to)}
    return {"slope": text(part.slope), "intercept": text(part.intercept), **up_to}


def _check(check: MeterCheck) -> dict[str, str]:
    figures = {
        name: text(value)
        for name in ("seconds", "value")
        if (value := getattr(check, name)) is not None
    }
    return {"kind": check.kind, "when": check.when, **figures}


def _when(at: datetime.datetime | None) -> dict[str, str]:
    return {} if at is None else {"at": at.isoformat()}


def _vertical(place: str, vertical: Vertical) -> Iterator[Said]:
    yield f"{place}/tape", text(vertical.tape)
    for name in ("edge", "bank"):
        if getattr(vertical, name) is not None:
            yield f"{place}/{name}", getattr(vertical, name)
    if vertical.dry:
        yield f"{place}/dry", True
    for name in ("depth", "angle", "angle_coefficient", "wall_factor"):
        if getattr(vertical, name) is not None:
            yield f"{place}/{name}", text(getattr(vertical, name))
    for number, reading in enumerate(vertical.velocity, 1):
        yield f"{place}/readings/r{number}", _reading(reading)


def _reading(reading: PointReading) -> dict[str, Any]:
    figures = {
        name: text(value)
        for name in ("value", "seconds", "counts", "rod_setting")
        if (value := getattr(reading, name)) is not None
    }
    at = {} if reading.fraction is None else {"fraction": reading.fraction}
    return figures | at
