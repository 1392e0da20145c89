"""Whatever a device says, it is kept, worked out as far as it goes, and keeps nothing else back."""

from __future__ import annotations

import itertools
import re
from typing import Any

from sqlalchemy import func, select

from bankside.archive.archive import Archive
from bankside.archive.tables import gaugings, stale
from bankside.archive.verify import verify
from bankside.gauging.journal.sayable import SAYABLE

from .building import Device, crossing, keep

ODD_TEXTS = ("\0", "\ud83d", "a\0b", "x" * 5000, "\u202e", "\uffff")
ODD_VALUES = (
    *ODD_TEXTS,
    *({"purpose": odd, "sha256": odd, "type": odd, "bytes": 1, "name": odd} for odd in ODD_TEXTS),
    *({"value": odd, "by": odd, "verdict": odd, "state": odd} for odd in ODD_TEXTS),
    *({"purpose": "other", "sha256": "0" * 64, "type": odd, "bytes": 1} for odd in ODD_TEXTS),
    {},
    [],
    [[[[[[]]]]]],
    0,
    -0.0,
    2**53 - 1,
    5e-324,
    True,
)


def test_an_odd_saying_keeps_nothing_from_being_worked_out(archive: Archive) -> None:
    """A value that no form lets anybody say may still come from a device, and is only its own."""
    every = [re.sub("<.>", "k1", pattern) for pattern in SAYABLE]
    values = itertools.cycle(ODD_VALUES)
    # Each thing said oddly by itself, in one way or another, and each way for everything at once.
    devices = [_odd(f"one-{n}", [(what, next(values))]) for n, what in enumerate(every)]
    devices += [
        _odd(f"all-{n}", [(what, value) for what in every]) for n, value in enumerate(ODD_VALUES)
    ]
    keep(archive, *devices)

    with archive.reading() as connection:
        assert connection.execute(select(func.count()).select_from(stale)).scalar() == 0
        rows = connection.execute(select(func.count()).select_from(gaugings)).scalar()
    assert rows == len(devices)
    assert [one for one in verify(archive) if one.kind != "missing"] == []


def _odd(gauging: str, said: list[tuple[str, Any]]) -> Device:
    device = crossing(gauging)
    for what, value in said:
        device.say(what, value)
    return device
