"""How a gauging stands: its record so far, by which rules, and what that comes to."""

from __future__ import annotations

import re

import attrs

from bankside.bank.crossed import is_finished
from bankside.gauging.compute import compute
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.record import Recorded
from bankside.gauging.journal.so_far import so_far
from bankside.gauging.notes import tape_positions
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.choice import rules_of
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["Standing", "standing_of"]

_PLACE = re.compile(r"channels\[(\d+)\](?:\.verticals\[(\d+)\])?")


@attrs.frozen
class Standing:
    """A journal's record as it is looked at.

    `gauging` is the record; until its end is written down, verticals of which no more than the tape
    position was said are not in it. It is None as long as there is no record. `result` is what it
    comes to, and where it comes to nothing `no_result` says why. `remarks` are on the rule set, on
    the journal, and on what was left out.
    """

    recorded: Recorded
    gauging: Gauging | None
    rules: RuleSet
    remarks: tuple[str, ...]
    finished: bool
    result: Result | None
    no_result: str | None
    _kept: tuple[tuple[int, ...], ...]

    def channel_key(self, channel: int) -> str:
        """Return the key of a channel by its index."""
        return self.recorded.channel_key(channel)

    def vertical_key(self, channel: int, vertical: int) -> str:
        """Return the key of a vertical by its indexes in `gauging`."""
        return self.recorded.key_of(channel, self._kept[channel][vertical])[1]

    def what_of(
        self, channel: int, vertical: int, quantity: str, reading: int | None = None
    ) -> str:
        """Return what an entry about a figure of `gauging` speaks of."""
        place = self._kept[channel][vertical]
        return self.recorded.what_of(channel, place, quantity, reading)


def standing_of(recorded: Recorded, finished: bool | None = None) -> Standing:
    """Return how a gauging stands; `finished` says whether all readings are there, if it is known.

    Else it is told by the journal: `is_finished`.
    """
    record, read = recorded.gauging, so_far(recorded)
    gauging = read.gauging
    if record is None or gauging is None:
        said = "nothing was said yet" if not recorded.said else "the units are not known yet"
        return Standing(
            recorded=recorded,
            gauging=None,
            rules=load_rule_set(BASE),
            remarks=recorded.notes,
            finished=False,
            result=None,
            no_result=f"There is no discharge, as {said}.",
            kept=(),
        )
    done = is_finished(recorded, record) if finished is None else finished
    rules, about_rules = rules_of(record)
    result, why = _computed(gauging)
    return Standing(
        recorded=recorded,
        gauging=gauging,
        rules=rules,
        remarks=(*recorded.notes, *about_rules, *read.left_out),
        finished=done,
        result=result,
        no_result=why,
        kept=read.kept,
    )


def _computed(gauging: Gauging) -> tuple[Result | None, str | None]:
    # Two edges alone come to 0, which would look like a stream without flow.
    if all(vertical.edge for channel in gauging.channels for vertical in channel.verticals):
        return None, "There is no discharge yet: no vertical was read."
    try:
        return compute(gauging), None
    except InputRefused as refused:
        first, *others = refused.faults
        more = f" ({len(others)} more of the kind)" if others else ""
        return None, f"There is no discharge yet: {_placed(gauging, first)}{more}."


def _placed(gauging: Gauging, fault: Fault) -> str:
    """Return what keeps a discharge away, with its place as the crew knows it."""
    found = _PLACE.match(fault.path or "")
    if found is None:
        return fault.message
    channel = int(found[1])
    words = f"channel {channel + 1}" if len(gauging.channels) > 1 else ""
    if found[2] is not None:
        tape = gauging.channels[channel].verticals[int(found[2])].tape
        at = tape_positions([tape], gauging.units.length)
        words = f"{words}, {at}" if words else at
    return f"at {words}, {fault.message}" if words else fault.message
