"""Workbooks as grids: XLSX and XLSM, ODS, and the old XLS.

The cells are read by python-calamine. It leaves a cell empty when the cell holds an error or a
formula without a computed value, and it believes whatever sizes a file claims. So each workbook is
gone through once beforehand: how large every sheet is, which cells are not what they seem, and
whether the file is fit to be read at all. Of an archive only the parts that were checked are
handed on.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator

import python_calamine

from bankside.gauging.faults import InputRefused
from bankside.sheets.files.grid import Grid, quoted, refusal
from bankside.sheets.files.ods_marks import ods_marks
from bankside.sheets.files.ole2 import Ole2Streams
from bankside.sheets.files.workbook_faults import PASSWORD, SAVE_AS, Damaged, Unfit
from bankside.sheets.files.workbook_values import grids_of_workbook
from bankside.sheets.files.xls_marks import xls_marks
from bankside.sheets.files.xlsx_marks import xlsx_marks
from bankside.sheets.files.zip_guard import checked_parts, packed_again

__all__ = ["read_ole2", "read_zip"]


def read_zip(data: bytes, file: str, sheet: str | None) -> tuple[Grid, ...]:
    """Read the sheets of a workbook that is a ZIP archive (XLSX, XLSM or ODS).

    `sheet` picks one by name. Raises InputRefused.
    """
    with _one_sentence_for_every_error(file):
        parts = checked_parts(data)
        content = parts.get("content.xml")
        marks = xlsx_marks(parts) if content is None else ods_marks(content)
        return grids_of_workbook(packed_again(parts), file, sheet, marks)


def read_ole2(data: bytes, file: str, sheet: str | None) -> tuple[Grid, ...]:
    """Read the sheets of an old binary workbook (XLS). `sheet` picks one by name.

    Raises InputRefused.
    """
    with _one_sentence_for_every_error(file):
        streams = Ole2Streams(data)
        if "EncryptedPackage" in streams.names:
            raise Unfit(PASSWORD)
        name = next((name for name in ("Workbook", "Book") if name in streams.names), None)
        if name is None:
            kind = "a Word document" if "WordDocument" in streams.names else "an Office file"
            raise Unfit(f"found {kind} that is no workbook; {SAVE_AS}")
        return grids_of_workbook(data, file, sheet, xls_marks(streams.read(name)))


@contextlib.contextmanager
def _one_sentence_for_every_error(file: str) -> Iterator[None]:
    """Turn whatever goes wrong with a workbook into InputRefused with one sentence."""
    try:
        yield
    except InputRefused:
        raise
    except Unfit as error:
        raise refusal(file, str(error), error.sheet) from error
    except python_calamine.PasswordError as error:
        raise refusal(file, PASSWORD) from error
    except MemoryError as error:
        raise refusal(file, f"found a workbook too large for this machine; {SAVE_AS}") from error
    except BaseException as error:
        # A broken file can make three foreign readers (archive, XML, cells) fail in ways that they
        # do not list. A panic inside the compiled one is no Exception, so it is told by its name.
        if not isinstance(error, Exception) and type(error).__name__ != "PanicException":
            raise
        raise refusal(file, str(Damaged(quoted(str(error))))) from error
