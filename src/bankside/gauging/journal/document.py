"""A journal as JSON text, and back: the form in which a gauging leaves the phone.

Reading is strict: unknown and repeated keys are refused, and everything that is wrong is said at
once, each fault with its path. The form is published as a JSON Schema,
`docs/schema/journal-1.schema.json`.
"""

import base64
import binascii
import hashlib
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Kind, Number, Text, about, shown
from bankside.gauging.journal.entry import Entry, entries_from_json, to_members
from bankside.gauging.journal.fold import united
from bankside.gauging.journal.kinds import Key
from bankside.gauging.json_form import JsonForm, read_json
from bankside.gauging.json_text import refused, written
from bankside.gauging.structure import JsonObject, structured, unstructured

__all__ = [
    "FORMAT",
    "Journal",
    "Shown",
    "StoredFile",
    "is_journal",
    "journal_from_document",
    "journal_from_json",
    "journal_to_json",
]

_FORM = JsonForm("bankside.journal")

FORMAT = _FORM.format

_KEYS = ("format", "gauging", "entries", "files", "record", "shown")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_LONE_SURROGATE = re.compile("[\ud800-\udfff]")


@attrs.frozen
class StoredFile:
    """A file that belongs to a gauging, such as a photo: its media type and its bytes."""

    type: str
    content: bytes

    @property
    def sha256(self) -> str:
        """What tells this content from every other."""
        return hashlib.sha256(self.content).hexdigest()


@attrs.frozen
class Shown(Checked):
    """What was shown where the journal was written: the discharge, and by which method."""

    discharge_m3s: float = attrs.field(metadata=about(Number(), "the discharge that was shown"))
    method_version: str = attrs.field(
        metadata=about(Text(), "the version of the method that gave it")
    )
    version: str = attrs.field(metadata=about(Text(), "the version of Bankside that showed it"))


@attrs.frozen
class Journal:
    """Everything in one file: entries as written, files by their SHA-256, and what was shown.

    `record` is the record that was folded where the file was written, as it stands there; what
    holds are the entries.
    """

    gauging: str
    entries: tuple[Entry, ...]
    files: Mapping[str, StoredFile] = attrs.field(factory=dict)
    record: JsonObject | None = None
    shown: Shown | None = None


def is_journal(document: object) -> bool:
    """Return whether what a JSON text spells says that it is a journal, of whatever version."""
    return _FORM.says(document)


def journal_to_json(journal: Journal) -> str:
    """Return a journal as JSON text, its entries in order, keys for nothing that is absent."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "gauging": journal.gauging,
        "entries": [to_members(entry) for entry in united(journal.entries)],
    }
    if journal.files:
        document["files"] = {
            sha256: {"type": file.type, "base64": base64.b64encode(file.content).decode("ascii")}
            for sha256, file in journal.files.items()
        }
    if journal.record is not None:
        document["record"] = journal.record
    if journal.shown is not None:
        document["shown"] = unstructured(journal.shown)
    # Half a character can stand in a text that was typed, and in no UTF-8 file but by its number.
    return _LONE_SURROGATE.sub(lambda half: f"\\u{ord(half[0]):04x}", written(document))


def journal_from_json(text: str, file: str | None = None) -> Journal:
    """Return the journal that a JSON text holds.

    `file`, a file name as people know it, goes into every fault. InputRefused with every fault
    that is in the text if it is not a journal of this version of the format.
    """
    return read_json(text, file, journal_from_document)


def journal_from_document(document: object) -> Journal:
    """Return the journal in what a JSON text spells, as `journal_from_json` does."""
    members = _FORM.members(document, "a journal")
    faults = [*_key_faults(members, _KEYS, "journal")]
    taken: dict[str, Any] = {}
    for key, read in _READERS.items():
        if key not in members:
            continue
        try:
            taken[key] = read(members[key])
        except InputRefused as error:
            faults += [fault.inside(key) for fault in error.faults]
    faults += [
        Fault(f"{key} must be given", path=key)
        for key in ("gauging", "entries")
        if key not in members
    ]
    faults += _foreign(taken)
    if faults:
        raise InputRefused(faults)
    return Journal(**taken)


def _key_faults(members: JsonObject, known: Sequence[str], thing: str) -> Iterator[Fault]:
    for key in members:
        if key not in known:
            listed = ", ".join(known)
            yield Fault(f"a {thing} must have no keys but {listed} (got {shown(key)})")
        elif key in members.repeated:
            yield Fault(f"{key} must be written once (got it more than once)", path=key)


def _gauging(found: object) -> str:
    kind: Kind = Key()
    if not isinstance(found, str) or not kind.holds(found):
        raise refused(f"gauging must be {kind.wants} (got {shown(found)})")
    return found


def _entries(found: object) -> tuple[Entry, ...]:
    if not isinstance(found, list):
        raise refused(f"entries must be a list of entries (got {shown(found)})")
    if not found:
        raise refused("found none; at least one entry would be right")
    entries = entries_from_json(found)
    united(entries)
    return entries


def _foreign(taken: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield a fault where the entries are of another gauging than the file says."""
    entries, gauging = taken.get("entries"), taken.get("gauging")
    if entries and gauging is not None and entries[0].gauging != gauging:
        yield Fault(
            f'gauging must be that of the entries, "{entries[0].gauging}" (got "{gauging}")',
            path="gauging",
        )


def _files(found: object) -> Mapping[str, StoredFile]:
    if not isinstance(found, JsonObject):
        raise refused(f"files must be an object of files by their SHA-256 (got {shown(found)})")
    files: dict[str, StoredFile] = {}
    faults = [*_key_faults(found, tuple(found), "journal")]
    for index, (sha256, member) in enumerate(found.items()):
        try:
            files[sha256] = _file(sha256, member)
        except InputRefused as error:
            faults += [fault.inside(index) for fault in error.faults]
    if faults:
        raise InputRefused(faults)
    return files


def _file(sha256: str, member: object) -> StoredFile:
    if not _SHA256.fullmatch(sha256):
        raise refused(f"a file must stand under its SHA-256 in 64 hex digits (got {shown(sha256)})")
    if not isinstance(member, JsonObject):
        raise refused(f"a file must be an object (got {shown(member)})")
    faults = [*_key_faults(member, ("type", "base64"), "file")]
    type_, text = member.get("type"), member.get("base64")
    if not isinstance(type_, str) or not Text().holds(type_):
        faults.append(Fault(f"type must be {Text().wants} (got {shown(type_)})", path="type"))
    content = _content(text)
    if content is None:
        faults.append(Fault(f"base64 must be a text in base64 (got {shown(text)})", path="base64"))
    elif hashlib.sha256(content).hexdigest() != sha256:
        message = "the content must be that of its SHA-256 (got other content: it was damaged)"
        faults.append(Fault(message, path="base64"))
    if faults or content is None:
        raise InputRefused(faults)
    return StoredFile(str(type_), content)


def _content(text: object) -> bytes | None:
    if not isinstance(text, str):
        return None
    try:
        return base64.b64decode(text.encode("ascii"), validate=True)
    except (UnicodeEncodeError, binascii.Error):
        return None


def _record(found: object) -> JsonObject:
    if not isinstance(found, JsonObject):
        raise refused(f"record must be a gauging as an object (got {shown(found)})")
    return found


def _shown(found: object) -> Shown:
    if not isinstance(found, JsonObject):
        raise refused(f"shown must be an object (got {shown(found)})")
    return structured(found, Shown)


_READERS = {
    "gauging": _gauging,
    "entries": _entries,
    "files": _files,
    "record": _record,
    "shown": _shown,
}
