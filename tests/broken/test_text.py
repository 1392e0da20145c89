"""Text files that are no table, or a table that can be read in more than one way."""

import codecs
import gzip
from pathlib import Path

import pytest

from .cases import HEADS, SOUND, Case, check, parametrized, table

SOUND_TEXT = "\n".join(SOUND) + "\n"
COMMAS = [line.replace(";", ",") for line in SOUND]

CASES = [
    Case("empty file", b"", ("found an empty file", "would be right")),
    Case("blank lines only", "\n\n  \n", ("found no line with a table", "would be right")),
    Case("comments only", "# site: Alder Fork\n# date: 2026-07-14\n", ("found no", "table")),
    Case(
        "heads only",
        HEADS + "\n",
        ("row 1", "found heads and no rows of readings", "one row for every vertical"),
    ),
    Case(
        "heads and blank lines",
        HEADS + "\n;;\n\n",
        ("row 1", "found heads and no rows of readings", "one row for every vertical"),
    ),
    Case(
        "no heads",
        "0;0;\n1;0.30;0.20\n2;0.50;0.40\n3;0;\n",
        ("row 1", "found no row of heads", '"0", "0"', "tape (m), depth (m)", "--column tape="),
    ),
    Case(
        "a single column",
        "tape (m)\n0\n1\n2\n",
        ("found a single column", "comma, semicolon, tab or pipe", "`--separator`"),
    ),
    Case(
        "prose",
        "The creek was up and we went home.\nNothing was read.\n",
        ("found a single column", "--separator"),
    ),
    Case(
        "a separator that is not there",
        SOUND_TEXT,
        ("found no pipe that separates cells", "comma, semicolon", "--separator"),
        options=("--separator", "pipe"),
    ),
    Case(
        "a wrong separator that is there",
        SOUND_TEXT.replace("0.", "0,"),
        ("row 1", "found no row of heads", '"tape (m);depth (m);velocity (m/s)"'),
        options=("--separator", "comma"),
    ),
    Case(
        "a separator without a name",
        SOUND_TEXT,
        ('found "slash" for `--separator`', "comma, semicolon, tab, pipe, blank"),
        options=("--separator", "slash"),
    ),
    Case(
        "two separators that fit equally well",
        "tape|depth;velocity|edge\n0|0;0|left\n1|0;0|right\n",
        ("semicolon and pipe", "--separator semicolon` or `--separator pipe"),
    ),
    Case(
        "a separator line of nonsense",
        "sep=x\n" + SOUND_TEXT,
        ("row 1", '"sep=x"', "comma, semicolon, tab, pipe"),
    ),
    Case(
        "decimal commas between commas",
        table("0,0,", "1,0,0,30,0,20", "2,0,0,50,0,40", heads=HEADS.replace(";", ",")),
        ("row 3", "found 6 fields where the heads have 3", "decimal commas", "rows 3 to 4"),
    ),
    Case(
        "decimal points and decimal commas",
        table("0;0;", "1;0,30;0.20", "2;0.50;0.40", "3;0;"),
        (
            "row 3",
            '"0,30"',
            "decimal point",
            "decimal comma",
            "would be right",
        ),
    ),
    Case(
        "a decimal comma though a point was said",
        table("0;0;", "1;0,30;0.20", "2;0.50;0.40", "3;0;"),
        ("row 3", 'column B "depth (m)"', 'found "0,30"', "decimal comma", "0.35 would be right"),
        options=("--decimal", "point"),
    ),
    Case(
        "a quotation mark never closed",
        table("0;0;", '1;"0.30;0.20', "2;0.50;0.40", "3;0;"),
        ("row 3", "quotation mark that is never closed", "right"),
    ),
    Case(
        "text after a closing quotation mark",
        table("0;0;", '1;"0.30"x;0.20', "2;0.50;0.40", "3;0;"),
        ("row 3", "text after a closing quotation mark", "would be right"),
    ),
    Case(
        "a cell that never ends",
        table("0;0;", '1;"' + "x" * 150_000 + '";0.20', "3;0;"),
        ("row 3", "100,000 characters", "quotation mark"),
    ),
    Case(
        "too many fields on a row",
        table("0;0;", "1;0.30;0.20;0.25", "2;0.50;0.40", "3;0;"),
        ("row 3", "found 4 fields where the heads have 3", "column D", "would be right"),
    ),
    Case(
        "a missing cell between blanks",
        "tape_m depth_m velocity_ms\n0 0 0\n1 0.30\n2 0.50 0.40\n3 0 0\n",
        ("row 3", "found 2 values where the table has 3", "semicolons would be right"),
    ),
    Case(
        "too many columns",
        ";".join(["tape (m)", "depth (m)", "velocity (m/s)"] + ["x"] * 600) + "\n0;0;0\n1;1;1\n",
        ("row 1", "found 603 columns", "at most 500"),
    ),
    Case(
        "binary rubbish",
        bytes(range(256)) * 40,
        ("row 1", "found binary data", "would be right"),
    ),
    Case(
        "control characters",
        bytes(range(128)) * 40,
        ("row 1", "found binary data", "a text file (CSV), XLSX, XLS or ODS would be right"),
    ),
    Case(
        "UTF-16 without its mark",
        # Few Latin letters: every other byte is not 0, so nothing tells the bytes from rubbish.
        ("水深;流速;測点\n" + SOUND_TEXT).encode("utf-16-be")[1:],
        ("found", "would be right"),
    ),
    Case(
        "UTF-16 cut in the middle of a character",
        codecs.BOM_UTF16_LE + SOUND_TEXT.encode("utf-16-le") + b"4",
        ("utf-16-le", "row 7", "--encoding"),
    ),
    Case(
        "another character set than was said",
        ("# site: Müller brook\n" + SOUND_TEXT).encode("windows-1252"),
        ("row 1", "byte", "utf-8", "--encoding"),
        options=("--encoding", "utf-8"),
    ),
    Case(
        "an unknown character set",
        SOUND_TEXT,
        ('found "runes" for `--encoding`', "utf-8, windows-1252 or utf-16 would be right"),
        options=("--encoding", "runes"),
    ),
    Case(
        "a coding that is no character set",
        SOUND_TEXT,
        ('"hex" for `--encoding`', "utf-8", "would be right"),
        options=("--encoding", "hex"),
    ),
    Case(
        "a coding of the names of hosts",
        SOUND_TEXT,
        ('"punycode" for `--encoding`', "utf-8", "would be right"),
        options=("--encoding", "punycode"),
    ),
    Case(
        "a sheet of a text file",
        SOUND_TEXT,
        ("found a text file", 'no sheet "June"'),
        options=("--sheet", "June"),
    ),
    Case(
        "PDF named CSV",
        b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n",
        ("found a PDF document", "XLSX, XLS, ODS or CSV would be right"),
    ),
    Case(
        "PNG named CSV",
        b"\x89PNG\r\n\x1a\n" + bytes(64),
        ("found a PNG image", "XLSX, XLS, ODS or CSV would be right"),
    ),
    Case(
        "JPEG named CSV",
        b"\xff\xd8\xff\xe0\x00\x10JFIF" + bytes(64),
        ("found a JPEG image", "would be right"),
    ),
    Case(
        "a web page named XLS",
        "<html><table><tr><td>tape</td></tr></table></html>",
        ("found a web page (HTML)", "would be right"),
        file="flow.xls",
    ),
    Case(
        "an XML file",
        '<?xml version="1.0"?><gauging/>',
        ("found an XML file", "would be right"),
        file="flow.xls",
    ),
    Case(
        "gzip named CSV",
        gzip.compress(SOUND_TEXT.encode()),
        ("found a gzip archive", "would be right"),
    ),
    Case("SQLite", b"SQLite format 3\x00" + bytes(100), ("found a SQLite database",)),
]


@parametrized(CASES)
def test_a_text_that_is_no_clear_table_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence says what was found and what would be right; nothing is written."""
    check(case, tmp_path, capsys)
