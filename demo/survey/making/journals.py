"""The files that leave the western crew's telephone: everything that was said, entry by entry."""

from __future__ import annotations

import base64
import datetime
import hashlib
import json
import random
import re
import unicodedata
import uuid
from collections.abc import Iterator, Mapping
from typing import Any, Final

import attrs

from making.courses import place_of, to_lon_lat
from making.pictures import across, along, staff_gauge
from making.reading import Called, Measured

__all__ = ["journal_file", "journal_name"]

_DEVICE: Final = "west-phone"

_PICTURES: Final[Mapping[str, tuple[str, ...]]] = {
    "QB-01": ("upstream", "staff gauge"),
    "TR-01": ("upstream",),
    "QB-02": ("downstream", "other"),
    "TR-02": ("upstream",),
}
"""Site → the purposes of the pictures that go with its gauging."""

_UNIT_MIXED_UP: Final = "QB-03"
_MISHEARD: Final = "MW-02"
"""Where a unit was set wrongly and found, and where a depth was misheard."""


@attrs.frozen
class _Said:
    """What is said next, and the seconds that went by since what was said before."""

    what: str
    value: Any
    after_s: float = 6.0
    reason: str | None = None
    by: str | None = None


def journal_name(one: Measured) -> str:
    """Return the name of the file: stream, site, day, gauging and number of entries."""
    entries = _entries(one)
    gauging = _gauging_id(one)
    words = (one.site.stream, one.site.name, f"{one.started:%Y-%m-%d}")
    return "-".join((*map(_plain, words), gauging[:8], str(len(entries)))) + ".bankside.json"


def journal_file(one: Measured) -> str:
    """Return the file, an entry a line, its pictures in it."""
    lines = [json.dumps(entry, ensure_ascii=False) for entry in _entries(one)]
    members = [
        '"format": "bankside.journal/1"',
        f'"gauging": "{_gauging_id(one)}"',
        '"entries": [\n' + ",\n".join(lines) + "\n]",
    ]
    stored = {hashlib.sha256(content).hexdigest(): content for _, content in _pictures(one)}
    if stored:
        files = [
            f'"{key}": {{"type": "image/png", "base64": "{base64.b64encode(found).decode()}"}}'
            for key, found in sorted(stored.items())
        ]
        members.append('"files": {\n' + ",\n".join(files) + "\n}")
    return "{\n" + ",\n".join(members) + "\n}\n"


def _plain(text: str) -> str:
    letters = unicodedata.normalize("NFKD", text).lower()
    return re.sub("[^a-z0-9]+", "-", letters).strip("-")


def _gauging_id(one: Measured) -> str:
    chance = random.Random(f"id {one.visit.key}")
    return str(uuid.UUID(int=chance.getrandbits(128), version=4))


def _entries(one: Measured) -> list[dict[str, Any]]:
    entries: list[dict[str, Any]] = []
    at = one.started - datetime.timedelta(minutes=14)
    last: dict[str, str] = {}
    for sequence, said in enumerate(_everything(one), 1):
        at += datetime.timedelta(seconds=said.after_s)
        entry = {
            "id": f"{_DEVICE}-{_gauging_id(one)[:8]}-{sequence:04d}",
            "gauging": _gauging_id(one),
            "device": _DEVICE,
            "sequence": sequence,
            "at": at.isoformat(timespec="milliseconds"),
            "what": said.what,
            "value": said.value,
        }
        if said.reason is not None:
            entry["reason"] = said.reason
        if said.by is not None:
            entry["by"] = said.by
        if said.what in last:
            entry["replaces"] = [last[said.what]]
        last[said.what] = str(entry["id"])
        entries.append(entry)
    return entries


def _everything(one: Measured) -> Iterator[_Said]:
    yield from _setting_out(one)
    for number, called in enumerate(one.called, 1):
        yield from _vertical(one, f"channels/1/verticals/v{number}", called)
    if one.visit.until < 1.0:
        yield _Said(
            "remarks",
            "Thunder from the west at the middle of the stream: everybody came out. "
            "To be measured again.",
        )
        return
    yield from _closing(one)


