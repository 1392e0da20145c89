"""Rows of which one cell is not what its column needs."""

from pathlib import Path

import pytest

from .cases import HEADS, Case, check, parametrized, table

DEPTH, VELOCITY, TAPE = 'column B "depth (m)"', 'column C "velocity (m/s)"', 'column A "tape (m)"'
COUNTS_HEADS = "tape (m);depth (m);revolutions;seconds"
RATING = "# units: m/s\n# meter rating: V = 0.51 N + 0.03\n"
POINT_HEADS = "tape (m);depth (m);fraction;velocity (m/s)"


def _depth(cell: str) -> str:
    """A sound table but for one depth, on row 3."""
    return table("0;0;", f"1;{cell};0.20", "2;0.50;0.40", "3;0;")


def _velocity(cell: str) -> str:
    """A sound table but for one velocity, on row 3."""
    return table("0;0;", f"1;0.30;{cell}", "2;0.50;0.40", "3;0;")


def _tape(cell: str) -> str:
    """A sound table but for one tape position, on row 3."""
    return table("0;0;", f"{cell};0.30;0.20", "2;0.50;0.40", "3;0;")


def _no_number(name: str, cell: str, hint: str = "") -> Case:
    said = (f'found "{cell}"', hint, "a depth such as 0.35 would be right")
    return Case(name, _depth(cell), ("row 3", DEPTH, *said))


CELLS = [
    *(
        Case(
            f"a tape position {name}",
            _tape(cell),
            ("row 3", TAPE, f'found "{cell}"', "would be right"),
        )
        for name, cell in (("that ends like a name", "2.A"), ("that is a name", "w"), ("of Q", "Q"))
    ),
    _no_number("a letter for a nought", "0.3O", "a letter in place of a figure"),
    _no_number("a letter for a one", "l.2", "a letter in place of a figure"),
    _no_number("a unit in the cell", "12 cm"),
    _no_number("less than", "<0.01"),
    _no_number("about", "~0.3"),
    _no_number("a star", "1.2*"),
    _no_number("a question mark", "0.3?"),
    _no_number("two numbers", "0.3/0.4"),
    _no_number("a sum", "0.3+0.1"),
    _no_number("two points", "0..3"),
    _no_number("a blank inside", "0. 30"),
    _no_number("not a number", "NaN"),
    _no_number("infinity", "inf"),
    _no_number("hexadecimal", "0x1F"),
    _no_number("digits with underscores", "1_000"),
    _no_number("truth", "TRUE"),
    _no_number("a date for a depth", "2026-07-14"),
    _no_number("a time for a depth", "10:05"),
    _no_number("a word", "waist"),
    Case(
        "a number beyond every number",
        _depth("1e400"),
        ("row 3", DEPTH, 'found "1e400"', "no usable number", "0.35 would be right"),
    ),
    Case(
        "a number larger than any stream",
        _depth("1e300"),
        ("row 3", DEPTH, 'found "1e300"', "no usable number", "0.35 would be right"),
    ),
    Case(
        "a spreadsheet error as text",
        _depth("#DIV/0!"),
        ("row 3", DEPTH, "spreadsheet error #DIV/0!", "would be right"),
    ),
    Case(
        "a negative depth",
        _depth("-0.30"),
        ("row 3", DEPTH, "found -0.3", "0 or more would be right"),
    ),
    Case(
        "text for a velocity",
        _velocity("fast"),
        ("row 3", VELOCITY, 'found "fast"', "a velocity such as 0.42 would be right"),
    ),
    Case(
        "text for a tape position",
        _tape("1.O"),
        ("row 3", TAPE, 'found "1.O"', "a letter in place of a figure", "would be right"),
    ),
    Case(
        "only letters for noughts on a row",
        table("0;0;", "1.O;O.30;O.20", "2;0.50;0.40", "3;0;"),
        ("row 3", TAPE, 'found "1.O"', "would be right"),
        also=(("row 3", DEPTH, 'found "O.30"'), ("row 3", VELOCITY, 'found "O.20"')),
    ),
    Case(
        "a velocity without a depth",
        _depth(""),
        ("row 3", DEPTH, "found a velocity without a depth", "would be right"),
    ),
    Case(
        "a depth written as not measured",
        _depth("n/a"),
        ("row 3", DEPTH, "found a velocity without a depth", "would be right"),
    ),
    Case(
        "readings without a tape position",
        _tape(""),
        ("row 3", TAPE, "found no tape position beside readings", "would be right"),
    ),
    Case(
        "no depth at the end",
        table("0;0;", "1;0.30;0.20", "2;0.50;0.40", "3;;"),
        ("row 5", DEPTH, "found no depth at the end", "0 at a sloping edge", "--empty-edge"),
    ),
]

