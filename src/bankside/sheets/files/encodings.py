"""The character set of a text file: by its content, or as asked for."""

from __future__ import annotations

import codecs
import re

from bankside.gauging.faults import InputRefused
from bankside.sheets.files.grid import quoted, refusal

__all__ = ["decoded"]

_CONTROL = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f]")
_CONTROL_BYTE = re.compile(_CONTROL.pattern.encode("latin-1"))
_LAST_GUESS = "windows-1252"
# No files are written in these, and a large one would take hours.
_OF_NAMES = frozenset({"punycode", "idna"})


def decoded(data: bytes, file: str, encoding: str | None) -> tuple[str, str]:
    """Return the text of the file and the name of its character set. Raises InputRefused."""
    name = _encoding_of(data) if encoding is None else _encoding_asked_for(encoding, file)
    try:
        text = data.decode(name)
    except UnicodeDecodeError as error:
        byte = _CONTROL_BYTE.search(data) if name == _LAST_GUESS else None
        if encoding is None and byte is not None:
            raise _no_text(file, data.count(b"\n", 0, byte.start()) + 1) from error
        row = data.count(b"\n", 0, error.start) + 1
        raise refusal(
            file,
            f"found a byte (number {error.start + 1}, near row {row}) that is no text in {name}; "
            "a text file, or its character set by `--encoding`, would be right",
        ) from error
    except (LookupError, ValueError) as error:
        raise refusal(file, f"could not be read as {name} ({error})") from error
    text = text.removeprefix("\ufeff").rstrip("\x1a")  # the end mark of old DOS programs
    control = _CONTROL.search(text)
    if control is not None:
        raise _no_text(file, text.count("\n", 0, control.start()) + 1)
    return text, name


def _no_text(file: str, row: int) -> InputRefused:
    message = "found binary data; a text file (CSV), XLSX, XLS or ODS would be right"
    return refusal(file, message, row=row)


def _encoding_of(data: bytes) -> str:
    """Return the character set by the first of these that fits: BOM, NULs, valid UTF-8, cp1252."""
    if data.startswith(codecs.BOM_UTF8):
        return "utf-8-sig"
    if data.startswith(codecs.BOM_UTF16_LE):
        return "utf-16-le"
    if data.startswith(codecs.BOM_UTF16_BE):
        return "utf-16-be"
    head = data[:4096]
    even, odd = head[0::2].count(0), head[1::2].count(0)
    half = len(head) // 2
    if odd > 0.6 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.6 * half and odd < 0.1 * half:
        return "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return _LAST_GUESS
    return "utf-8"


def _encoding_asked_for(encoding: str, file: str) -> str:
    try:
        if codecs.lookup(encoding).name in _OF_NAMES:
            raise LookupError("it spells names of hosts")
        "a".encode(encoding)  # refuses codecs that are not of text
    except (LookupError, ValueError) as error:
        raise refusal(
            file,
            f"found {quoted(encoding)} for `--encoding`; a character set such as utf-8, "
            "windows-1252 or utf-16 would be right",
        ) from error
    return encoding