def _setting_out(one: Measured) -> Iterator[_Said]:
    crew = one.visit.crew
    yield _Said("site/stream", one.site.stream)
    yield _Said("site/name", one.site.name)
    if one.site.located:
        lon, lat = to_lon_lat(place_of(one.site))
        where = {"lon": f"{lon:.5f}", "lat": f"{lat:.5f}", "accuracy_m": "4", "fixes": 12}
        yield _Said("site/position", where, 30)
        yield _Said("site/label", one.site.id)
    yield _Said("units/length", "m")
    yield _Said("units/velocity", "ft/s" if one.site.id == _UNIT_MIXED_UP else "m/s")
    for number, (name, role) in enumerate(
        zip(crew.people, ("leader", "rod", "recorder"), strict=True), 1
    ):
        yield _Said(f"crew/c{number}", {"name": name, "role": role})
    yield _Said("meter/kind", crew.meter)
    yield _Said("meter/serial", crew.serial)
    yield _Said("meter/calibrated", crew.calibrated.isoformat())
    yield _Said("meter/calibration_due", crew.due.isoformat())
    yield _Said("meter/checks/m1", {"kind": "zero", "when": "before", "value": "0.00"}, 60)
    yield _Said("wading/w1", {"safe": True, "by": crew.people[0], "why": "looked at both banks"})
    yield _Said("zero_bank", one.visit.zero)
    yield _Said("start_bank", one.visit.first)
    for number, purpose in enumerate((p for p, _ in _pictures(one)), 1):
        content = dict(_pictures(one))[purpose]
        yield _Said(
            f"photos/p{number}",
            {
                "purpose": purpose,
                "sha256": hashlib.sha256(content).hexdigest(),
                "bytes": len(content),
                "type": "image/png",
            },
            20,
        )
    if one.stage is not None:
        yield _Said("stage/s1", {"value": f"{one.stage[0]:.3f}", "at": one.started.isoformat()})
    yield _Said("started", one.started.isoformat())


def _vertical(one: Measured, place: str, called: Called) -> Iterator[_Said]:
    yield _Said(f"{place}/tape", f"{called.tape:.2f}", 24)
    if called.edge is not None:
        yield _Said(f"{place}/edge", called.edge)
        yield _Said(f"{place}/bank", "steep" if called.steep else "sloping")
        yield _Said(f"{place}/depth", f"{called.depth:.2f}")
        if called.steep and one.site.id != _UNIT_MIXED_UP:
            yield _Said(f"{place}/wall_factor", "0.7")
        return
    deepest = max(other.depth for other in one.called)
    if one.site.id == _MISHEARD and called.depth == deepest:
        yield _Said(f"{place}/depth", f"{called.depth / 10:.2f}")
        yield _Said(
            f"{place}/depth",
            f"{called.depth:.2f}",
            9,
            f"misheard: {called.depth:.2f} was called",
            one.visit.crew.people[2],
        )
    else:
        yield _Said(f"{place}/depth", f"{called.depth:.2f}")
    for number, reading in enumerate(called.readings, 1):
        velocity = {
            "value": f"{reading.value:.2f}",
            "fraction": reading.fraction,
            "seconds": str(reading.seconds),
        }
        yield _Said(f"{place}/readings/r{number}", velocity, 47)


def _closing(one: Measured) -> Iterator[_Said]:
    leader = one.visit.crew.people[0]
    yield _Said("meter/checks/m2", {"kind": "zero", "when": "after", "value": "0.01"}, 60)
    if one.stage is not None:
        yield _Said("stage/s2", {"value": f"{one.stage[1]:.3f}", "at": one.ended.isoformat()})
    yield _Said("whole_flow", True)
    yield _Said("quality", one.visit.quality)
    yield _Said("ended", one.ended.isoformat())
    if one.site.id == _UNIT_MIXED_UP:
        yield _Said(
            "units/velocity",
            "m/s",
            40,
            "The discharge came out at a third of what passes upstream: the meter showed m/s, the "
            "telephone was still set to ft/s from the training day.",
            leader,
        )
    yield _Said("closed", {"by": leader}, 20)


def _pictures(one: Measured) -> tuple[tuple[str, bytes], ...]:
    """Return the pictures that go with a gauging, each after its purpose."""
    return tuple((purpose, _drawn(one, purpose)) for purpose in _PICTURES.get(one.site.id, ()))


def _drawn(one: Measured, purpose: str) -> bytes:
    if purpose == "staff gauge" and one.stage is not None:
        return staff_gauge(one.site.id, one.stage[0])
    return across(one.site.id) if purpose == "other" else along(one.site.id, purpose)
