"""What archives are filled with in tests: crossings whose discharge is worked out by hand."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from bankside.archive.archive import Archive
from bankside.archive.entries import Taken, take_entries
from bankside.archive.refresh import refresh
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.state import state_of

V = "channels/1/verticals"
CROSSING_M3S = 0.31
"""By hand, each panel 1 m wide: 1·0.4·0.2 + 1·0.5·0.3 + 1·0.4·0.2."""
FASTER_M3S = 0.36
"""The same with 0.40 m/s in the middle: 1·0.4·0.2 + 1·0.5·0.4 + 1·0.4·0.2."""


class Device:
    """A device that writes the journal of one gauging, and knows what stands there."""

    def __init__(self, gauging: str = "g1", name: str = "phone", knows: Iterable[Entry] = ()):
        self.gauging = gauging
        self.name = name
        self.entries = list(knows)

    def say(self, what: str, value: Any, **more: Any) -> Entry:
        """Append that something is so, in the place of what stands there."""
        sequence = 1 + max((entry.sequence for entry in self.entries), default=0)
        folded = fold(self.entries)
        heads = folded[what].heads if what in folded else ()
        minutes, seconds = divmod(sequence, 60)
        members = {
            "id": f"{self.gauging}-{self.name}-{sequence}",
            "at": f"2026-07-14T10:{minutes:02}:{seconds:02}-07:00",
            "replaces": tuple(head.id for head in heads),
            **more,
        }
        entry = Entry(
            gauging=self.gauging,
            device=self.name,
            sequence=sequence,
            what=what,
            value=value,
            **members,
        )
        self.entries.append(entry)
        return entry

    def vertical(self, key: str, tape: str, depth: str, velocity: str) -> None:
        """Call a vertical with one reading at 0.6 of its depth."""
        self.say(f"{V}/{key}/tape", tape)
        self.say(f"{V}/{key}/depth", depth)
        self.say(f"{V}/{key}/readings/r1", {"value": velocity, "fraction": 0.6})

    def correct(self, velocity: str = "0.40") -> Entry:
        """Say that the velocity in the middle was another one."""
        value = {"value": velocity, "fraction": 0.6}
        return self.say(f"{V}/v2/readings/r1", value, reason="read again")

    def review(self, verdict: str = "approved", **more: Any) -> Entry:
        """Say what the office holds of the gauging as this device knows it."""
        reason = {"reason": "no edge on the right"} if verdict == "sent back" else {}
        said = {"verdict": verdict, "by": "I. Marrow", "state": state_of(self.entries), **more}
        return self.say("review", said, **reason)


def crossing(
    gauging: str = "g1",
    *,
    name: str = "phone",
    stream: str = "Alder River",
    place: str = "Upper meadow",
    day: str = "2026-07-14",
    closed: bool = True,
    **said: Any,
) -> Device:
    """A device on which a crew called both edges and three verticals, and closed the gauging.

    said: more of the header, such as remarks.
    """
    device = Device(gauging, name)
    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    device.say("site/stream", stream)
    device.say("site/name", place)
    device.say("date", day)
    device.say("start_bank", "left")
    for what, value in said.items():
        device.say(what.replace("__", "/"), value)
    for bank, tape in (("left", "1.0"), ("right", "5.0")):
        device.say(f"{V}/{bank}/tape", tape)
        device.say(f"{V}/{bank}/edge", bank)
        device.say(f"{V}/{bank}/depth", "0")
    device.vertical("v1", "2.0", "0.40", "0.20")
    device.vertical("v2", "3.0", "0.50", "0.30")
    device.vertical("v3", "4.0", "0.40", "0.20")
    if closed:
        device.say("closed", {"by": "I. Marrow"})
    return device


def remark(number: int = 1, gauging: str = "g1", **more: Any) -> Entry:
    """An entry by itself, by which other tests than those of readings can tell entries apart."""
    members = {
        "id": f"{gauging}-e{number}",
        "gauging": gauging,
        "device": "phone",
        "sequence": number,
        "at": "2026-07-14T10:00:00-07:00",
        "what": "remarks",
        "value": f"remark {number}",
        **more,
    }
    return Entry(**members)


def store(archive: Archive, *devices: Device) -> Taken:
    """Take in all that these devices said, and work nothing out."""
    entries = [entry for device in devices for entry in device.entries]
    with archive.writing() as connection:
        return take_entries(connection, entries, "a test")


def keep(archive: Archive, *devices: Device) -> None:
    """Take in all that these devices said, and work it out."""
    store(archive, *devices)
    refresh(archive)
