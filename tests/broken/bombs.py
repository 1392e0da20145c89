"""Files that are small to send and large to read, or that reach for what is not theirs."""

from __future__ import annotations

import io
import random
import sqlite3
import stat
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq

from .workbooks import MAIN, SHEET, archive, ods, repacked, workbook

__all__ = ["BOMBS", "SECRET"]

_M = 1_000_000
_HEADS = b"tape (m),depth (m),velocity (m/s)\n"
_PACKAGE = b'{"resources": [{"name": "gaugings", "path": "gaugings.csv"}]}'
_WATERML = (
    '<wml2:Collection xmlns:wml2="http://www.opengis.net/waterml/2.0" '
    'xmlns:p2="http://www.opengis.net/waterml/part2/1.0">'
)
_END = "</wml2:Collection>"
SECRET = "a secret of this machine"
"""What stands in a file beside the bombs, which none of them may bring to light."""


def _package(rows: bytes) -> bytes:
    return archive({"datapackage.json": _PACKAGE, "gaugings.csv": rows})


def _named(name: str, mode: int = stat.S_IFREG | 0o644) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        made.writestr("datapackage.json", _PACKAGE)
        member = zipfile.ZipInfo(name)
        member.filename, member.external_attr = name, mode << 16
        made.writestr(member, b"id\na\n")
    return out.getvalue()


def _part(name: str) -> bytes:
    """A workbook with one more part of this name."""
    return repacked(workbook(), {name: b"<a/>"})


def _uneven(part: bytes, count: int) -> bytes:
    """A part so many times, with a figure behind each, so that it packs no better than a table."""
    figures = random.Random(1)
    return b"".join(part % figures.randrange(10_000) for _ in range(count))


def _sheet(rows: bytes) -> bytes:
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>'.encode() + rows + b"</sheetData></worksheet>"
    return repacked(workbook(), {SHEET: sheet})


def _same_sheet_again() -> bytes:
    with zipfile.ZipFile(io.BytesIO(workbook())) as old:
        names = "".join(f'<sheet name="S{n}" sheetId="{n}" r:id="rId1"/>' for n in range(2, 900))
        book = old.read("xl/workbook.xml").decode().replace("</sheets>", f"{names}</sheets>")
        book = book.replace("<workbook ", '<workbook xmlns:r="urn:r" ', 1)
    return repacked(workbook(), {"xl/workbook.xml": book.encode()})


def _laughs() -> str:
    return '<!ENTITY a "ha">' + "".join(
        f'<!ENTITY {chr(98 + n)} "{f"&{chr(97 + n)};" * 10}">' for n in range(9)
    )


def _xml(declared: str, inside: str) -> bytes:
    return f'<?xml version="1.0"?>{_WATERML}{inside}{_END}'.replace(
        "?>", f"?><!-- {_WATERML} --><!DOCTYPE w [{declared}]>", 1
    ).encode()


def _row(cells: str, repeated: int = 1) -> str:
    return f'<table:table-row table:number-rows-repeated="{repeated}">{cells}</table:table-row>'


def _parquet(table: pa.Table) -> bytes:
    out = io.BytesIO()
    pq.write_table(table, out, compression="zstd", use_dictionary=True)
    return archive({"gaugings.parquet": out.getvalue()})


def _one_text_in_every_row() -> bytes:
    text = pa.DictionaryArray.from_arrays(
        pa.array([0] * 20_000, pa.int32()), pa.array(["x" * _M], pa.string())
    )
    return _parquet(pa.table({"id": text}))


def _geopackage(*statements: str) -> Callable[[Path], object]:
    def write(path: Path) -> None:
        database = sqlite3.connect(path)
        database.execute("pragma application_id = 1196444487")
        for statement in statements:
            database.execute(statement)
        database.commit()
        database.close()

    return write


_ENDLESS = "with recursive n(i) as (select 1 union all select i + 1 from n) select i as id from n"
_GENERATED = "generated always as (hex(zeroblob(400000000)))"
_NULLS = pa.nulls(60_000_000, pa.string())

