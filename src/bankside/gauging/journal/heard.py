"""What stands in a journal, each value read for what it means."""

from collections.abc import Mapping

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.making import EntryFault, Part, fault_of, made
from bankside.gauging.journal.readers import Members
from bankside.gauging.journal.sayable import VERTICAL, sayable

__all__ = ["Heard", "heard", "record_of"]


@attrs.frozen
class Heard:
    """What stands, by pattern and then by the keys in it, in the order in which it was first said.

    What was taken out is absent; what means nothing is absent too, and among the faults.
    """

    parts: Mapping[str, Mapping[tuple[str, ...], Part]]

    def is_copied(self, entry: Entry) -> bool:
        """Return whether an entry was copied, so that its clock and author are the copyist's."""
        return (entry.device,) in self.of("copied/<k>")

    def of(self, pattern: str) -> Mapping[tuple[str, ...], Part]:
        """Return what stands under a pattern by its keys."""
        return self.parts.get(pattern, {})

    def one(self, pattern: str) -> Part | None:
        """Return what stands under a pattern without keys."""
        return self.of(pattern).get(())

    def at(self, pattern: str, what: str) -> Part | None:
        """Return what stands at a place, if it is one of a pattern."""
        known = sayable(what)
        if known is None or known[0].pattern != pattern:
            return None
        return self.of(pattern).get(known[1])

    def fields(self, prefix: str, *names: str) -> dict[str, Part]:
        """Return what stands under the names, which begin alike, as fields of a record."""
        found = {name: self.one(prefix + name) for name in names}
        return {name: part for name, part in found.items() if part is not None}


def heard(folded: Folded, faults: list[EntryFault]) -> Heard:
    """Return what stands in a journal; what means nothing is added to the faults."""
    parts: dict[str, dict[tuple[str, ...], Part]] = {}
    out = _taken_out(folded)
    for what, said in folded.items():
        known = sayable(what)
        if known is None:
            message = f'"{what}" must be something that can be said in a journal (it is not known)'
            faults.append(fault_of(message, said))
            continue
        thing, keys = known
        if said.value is None or (thing.pattern.startswith(VERTICAL) and keys[:2] in out):
            continue
        wrong: list[str] = []
        meant = thing.reader.read(thing.name, said.value, wrong)
        faults += [fault_of(message, said) for message in wrong]
        if meant is not None:
            parts.setdefault(thing.pattern, {})[keys] = Part(meant, said)
    return Heard(parts)


def _taken_out(folded: Folded) -> set[tuple[str, ...]]:
    """Return the keys of the verticals that were taken out: their tape position is null."""
    tapes = ((sayable(what), said) for what, said in folded.items() if said.value is None)
    return {found[1] for found, _ in tapes if found and found[0].pattern == f"{VERTICAL}/tape"}


def record_of(
    record: type[Checked], part: Part, faults: list[EntryFault], **others: object
) -> Part | None:
    """Return the record that the members of an object make, None where they make none.

    others: what its fields hold where no member says it.
    """
    members: Members = part.value
    values = {**{k: v for k, v in others.items() if v is not None}, **members.values}
    parts = {name: Part(value, part.said) for name, value in values.items()}
    built, _ = made(record, parts, faults, members.unsound, part.said)
    return None if built is None else Part(built, part.said)
