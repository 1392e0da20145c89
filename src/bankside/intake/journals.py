"""Journals from the app: their entries united, folded and made into records."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.document import Journal
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.held_against import held_against
from bankside.gauging.journal.making import EntryFault
from bankside.gauging.journal.record import Recorded, recorded
from bankside.gauging.journal.so_far import is_over, so_far
from bankside.intake.source import Source, item_of_record, refused_source
from bankside.sheets.read import count_fates

__all__ = ["JournalFile", "united_sources"]


@attrs.frozen
class JournalFile:
    """A journal and the file in which it stands."""

    file: str
    journal: Journal


def united_sources(read: Sequence[Source | JournalFile]) -> list[Source]:
    """Return the files with every journal made into a record, in the order given.

    The entries of one gauging are united, wherever they stand; the gauging is that of the first
    file, and the others say where theirs went.
    """
    files: dict[str, list[JournalFile]] = {}
    for one in read:
        if isinstance(one, JournalFile):
            files.setdefault(one.journal.gauging, []).append(one)
    sources = []
    for one in read:
        if isinstance(one, Source):
            sources.append(one)
            continue
        first, *others = files[one.journal.gauging]
        if one is first:
            sources.append(_source(first, others))
        else:
            note = f"Its entries are united with those of {first.file}, as they are of one gauging."
            sources.append(Source(one.file, (), count_fates(()), (note,)))
    return sources


def _source(first: JournalFile, others: Sequence[JournalFile]) -> Source:
    files = [first, *others]
    label = f"gauging {first.journal.gauging}"
    try:
        made = recorded(fold(entry for one in files for entry in one.journal.entries))
    except InputRefused as refused:
        names = " and ".join(dict.fromkeys(one.file for one in files))
        placed = [attrs.evolve(fault, file=names) for fault in refused.faults]
        return refused_source(first.file, label, placed)
    read = so_far(made)
    gauging = read.gauging
    if made.faults or gauging is None:
        return refused_source(first.file, label, [_placed(fault, files) for fault in made.faults])
    item = item_of_record(
        gauging,
        gauging.site.name or gauging.site.stream or label,
        (*read.left_out, *_notes(files, made)),
    )
    return Source(first.file, (attrs.evolve(item, finished=is_over(made)),), item.counts)


def _notes(files: Sequence[JournalFile], made: Recorded) -> Iterator[str]:
    yield from made.notes
    if not made.closed:
        yield "The gauging was not closed where it was recorded: it may be unfinished."
    if len(files) > 1:
        names = ", ".join(one.file for one in files)
        yield f"The entries of {len(files)} files are united: {names}."
    for one in files:
        # What a file says beside its entries was made of those alone.
        alone = made if len(files) == 1 else recorded(fold(one.journal.entries))
        yield from held_against(one.journal, alone, one.file)


def _placed(fault: EntryFault, files: Sequence[JournalFile]) -> Fault:
    """Return a fault with the file and the place in it of the entry that it is about."""
    for one in files:
        for index, entry in enumerate(one.journal.entries):
            if entry.id in fault.entries[:1]:
                return Fault(fault.message, file=one.file, path=f"entries[{index}] ({fault.path})")
    return Fault(fault.message, file=files[0].file, path=fault.path)
