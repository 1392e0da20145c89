"""Sound inputs with random damage: read, or refused in words; never a fault of the program."""

import json
import re
import tempfile
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from bankside.cli import main

from .test_records import document

SHEET = (
    b"# site: Alder Fork\n# date: 2026-07-14\n# meter rating: V = 0.51 N + 0.03\n"
    b"site;tape (m);depth (m);fraction;velocity (m/s);revolutions;seconds;angle;edge;remarks\n"
    b"A;0;0;;;;;;left;\nA;1;0.30;0.6;0.20;;40;;;\nA;2;0.50;0.2;0.40;;;10;;rock\n"
    b"A;;;0.8;0.30;;;;;\nA;3;0.40;0.6;;20;40;;;\nA;4;0;;;;;;right;\n"
    b"B;0;0;;;;;;;\nB;1;0.30;;0.20;;;;;\nB;2;dry;;;;;;;\ntotal;;;;;;;;;\n"
)
RECORD = json.dumps(
    document(
        date="2026-07-14",
        started="2026-07-14T10:05:00-07:00",
        meter={"kind": "bucket wheel", "rating": [{"slope": 0.5, "intercept": 0.03}]},
    )
).encode()
BITS = [
    *(b"; , \t | \n \r\n \" ' # : . - + 0 9 e \x00 \xff \xef\xbb\xbf".split(b" ")),
    *(b"NaN inf 1e400 1e308 1e-320 -0 #DIV/0! total mean dry site: date: ;;;; #;".split()),
    *(b'{ } [ ] null true "depth": "tape":0, "velocity":[], "edge":"left",'.split()),
    "½".encode(),
    "²٣".encode(),
]
EDIT = st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(BITS) | st.binary(max_size=3))
EDITS = st.lists(EDIT, min_size=1, max_size=3)
LINES = SHEET.count(b"\n")
CELLS = [
    *("0 1 2 0.5 0,5 -1 60 0.2 1e9 1e400 dry left right LEW x # #1 - n/a total mean NaN".split()),
    *("ft m/s 10:05 2026-07-14 03/04/2026 steep sum;1 a;b #N/A".split()),
    "",
    "left steep",
    "total: 3",
    "site: C",
]
CELL = st.tuples(st.integers(3, LINES - 1), st.integers(0, 9), st.sampled_from(CELLS))
MEMBERS = (
    'null true 0 0.5 1 -1 1e300 5e-324 1e400 "x" "left" [] {} [{}] [[]] {"value":1} {"tape":1}'
).split()


def _damaged(data: bytes, edits: list[tuple[float, int, bytes]]) -> bytes:
    """Replace some bytes at a few places, given as parts of the whole length."""
    for place, length, bit in edits:
        start = int(place * len(data))
        data = data[:start] + bit + data[start + length :]
    return data


def _rewritten(cells: list[tuple[int, int, str]], order: list[int], drop: int) -> bytes:
    """The sheet with some cells others, the lines in another order, and the last ones left out."""
    rows = [line.split(";") for line in SHEET.decode().splitlines()]
    for row, column, text in cells:
        rows[row][column] = text
    return "".join(";".join(rows[i]) + "\n" for i in order[: LINES - drop]).encode()


def _places(member: Any) -> list[tuple[Any, Any]]:
    """Every place of a document at which a member can be another: its container and its key."""
    keys = range(len(member)) if isinstance(member, list) else list(member)
    inner = [m for m in (member[key] for key in keys) if isinstance(m, list | dict)]
    return [(member, key) for key in keys] + [place for m in inner for place in _places(m)]


def _lines(data: bytes) -> int | None:
    """The rows of a text; None where a row may be of several lines, and for a record."""
    if any(sign in data for sign in (b'"', b"\x1a")):
        return None
    return len(re.findall(rb"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$", data))


def _run(path: Path) -> tuple[int, str, str]:
    out, err = StringIO(), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main(["compute", str(path), "--json", "--keep-going"])
    return code, out.getvalue(), err.getvalue()


def _hold(data: bytes, name: str) -> None:
    """Hold that a file is computed or refused, and that a computed one has every row counted."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        code, out, err = _run(path)
        assert code in (0, 2), err
        assert "Traceback" not in err
        if code == 2:
            assert out == "" and err.strip()
            return
        (file,) = json.loads(out)["files"]
        rows = _lines(data)
        if rows is not None:
            assert sum(file["rows"].values()) == rows


@settings(max_examples=40)
@given(EDITS)
def test_a_damaged_sheet_is_read_or_refused(edits: list[tuple[float, int, bytes]]) -> None:
    """Whatever is written over a sheet, the program knows what to say."""
    _hold(_damaged(SHEET, edits), "flow.csv")


@settings(max_examples=100)
@given(st.lists(CELL, max_size=2))
def test_a_sheet_with_other_cells_is_read_or_refused(cells: list[tuple[int, int, str]]) -> None:
    """Whatever stands in a cell, each row is counted once."""
    _hold(_rewritten(cells, list(range(LINES)), 0), "flow.csv")


@settings(max_examples=40)
@given(st.lists(CELL, max_size=1), st.permutations(range(LINES)), st.integers(0, 10))
def test_a_sheet_in_any_order_is_read_or_refused(
    cells: list[tuple[int, int, str]], order: list[int], drop: int
) -> None:
    """Lines may stand anywhere and be missing; each one left is counted once."""
    _hold(_rewritten(cells, order, drop), "flow.csv")


@settings(max_examples=80)
@given(st.data())
def test_a_record_with_other_members_is_read_or_refused(data: st.DataObject) -> None:
    """Whatever a member holds, the program knows what to say."""
    document = json.loads(RECORD)
    for _ in range(data.draw(st.integers(1, 2))):
        container, key = data.draw(st.sampled_from(_places(document)))
        container[key] = json.loads(data.draw(st.sampled_from(MEMBERS)))
    _hold(json.dumps(document).encode(), "flow.json")


@settings(max_examples=40)
@given(EDITS)
def test_a_damaged_record_is_read_or_refused(edits: list[tuple[float, int, bytes]]) -> None:
    """Whatever is written over a record, the program knows what to say."""
    _hold(_damaged(RECORD, edits), "flow.json")