BOMBS: Mapping[str, tuple[Callable[[], bytes] | Callable[[Path], object], tuple[str, ...]]] = {
    "millions of columns.csv": (
        lambda: _HEADS + b"1," * 30 * _M,
        ("row 2", "a line of 60,000,000"),
    ),
    "a line without end.csv": (lambda: b"x" * 60 * _M, ("row 1", "characters; at most 200,000")),
    "wide enough.csv": (lambda: (b"1," * 60_000 + b"\n") * 300, ("columns; at most 500",)),
    "wide of blanks.csv": (lambda: (b"1 " * 60_000 + b"\n") * 300, ("columns; at most 500",)),
    "quotation marks.csv": (lambda: _HEADS + b'"' * 60 * _M, ("row 2", "a line of 60,000,000")),
    "nothing but lines.csv": (lambda: _HEADS + b"\n" * 60 * _M, ("more than 200,000 rows",)),
    "nothing but rows.csv": (lambda: _HEADS + b"1,2,3\n" * 10 * _M, ("more than 200,000 rows",)),
    "no heads.csv": (lambda: b"rocks;weed\n" * 100_000, ("found no row of heads",)),
    "a NUL.csv": (lambda: _HEADS + b"1,0\0.3,0.2\n", ("row 2", "found binary data")),
    "nothing but NULs.csv": (lambda: bytes(30 * _M), ("found binary data",)),
    "deep.json": (lambda: b'{"a":' * _M, ("must not be nested as deeply",)),
    "deep lists.json": (lambda: b'{"a":' + b"[" * 20 * _M, ("more than 5,000,000 values",)),
    "many objects.json": (
        lambda: b'{"gaugings": [' + b"{}," * 20 * _M + b"{}]}",
        ("more than 5,000,000 values",),
    ),
    "a long number.json": (lambda: b'{"format": ' + b"1" * 30 * _M + b"}", ("format must be",)),
    "packed rows.zip": (
        lambda: _package(b"id\n" + b"a\n" * 20 * _M),
        ("gaugings.csv", "250 times"),
    ),
    "packed cells.zip": (
        lambda: _package(b"id\n" + _uneven(b",,,,,,,,,,%d", 600_000)),
        ("gaugings.csv", "more than 5,000,000 cells"),
    ),
    "very many files.zip": (
        lambda: archive({"datapackage.json": _PACKAGE, **{f"{n}.csv": b"" for n in range(10_001)}}),
        ("more than 10,000 files",),
    ),
    "up and away.zip": (lambda: _named("../../gaugings.csv"), ("leads out of the archive",)),
    "from the root.zip": (lambda: _named("/etc/gaugings.csv"), ("leads out of the archive",)),
    "from a drive.zip": (lambda: _named("C:\\gaugings.csv"), ("leads out of the archive",)),
    "backwards.zip": (lambda: _named("..\\..\\gaugings.csv"), ("leads out of the archive",)),
    "a link.zip": (lambda: _named("gaugings.csv", stat.S_IFLNK | 0o777), ("leads out of the",)),
    "a part up and away.xlsx": (lambda: _part("../../xl/a.xml"), ("a part leads out of it",)),
    "a part from the root.xlsx": (lambda: _part("/etc/a.xml"), ("a part leads out of it",)),
    "laughs.xml": (lambda: _xml(_laughs(), "<a>&j;</a>"), ("no XML that is whole",)),
    "laughs in attributes.xml": (
        lambda: _xml(_laughs(), '<a b="&j;"/>'),
        ("no XML that is whole",),
    ),
    "squared.xml": (
        lambda: _xml(f'<!ENTITY a "{"x" * 3000}">', f"<a>{'&a;' * 100_000}</a>"),
        ("no XML that is whole",),
    ),
    "another file.xml": (
        lambda: _xml('<!ENTITY a SYSTEM "../beside.txt">', "<a>&a;</a>"),
        ("found a document type",),
    ),
    "another host.xml": (
        lambda: _xml('<!ENTITY % a SYSTEM "http://192.0.2.1/a.dtd"> %a;', ""),
        ("found a document type",),
    ),
    "deep.xml": (lambda: (_WATERML + "<a>" * 500_000).encode(), ("no XML that is whole",)),
    "many tags.xml": (
        lambda: (_WATERML + "<a/>" * 15 * _M).encode(),
        ("more than 5,000,000 tags",),
    ),
    "packed.xlsx": (lambda: _sheet(b"<row><c/></row>" * 2 * _M), ("unpacks to far more",)),
    "nothing but tags.xlsx": (
        lambda: _sheet(b'<row r="1">' + _uneven(b"<c/>" * 40 + b"%d", 640_000) + b"</row>"),
        ("more than 25,000,000 tags",),
    ),
    "empty cells.xlsx": (
        lambda: _sheet(b'<row r="1">' + _uneven(b"<c/>" * 20 + b"%d", 100_000) + b"</row>"),
        ("without a filled cell",),
    ),
    "one sheet as many.xlsx": (_same_sheet_again, ("two of its sheets are one",)),
    "very many parts.xlsx": (
        lambda: repacked(workbook(), {f"xl/{n}.xml": b"<a/>" for n in range(10_001)}),
        ("more than 10,000 parts",),
    ),
    "repeated.ods": (
        lambda: ods(
            _row(
                '<table:table-cell table:number-columns-repeated="1000" office:value-type="float" '
                'office:value="1"/>',
                1_000_000,
            )
        ),
        ("more than 200,000 rows",),
    ),
    "formulas.ods": (
        lambda: ods(
            _row('<table:table-cell table:formula="a" table:number-columns-repeated="50"/>', 99_999)
        ),
        ("more than 100,000 formulas without",),
    ),
    "formulas alone.ods": (
        lambda: ods(
            _row('<table:table-cell table:formula="a" table:number-columns-repeated="9"/>', 9)
        ),
        ("found no row of heads", "errors or formulas alone"),
    ),
    "very many sheets.ods": (
        lambda: ods(_row("") + '</table:table><table:table table:name="a">' * 1_001),
        ("more than 1,000 sheets",),
    ),
    "nothing in very many rows.zip": (
        lambda: _parquet(pa.table({"id": _NULLS})),
        ("gaugings.parquet", "more than 5,000,000 cells"),
    ),
    "one text in every row.zip": (_one_text_in_every_row, ("more than 256 MB",)),
    "a view without end.gpkg": (
        _geopackage(
            "create table gpkg_contents (table_name)", f"create view gaugings as {_ENDLESS}"
        ),
        ("layer gaugings", "worked out when it is read"),
    ),
    "contents without end.gpkg": (
        _geopackage(f"create view gpkg_contents as {_ENDLESS}"),
        ("layer gpkg_contents", "worked out when it is read"),
    ),
    "a column that is made.gpkg": (
        _geopackage(
            "create table gpkg_contents (table_name)",
            f"create table gaugings (id text, site_name text {_GENERATED})",
            "insert into gaugings (id) values ('a')",
        ),
        ("layer gaugings", "worked out when it is read"),
    ),
}
"""Name of the file → how it is made, and what is to be said of it."""
