"""Workbooks worked out anew by LibreOffice, from files whose stored results are all wrong."""

import fcntl
import io
import re
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

MISSING = (
    "LibreOffice is needed to prove the workbook: no soffice was found. On Debian or Ubuntu: "
    "apt-get install --no-install-recommends libreoffice-calc"
)
WRONG = "-77777.5"
# LibreOffice leaves off somewhere above 200 files in one run.
_LOCK = Path(tempfile.gettempdir()) / "bankside-tests-libreoffice.lock"
_RUNS = 2

# LibreOffice believes the results stored by other programs unless it is told to work out anew.
_ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
 <item oor:path="/org.openoffice.Office.Calc/Formula/Load">
  <prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
 </item>
</oor:items>
"""


def with_wrong_results(workbook: bytes) -> bytes:
    """Return the workbook with a wrong stored number in every cell that has a formula."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            if name.startswith("xl/worksheets/"):
                part = re.sub(
                    rb"(<f>[^<]*</f>)<v>[^<]*</v>", rb"\1<v>" + WRONG.encode() + rb"</v>", part
                )
                part = part.replace(b' t="str"', b"")
            new.writestr(name, part)
    return out.getvalue()


def recalculated(workbooks: Mapping[str, bytes], folder: Path) -> dict[str, Path]:
    """Return the workbooks as LibreOffice writes them after working out every formula anew."""
    soffice = shutil.which("soffice")
    if soffice is None:
        pytest.fail(MISSING)
    before, after = folder / "before", folder / "after"
    before.mkdir()
    files = [before / f"{name}.xlsx" for name in workbooks]
    for file, workbook in zip(files, workbooks.values(), strict=True):
        file.write_bytes(workbook)

    def convert(number: int) -> str:
        return _converted(soffice, folder / f"profile{number}", files[number::_RUNS], after)

    # More of them at once, where several processes share the tests, and LibreOffice falls over.
    with _LOCK.open("w") as lock, ThreadPoolExecutor(2) as pool:
        fcntl.flock(lock, fcntl.LOCK_EX)
        said = "".join(pool.map(convert, range(_RUNS)))
    written = {name: after / f"{name}.xlsx" for name in workbooks}
    missing = [name for name, file in written.items() if not file.exists()]
    assert missing == [], f"LibreOffice wrote nothing for these: {said}"
    return written


def _converted(soffice: str, profile: Path, files: Sequence[Path], folder: Path) -> str:
    """Convert files in one run with settings of its own, and return what LibreOffice said.

    Now and then it crashes on a busy machine: what it has not written then is tried once more.
    """
    said = _one_run(soffice, profile, files, folder)
    left = [file for file in files if not (folder / file.name).exists()]
    return said + (_one_run(soffice, profile / "again", left, folder) if left else "")


def _one_run(soffice: str, profile: Path, files: Sequence[Path], folder: Path) -> str:
    (profile / "user").mkdir(parents=True)
    (profile / "user" / "registrymodifications.xcu").write_text(_ALWAYS_RECALCULATE, "utf-8")
    run = subprocess.run(
        [
            *(soffice, f"-env:UserInstallation={profile.as_uri()}", "--headless"),
            *("--convert-to", "xlsx", "--outdir", str(folder)),
            *map(str, files),
        ],
        capture_output=True,
        text=True,
        timeout=570,
        check=False,
    )
    return run.stderr


def values(workbook: bytes | Path) -> Any:
    """Return the workbook with the results of its formulas."""
    return openpyxl.load_workbook(_source(workbook), data_only=True)


def formulas(workbook: bytes | Path) -> Any:
    """Return the workbook with its formulas."""
    return openpyxl.load_workbook(_source(workbook))


def _source(workbook: bytes | Path) -> Any:
    return io.BytesIO(workbook) if isinstance(workbook, bytes) else workbook


def table(sheet: Worksheet) -> list[dict[str, Any]]:
    """Return the rows below the heads, by the heads without their units, empty rows left out."""
    rows = sheet.iter_rows(min_row=4, values_only=True)
    heads = [str(head or "").split(" (")[0] for head in next(rows)]
    return [
        dict(zip(heads, row, strict=True)) for row in rows if any(cell is not None for cell in row)
    ]
