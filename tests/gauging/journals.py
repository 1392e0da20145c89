"""Journals as devices write them: each entry knows what stood there when it was written."""

from collections.abc import Iterable
from typing import Any

from hypothesis import strategies as st

from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import Recorded, recorded

__all__ = ["GAUGING", "Device", "V", "crossing", "journals", "record_of", "vertical"]

GAUGING = "g-alder-fork"
V = "channels/1/verticals"


class Device:
    """A device that knows some entries of a gauging, and appends its own."""

    def __init__(self, name: str = "a", knows: Iterable[Entry] = ()) -> None:
        self.name = name
        self.entries = list(knows)

    def say(self, what: str, value: Any, *, at: str | None = None, **more: Any) -> Entry:
        """Append that something is so, in the place of what stands there."""
        sequence = 1 + max((entry.sequence for entry in self.entries), default=0)
        folded = fold(self.entries)
        heads = folded[what].heads if what in folded else ()
        minutes, seconds = divmod(sequence, 60)
        entry = Entry(
            id=f"{self.name}{sequence}",
            gauging=GAUGING,
            device=self.name,
            sequence=sequence,
            at=at or f"2026-07-14T10:{minutes:02}:{seconds:02}-07:00",
            what=what,
            value=value,
            replaces=tuple(head.id for head in heads),
            **more,
        )
        self.entries.append(entry)
        return entry

    def learn(self, entries: Iterable[Entry]) -> None:
        """Take over the entries of another device."""
        known = {entry.id for entry in self.entries}
        self.entries += [entry for entry in entries if entry.id not in known]


def vertical(device: Device, key: str, tape: str, depth: str, *velocities: str) -> None:
    """Call a vertical with readings at 0.6 of its depth."""
    device.say(f"{V}/{key}/tape", tape)
    device.say(f"{V}/{key}/depth", depth)
    for number, velocity in enumerate(velocities, 1):
        device.say(f"{V}/{key}/readings/r{number}", {"value": velocity, "fraction": 0.6})


def crossing() -> Device:
    """A device on which a crew called both edges and then three verticals from the left."""
    device = Device()
    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    device.say("start_bank", "left")
    for bank, tape in (("left", "1.0"), ("right", "5.0")):
        device.say(f"{V}/{bank}/tape", tape)
        device.say(f"{V}/{bank}/edge", bank)
        device.say(f"{V}/{bank}/depth", "0")
    vertical(device, "v1", "2.0", "0.40", "0.20")
    vertical(device, "v2", "3.0", "0.50", "0.30")
    vertical(device, "v3", "4.0", "0.40", "0.20")
    return device


def record_of(device: Device) -> Recorded:
    """What the journal of a device comes to."""
    return recorded(fold(device.entries))


VALUES = {
    f"{V}/v1/tape": ["1.0", "1.00", "2.0", None, "1,0"],
    f"{V}/v2/tape": ["2.0", "3.5", None],
    f"{V}/v1/depth": ["0.5", "0", None, 0.5, True],
    f"{V}/v1/readings/r1": [{"value": "0.2", "fraction": 0.6}, {"value": "0.2"}, {}, None],
    f"{V}/v2/inserted": [True, False],
    "units/length": ["m", "ft"],
    "units/velocity": ["m/s", "ft/s"],
    "crew/k": [{"name": "T. Quayle"}, {"name": ""}, None],
    "closed": [{"by": "I. Marrow"}, None],
    "nonsense": ["x"],
}


@st.composite
def journals(draw: st.DrawFn) -> list[Entry]:
    """Up to three devices that say things, and at times learn what another has said."""
    devices = [Device(name) for name in "abc"]
    for _ in range(draw(st.integers(0, 25))):
        device = draw(st.sampled_from(devices))
        if draw(st.integers(0, 4)) == 0:
            device.learn(draw(st.sampled_from(devices)).entries)
        else:
            what = draw(st.sampled_from(sorted(VALUES)))
            device.say(what, draw(st.sampled_from(VALUES[what])))
    everything = Device(knows=())
    for device in devices:
        everything.learn(device.entries)
    return everything.entries
