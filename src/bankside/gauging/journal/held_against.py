"""What a file says beside its entries, held against what the entries give."""

import math
from collections.abc import Iterator
from typing import Any, Final

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.journal.document import Journal, Shown
from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.record import Recorded
from bankside.gauging.journal.so_far import so_far
from bankside.gauging.records import Gauging
from bankside.gauging.structure import JsonObject, unstructured
from bankside.gauging.wire import FORMAT, from_document

__all__ = ["held_against"]

# Two machines may differ in the last bit of a root or a power, and those add up over a section.
_SAME: Final = 1e-9
_FEW: Final = 3
_HOLDS: Final = "what the entries give holds"


def held_against(journal: Journal, recorded: Recorded, file: str = "the file") -> Iterator[str]:
    """Yield what in a file is not what its entries give, a sentence each.

    journal: what the file holds; recorded: what its own entries come to, and no others.
    """
    yield from _repeated(journal, recorded.said, file)
    yield from _missing_photos(journal, recorded.said, file)
    if journal.record is not None:
        yield from _record(journal.record, recorded.gauging, file)
    if journal.shown is not None:
        yield from _shown(journal.shown, so_far(recorded).gauging, file)


def _repeated(journal: Journal, folded: Folded, file: str) -> Iterator[str]:
    more = len(journal.entries) - len(folded.entries)
    if more:
        entries = "One entry stands" if more == 1 else f"{more} entries stand"
        yield f"{entries} in {file} more than once; each counts once."


def _missing_photos(journal: Journal, folded: Folded, file: str) -> Iterator[str]:
    photos = [said.value for what, said in folded.items() if what.startswith("photos/")]
    named = {str(photo.get("sha256")) for photo in photos if isinstance(photo, dict)}
    missing = len(named - set(journal.files))
    if missing:
        are = "One photo is" if missing == 1 else f"{missing} photos are"
        yield f"{are} named by the entries in {file} and not in it."


def _record(document: JsonObject, gauging: Gauging | None, file: str) -> Iterator[str]:
    try:
        read = from_document(document)
    except InputRefused as error:
        first = error.faults[0]
        yield f"The record in {file} is not one of format {FORMAT} ({first}); {_HOLDS}."
        return
    if gauging is None:
        yield f"There is a record in {file}, but its entries give none."
        return
    apart = list(_differences("", unstructured(read), unstructured(gauging)))
    if apart:
        more = "" if len(apart) <= _FEW else f"; and {len(apart) - _FEW} more"
        listed = "; ".join(
            f"{path}: {shown(there)} there, {shown(here)} by the entries"
            for path, there, here in apart[:_FEW]
        )
        yield f"The record in {file} is not what its entries give ({listed}{more}); {_HOLDS}."


def _differences(path: str, there: Any, here: Any) -> Iterator[tuple[str, Any, Any]]:
    """Yield the path, the value in the file and that by the entries where these differ."""
    if isinstance(there, dict) and isinstance(here, dict):
        for key in dict.fromkeys([*there, *here]):
            inner = f"{path}.{key}" if path else key
            yield from _differences(inner, there.get(key), here.get(key))
    elif isinstance(there, list) and isinstance(here, list) and len(there) == len(here):
        for index, (one, other) in enumerate(zip(there, here, strict=True)):
            yield from _differences(f"{path}[{index}]", one, other)
    elif there != here:
        yield path, there, here


def _shown(seen: Shown, gauging: Gauging | None, file: str) -> Iterator[str]:
    was = f"When {file} was written, {seen.discharge_m3s:.6g} m³/s was shown"
    if gauging is None:
        yield f"{was}, but its entries give no record."
        return
    try:
        result = compute(gauging)
    except InputRefused as error:
        yield f"{was}, but its entries give no discharge ({error.faults[0]})."
        return
    if math.isclose(seen.discharge_m3s, result.discharge_m3s, rel_tol=_SAME, abs_tol=0):
        return
    now = f"{result.discharge_m3s:.6g} m³/s"
    if seen.method_version != result.method_version:
        yield (
            f"{was}, by version {seen.method_version} of the method; version "
            f"{result.method_version} gives {now}."
        )
    else:
        yield f"{was}, but its entries give {now}; {_HOLDS}."
