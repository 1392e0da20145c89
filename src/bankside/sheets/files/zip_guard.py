"""Workbooks that are ZIP archives, unpacked under guard.

An archive can claim to hold little and unpack to more than any memory, so the bytes that come out
are counted. Only the parts that were checked are handed on, packed again.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence

from bankside.gauging.member_names import leads_outside
from bankside.sheets.files.workbook_faults import PASSWORD, SAVE_AS, Damaged, Unfit
from bankside.sheets.files.xml_parts import parse_part

__all__ = ["checked_parts", "packed_again"]

_MAX_UNPACKED_BYTES = 256 * 1024 * 1024
_MAX_RATIO = 250
_RATIO_COUNTS_FROM = 1024 * 1024
_MAX_ENTRIES = 10_000
# Four to a cell, as many cells as a table may have, and what stands around them.
_MAX_TAGS = 25_000_000
_CHUNK = 1024 * 1024


def checked_parts(data: bytes) -> dict[str, bytes]:
    """Return the XML parts of a workbook, unpacked under a limit and free of document types.

    Raises Unfit, and whatever zipfile raises for a broken archive.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        entries = archive.infolist()
        _refuse_unfit(archive, entries)
        parts: dict[str, bytes] = {}
        left = _MAX_UNPACKED_BYTES
        for entry in entries:
            if _is_needed(entry.filename):
                parts[entry.filename] = _unpacked(archive, entry, left)
                left -= len(parts[entry.filename])
    if sum(part.count(b"<") for part in parts.values()) > _MAX_TAGS:
        raise Unfit(f"found a workbook of more than {_MAX_TAGS:,} tags; {SAVE_AS}")
    for name, part in parts.items():
        if name != "mimetype":
            parse_part(part, {}, name)
    return parts


def _refuse_unfit(archive: zipfile.ZipFile, entries: Sequence[zipfile.ZipInfo]) -> None:
    """Refuse an archive that can be told from its list of parts to be no readable workbook."""
    if len(entries) > _MAX_ENTRIES:
        raise Unfit(f"found an archive of more than {_MAX_ENTRIES:,} parts; {SAVE_AS}")
    names = [entry.filename.casefold() for entry in entries]
    if len(set(names)) < len(names):
        raise Damaged("a part is there twice")
    if any(map(leads_outside, entries)):
        raise Damaged("the name of a part leads out of it")
    if any(entry.flag_bits & 1 for entry in entries):
        raise Unfit(PASSWORD)
    kind = _kind_of_no_workbook(archive, set(names))
    if kind is not None:
        raise Unfit(f"found {kind}; {SAVE_AS}")


def _kind_of_no_workbook(archive: zipfile.ZipFile, names: set[str]) -> str | None:
    """Return what an archive is when it is no workbook that can be read, or None."""
    if "xl/workbook.xml" in names:
        return None
    if "mimetype" in names and "content.xml" in names:
        with archive.open("mimetype") as stream:
            kind = stream.read(100).decode("ascii", "replace")
        is_sheet = kind.startswith("application/vnd.oasis.opendocument.spreadsheet")
        return None if is_sheet else "an OpenDocument file that is no spreadsheet"
    for start, kind in (
        ("xl/workbook.bin", "a binary workbook (XLSB)"),
        ("word/", "a Word document"),
        ("ppt/", "a presentation"),
        ("index/", "a Numbers workbook"),
    ):
        if any(name.startswith(start) for name in names):
            return kind
    return "a ZIP archive that is no workbook"


def _is_needed(name: str) -> bool:
    """Return whether a part is handed on; pictures, macros and links to other files are not."""
    lowered = name.casefold()
    if "externallinks/" in lowered:
        return False
    return lowered.endswith((".xml", ".rels")) or name == "mimetype"


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, left: int) -> bytes:
    """Return one part, counting the bytes that really come out."""
    if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise Damaged("a part is packed in a way that workbooks do not use")
    chunks: list[bytes] = []
    size = 0
    with archive.open(entry) as stream:
        while chunk := stream.read(_CHUNK):
            size += len(chunk)
            bloated = size > _RATIO_COUNTS_FROM and size > _MAX_RATIO * entry.compress_size
            if size > left or bloated:
                limit = _MAX_UNPACKED_BYTES // (1024 * 1024)
                raise Unfit(
                    f"found a workbook that unpacks to far more than it should; at most {limit} "
                    f"MB, and {_MAX_RATIO} times its packed size, are read: {SAVE_AS}"
                )
            chunks.append(chunk)
    return b"".join(chunks)


def packed_again(parts: Mapping[str, bytes]) -> bytes:
    """Return an archive of exactly these parts, so that what is read is what was checked."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for name, part in parts.items():
            archive.writestr(zipfile.ZipInfo(name), part)
    return packed.getvalue()
