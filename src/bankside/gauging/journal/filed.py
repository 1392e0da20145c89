"""What a sheet carried of its own, from what was said: its total, and the products of panels."""

from collections.abc import Sequence

import attrs

from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.heard import Heard, record_of
from bankside.gauging.journal.making import EntryFault, Part, fault_of, made
from bankside.gauging.journal.readers import Members
from bankside.gauging.journal.verticals import ChannelHeard
from bankside.gauging.journal.words import words_of
from bankside.gauging.records import Filed, FiledPanel

__all__ = ["filed"]


def filed(
    folded: Folded,
    heard: Heard,
    channels: Sequence[ChannelHeard],
    faults: list[EntryFault],
    notes: list[str],
) -> Filed | None:
    """Return what a sheet carried, None where nothing of it was said.

    channels: those of the record. A panel whose vertical is no longer among them is left out, and
    `notes` says so.
    """
    places = {
        (channel.key, one.key): (c, v)
        for c, channel in enumerate(channels)
        for v, one in enumerate(channel.verticals)
    }
    total, said = heard.one("filed"), heard.of("filed/panels/<k>")
    if total is None and not said:
        return None
    placed = [_placed(part, places, folded, faults, notes) for part in said.values()]
    panels = [record_of(FiledPanel, part, faults) for part in placed if part is not None]
    members = Members({}) if total is None else total.value
    parts: dict[str, Part | Sequence[Part]] = {}
    if total is not None:
        parts |= {name: Part(value, total.said) for name, value in members.values.items()}
    parts["panels"] = [panel for panel in panels if panel is not None]
    found, _ = made(Filed, parts, faults, members.unsound)
    return found


def _placed(
    part: Part,
    places: dict[tuple[str, str], tuple[int, int]],
    folded: Folded,
    faults: list[EntryFault],
    notes: list[str],
) -> Part | None:
    """Return a panel with its place in the record, None where it has none."""
    members: Members = part.value
    channel, vertical = (str(members.values.get(name)) for name in ("channel", "vertical"))
    if (channel, vertical) in places:
        c, v = places[channel, vertical]
        values = {**members.values, "channel": c, "vertical": v}
        return attrs.evolve(part, value=attrs.evolve(members, values=values))
    tape = folded.get(f"channels/{channel}/verticals/{vertical}/tape")
    if tape is not None:
        last = [entry.value for entry in tape.history if entry.value is not None][-1:]
        notes.append(
            "What the sheet carried for the panel "
            f"{f'at tape {words_of(last[0])} ' if last else ''}is left out of the record, as its "
            "vertical is."
        )
    elif not members.unsound & {"channel", "vertical"}:
        message = (
            "the panel as filed must be of a vertical of the journal "
            f'(got vertical "{words_of(vertical)}" of channel "{words_of(channel)}")'
        )
        faults.append(fault_of(message, part.said))
    return None
