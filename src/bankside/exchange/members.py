"""Several files kept together, in a folder or in a ZIP archive, and equal files as equal bytes."""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Collection, Mapping
from pathlib import Path

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.member_names import leads_outside

__all__ = [
    "MAX_BYTES",
    "MAX_CELLS",
    "read_members",
    "require_size",
    "too_many_cells",
    "write_folder",
    "write_zip",
]

MAX_BYTES = 256 * 1024 * 1024
"""As much as the files of one folder or archive may hold together."""

MAX_CELLS = 5_000_000
"""As many cells as one table may have: each takes far more memory than its letters."""

_MAX_MEMBERS = 10_000
_MAX_RATIO = 250
_RATIO_COUNTS_FROM = 1024 * 1024

# What zipfile raises for archives that are damaged, locked, or packed in a way that it lacks.
_UNREADABLE = (
    *(OSError, EOFError, zipfile.BadZipFile, zlib.error),
    *(NotImplementedError, RuntimeError, ValueError),
)
# The first moment that a ZIP archive can hold: no clock goes into the bytes.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


def write_zip(files: Mapping[str, bytes], path: Path) -> None:
    """Write files to a ZIP archive, in their order: equal files with one zlib are equal bytes."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, content in files.items():
            member = zipfile.ZipInfo(name, _NO_TIME)
            member.compress_type = zipfile.ZIP_DEFLATED
            member.external_attr = 0o644 << 16
            archive.writestr(member, content)


def write_folder(files: Mapping[str, bytes], folder: Path) -> None:
    """Write files to a folder that is there."""
    for name, content in files.items():
        (folder / name).write_bytes(content)


def read_members(path: Path, endings: Collection[str]) -> dict[str, bytes]:
    """Return the files of a folder or of a ZIP archive whose names have one of these endings.

    The names are in small letters, as devices turn them into capitals; those of an archive are
    without its folders, where all of it stands in one. InputRefused where it cannot be read, or
    holds more than any survey.
    """
    try:
        return _in_folder(path, endings) if path.is_dir() else _in_zip(path, endings)
    except InputRefused:
        raise
    except _UNREADABLE as error:
        reason = getattr(error, "strerror", None) or str(error)[:200] or type(error).__name__
        message = f"found no folder or ZIP archive that can be read whole ({reason})"
        raise InputRefused([Fault(message)]) from None


def _in_folder(folder: Path, endings: Collection[str]) -> dict[str, bytes]:
    paths = sorted(p for p in folder.iterdir() if p.suffix.lower() in endings and p.is_file())
    require_size(sum(path.stat().st_size for path in paths))
    found: dict[str, bytes] = {}
    for path in paths:
        name = path.name.lower()
        _require_one(name, found)
        found[name] = path.read_bytes()
    return found


def _in_zip(path: Path, endings: Collection[str]) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        listed = archive.infolist()
        if len(listed) > _MAX_MEMBERS:
            raise InputRefused([Fault(f"found an archive of more than {_MAX_MEMBERS:,} files")])
        for member in listed:
            if leads_outside(member):
                message = f"found {shown(member.orig_filename)}, which leads out of the archive"
                raise InputRefused([Fault(f"{message}; names of files inside it are right")])
        members = [
            member
            for member in listed
            if not member.is_dir() and Path(member.filename).suffix.lower() in endings
        ]
        require_size(sum(member.file_size for member in members))
        _require_ratio(members)
        found: dict[str, bytes] = {}
        for member in members:
            name = member.filename.rpartition("/")[2].lower()
            _require_one(name, found)
            # The library unpacks no more than was declared, whatever is there.
            found[name] = archive.read(member)
    return found


def _require_one(name: str, found: Collection[str]) -> None:
    if name in found:
        raise InputRefused([Fault(f"found two files {shown(name)}; one would be right")])


def too_many_cells() -> Fault:
    """Return that a table has more cells than are read."""
    return Fault(f"found more than {MAX_CELLS:,} cells; at most {MAX_CELLS:,} are read: split it")


def _require_ratio(members: Collection[zipfile.ZipInfo]) -> None:
    """Refuse what unpacks to far more than readings do: two hundred times is already much."""
    for member in members:
        most = max(_RATIO_COUNTS_FROM, _MAX_RATIO * member.compress_size)
        if member.file_size > most:
            name = member.filename.rpartition("/")[2]
            message = f"found a file that unpacks to more than {_MAX_RATIO} times its packed size"
            raise InputRefused([Fault(message, file=name)])


def require_size(size: int) -> None:
    """Refuse more bytes than one survey may have."""
    if size > MAX_BYTES:
        limit = MAX_BYTES // (1024 * 1024)
        raise InputRefused([Fault(f"found more than {limit} MB; at most {limit} MB are read")])
