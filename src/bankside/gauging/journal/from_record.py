"""A record as a journal: what a sheet or a file says, as entries that say the same.

The entries are those of a device of their own, which says first that it copies: their clock and
their author are those of the copying, not of the readings.
"""

import hashlib
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Day, Instant, Many, Number, One, kind_of
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.values import canonical
from bankside.gauging.practice_mark import PRACTICE_ID, is_practice_id
from bankside.gauging.records import Channel, Filed, Gauging, Meter, Vertical

__all__ = ["entries_of", "figure_of"]

_Said = tuple[str, Any]

# What no one calls stands in entries as a number.
_NUMBERS = ("fraction",)


def entries_of(
    gauging: Gauging, *, gauging_id: str, device: str, at: str, by: str | None = None
) -> tuple[Entry, ...]:
    """Return entries from which the record comes back, but for its id, which becomes `gauging_id`.

    One entry is made for each thing that the record says, in an order that depends on the record
    alone; an id depends on the gauging, the device and what the entry says, not on `at` and `by`.
    device: the key of a device that wrote no other entries of the gauging, such as one named
    after the sheet. at: when the record was copied, a moment with its offset from UTC. by: who
    copied it. Whoever copies a record again gives the same `at` and `by`, so that the entries are
    the same ones. InputRefused where one of these is not what an entry may hold.
    """
    if gauging.practice != is_practice_id(gauging_id):
        message = (
            f"the id of a journal must begin with {PRACTICE_ID} where its record is practice, and "
            f'only there (got "{gauging_id}")'
        )
        raise InputRefused([Fault(message, path="gauging_id")])
    said = _said(gauging, gauging_id, device)
    return tuple(
        Entry(
            id=_id(gauging_id, device, sequence, what, value),
            gauging=gauging_id,
            device=device,
            sequence=sequence,
            at=at,
            what=what,
            value=value,
            by=by,
        )
        for sequence, (what, value) in enumerate(said, 1)
    )


def figure_of(number: float) -> str:
    """Return a number as a figure of a journal: plain digits that read back to the very same."""
    exact = Decimal(number) if isinstance(number, int) else Decimal(repr(float(number)))
    return format(exact, "f").removesuffix(".0")


def _id(*content: object) -> str:
    text = canonical(list(content))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:32]


def _said(gauging: Gauging, gauging_id: str, device: str) -> Iterator[_Said]:
    own = gauging.id not in (None, gauging_id)
    yield f"copied/{device}", {"id": gauging.id} if own else {}
    yield from _fields("site/", gauging.site, "position")
    if gauging.site.position is not None:
        yield "site/position", _members(gauging.site.position, "label")
        yield from _fields("site/", gauging.site.position, "lon", "lat", "accuracy_m")
    yield from _fields("units/", gauging.units)
    if gauging.date is None and gauging.started is not None:
        # Where nothing is said of the date, it is that of the start.
        yield "date", None
    # That it is practice is told by the id of the gauging, in every entry.
    yield from _fields("", gauging, "id", "practice")
    yield from _several("crew/k", gauging.crew)
    if gauging.meter is not None:
        yield from _meter(gauging.meter)
    yield from _several("stage/s", gauging.stage)
    for number, channel in enumerate(gauging.channels, 1):
        yield from _channel(f"channels/{number}", channel)
    if gauging.filed is not None:
        yield from _filed(gauging.filed)
    yield from _several("corrections/c", gauging.corrections)
    yield from _several("answers/a", gauging.answers)


def _meter(meter: Meter) -> Iterator[_Said]:
    yield from _fields("meter/", meter)
    if meter.rating or meter == Meter():
        # Of a meter of which nothing is known, it can be said that it has no rating.
        yield "meter/rating", [_members(part) for part in meter.rating]
    yield from _several("meter/checks/c", meter.checks)


def _channel(place: str, channel: Channel) -> Iterator[_Said]:
    yield from _fields(f"{place}/", channel)
    yield f"{place}/order", [_key(v) for v in range(len(channel.verticals))]
    for v, vertical in enumerate(channel.verticals):
        yield from _vertical(f"{place}/verticals/{_key(v)}", vertical)


def _key(vertical: int) -> str:
    return f"v{vertical + 1}"


def _vertical(place: str, vertical: Vertical) -> Iterator[_Said]:
    yield from _fields(f"{place}/", vertical)
    yield from _several(f"{place}/readings/r", vertical.velocity)


def _filed(filed: Filed) -> Iterator[_Said]:
    yield "filed", _members(filed)
    for number, panel in enumerate(filed.panels, 1):
        places = {"channel": str(panel.channel + 1), "vertical": _key(panel.vertical)}
        yield f"filed/panels/p{number}", {**_members(panel), **places}


def _several(prefix: str, records: tuple[Checked, ...]) -> Iterator[_Said]:
    for number, record in enumerate(records, 1):
        yield f"{prefix}{number}", _members(record)


def _fields(prefix: str, record: Checked, *but: str) -> Iterator[_Said]:
    """Yield an entry for each plain field of a record that says something."""
    yield from ((f"{prefix}{name}", value) for name, value in _members(record, *but).items())


def _members(record: Checked, *but: str) -> dict[str, Any]:
    """Return what the plain fields of a record say, as entries say it; records in it are left."""
    members = {}
    for field in attrs.fields(type(record)):
        value, kind = getattr(record, field.name), kind_of(field)
        if value is None or isinstance(kind, One | Many) or field.name in but:
            continue
        if value is False and field.default is False:
            continue
        if isinstance(kind, Number):
            value = float(value) if field.name in _NUMBERS else figure_of(value)
        elif isinstance(kind, Day | Instant):
            value = value.isoformat()
        members[field.name] = value
    return members