POINTS = [
    Case(
        "a fraction with a letter",
        table("0;0;;", "1;0.30;0.9x;0.20", "2;0.50;0.6;0.40", "3;0;;", heads=POINT_HEADS),
        ("row 3", 'column C "fraction"', 'found "0.9x"', "such as 0.6 would be right"),
    ),
    Case(
        "a fraction above 1",
        table("0;0;;", "1;0.30;6;0.20", "2;0.50;0.6;0.40", "3;0;;", heads=POINT_HEADS),
        ("row 3", 'column C "fraction"', "found 6", "from 0 (surface) to 1 (bed) would be right"),
    ),
    Case(
        "a negative fraction",
        table("0;0;;", "1;0.30;-0.6;0.20", "2;0.50;0.6;0.40", "3;0;;", heads=POINT_HEADS),
        ("row 3", 'column C "fraction"', "found -0.6", "would be right"),
    ),
    Case(
        "a single point at an odd fraction",
        table("0;0;;", "1;0.30;0.3;0.20", "2;0.50;0.6;0.40", "3;0;;", heads=POINT_HEADS),
        ("row 3", "0.3", "0.6"),
        computing=True,
    ),
    Case(
        "a point with no vertical above it",
        table(";;0.2;0.30", "1;0.30;0.6;0.20", "2;0.50;0.6;0.40", heads=POINT_HEADS),
        ("row 2", TAPE, "found no tape position beside readings", "would be right"),
    ),
    Case(
        "revolutions without seconds",
        RATING + table("0;0;;", "1;0.30;20;", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("row 5", 'column C "revolutions"', "without its time", "seconds", "would be right"),
    ),
    Case(
        "seconds without revolutions",
        RATING + table("0;0;;", "1;0.30;;40", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("row 5", "seconds", "revolutions", "would be right"),
    ),
    Case(
        "no time at all",
        RATING + table("0;0;;", "1;0.30;20;0", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("row 5", 'column D "seconds"', "0", "above 0"),
    ),
    Case(
        "negative revolutions",
        RATING + table("0;0;;", "1;0.30;-20;40", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("row 5", 'column C "revolutions"', "-20", "at least 0"),
    ),
    Case(
        "revolutions without a rating",
        "# units: m/s\n"
        + table("0;0;;", "1;0.30;20;40", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("rating", "row", "--rating"),
    ),
    Case(
        "a rating that is no equation",
        "# units: m/s\n# meter rating: see the card\n"
        + table("0;0;;", "1;0.30;20;40", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("row 2", 'found the rating "see the card"', "V = 0.51 N + 0.03", "would be right"),
    ),
    Case(
        "a rating that is no equation, as an answer",
        "# units: m/s\n"
        + table("0;0;;", "1;0.30;20;40", "2;0.50;40;40", "3;0;;", heads=COUNTS_HEADS),
        ("--rating", '"steep"', '"0.51,0.03"', "would be right"),
        options=("--rating", "steep"),
        placed=False,
    ),
    Case(
        "an angle that turns the flow around",
        table("0;0;;", "1;0.30;0.20;120", "2;0.50;0.40;", "3;0;;", heads=HEADS + ";angle (deg)"),
        ("row 3", 'column D "angle (deg)"', "120", "from -90 to 90"),
    ),
    Case(
        "an angle coefficient above 1",
        table(
            "0;0;;", "1;0.30;0.20;1.2", "2;0.50;0.40;", "3;0;;", heads=HEADS + ";angle coefficient"
        ),
        ("row 3", 'column D "angle coefficient"', "1.2", "from 0 to 1"),
    ),
    Case(
        "water in a dry vertical",
        _depth("dry"),
        ("row 3", "dry", "velocity"),
    ),
]


@parametrized(CELLS)
def test_a_cell_that_is_no_reading_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence names row and column, quotes the cell, and gives an example of what is right."""
    check(case, tmp_path, capsys)


@parametrized(POINTS)
def test_a_velocity_that_cannot_be_told_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Fractions, revolutions, times and angles are held to what they can be."""
    check(case, tmp_path, capsys)
