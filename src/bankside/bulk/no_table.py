"""What a file or a folder is that was given for a table and is none, and what would be right."""

from __future__ import annotations

from pathlib import Path

from bankside.bulk.run_folder import RUN_FILE, is_run_folder
from bankside.gauging.faults import Fault

__all__ = ["is_named_as_table", "no_table_in_file", "no_table_in_folder", "passed_over"]

_PARQUET = b"PAR1"
_SQLITE = b"SQLite format 3\0"
_HEAD = 512
_FEW = 3
_TABLE = "a Parquet file that `bankside bulk gather` writes"


def is_named_as_table(path: Path) -> bool:
    """Return whether a name ends as that of a table does, in small letters or capitals."""
    return path.suffix.lower() == ".parquet"


def no_table_in_file(file: Path, reason: str) -> Fault:
    """Return what a file that cannot be read as Parquet is; `reason` is what its reader said."""
    try:
        with file.open("rb") as stream:
            head = stream.read(_HEAD)
    except OSError as error:
        message = (
            f"cannot be read ({error.strerror or error}); a file open to reading would be right"
        )
        return Fault(message, file=str(file))
    if not head:
        message = f"found an empty file; {_TABLE} would be right"
    elif head.startswith(_PARQUET):
        message = f"found a damaged Parquet file ({reason.rstrip('.')}); a whole one would be right"
    elif head.startswith(_SQLITE):
        message = (
            "found a SQLite database; of an archive, the table that "
            f"`bankside bulk gather --archive {file} -o table.parquet` writes would be right"
        )
    elif _is_text(head):
        message = (
            "found text, such as a sheet saved as CSV; the table that `bankside bulk gather` "
            "writes of a sheet would be right"
        )
    else:
        message = f"found no Parquet file; {_TABLE} of sheets, records or an archive would be right"
    return Fault(message, file=str(file))


def no_table_in_folder(folder: Path) -> Fault:
    """Return what a folder without a Parquet file holds."""
    if is_run_folder(folder):
        message = "found the results of a bulk run; the table that went into it would be right"
        return Fault(message, file=str(folder))
    names = sorted(path.name for path in folder.iterdir())
    there = _listed(names) if names else "an empty folder"
    found = f"found no file that ends in .parquet ({there})"
    return Fault(f"{found}; a folder with such tables, or one table, would be right", str(folder))


def passed_over(folder: Path) -> Fault | None:
    """Return what is passed over in a folder of tables, None where there is nothing but tables.

    Aside from what is hidden, from what programs lay beside Parquet files under a name with _, and
    from the results of bulk runs.
    """
    names = sorted(path.name for path in folder.iterdir() if _is_strange(path))
    if not names:
        return None
    message = (
        "found beside the tables what does not end in .parquet and is passed over "
        f"({_listed(names)}); of sheets, records or an archive, a table that "
        "`bankside bulk gather` writes into this folder would be right"
    )
    return Fault(message, file=str(folder))


def _is_strange(path: Path) -> bool:
    is_set_aside = path.name.startswith((".", "_")) or path.name == RUN_FILE
    return not (is_set_aside or is_run_folder(path) or is_named_as_table(path))


def _listed(names: list[str]) -> str:
    more = f" and {len(names) - _FEW} more" if len(names) > _FEW else ""
    return ", ".join(names[:_FEW]) + more


def _is_text(head: bytes) -> bool:
    """Return whether a file begins as text does, in whatever character set."""
    return not any(byte < 32 and byte not in b"\t\n\r\f\x1a" for byte in head)
