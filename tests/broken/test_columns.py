"""Tables whose columns or units are missing, doubled or contradict one another."""

from pathlib import Path

import pytest

from .cases import HEADS, SOUND, Case, check, parametrized, table

SOUND_TEXT = "\n".join(SOUND) + "\n"
READINGS = ("0;0;", "1;0.30;0.20", "2;0.50;0.40", "3;0;")


def _with(*more: str, heads: str) -> str:
    """The sound readings with a further cell on each row."""
    cells = [f"{row};{cell}" for row, cell in zip(READINGS, more, strict=True)]
    return table(*cells, heads=heads)


CASES = [
    Case(
        "no tape column",
        table(*READINGS, heads="where;depth (m);velocity (m/s)"),
        ("row 1", "no column was recognised as the tape", 'candidates: A "where"', "--column tape"),
    ),
    Case(
        "no depth column",
        table(*READINGS, heads="tape (m);how deep;velocity (m/s)"),
        ("row 1", "recognised as the depths", 'candidates: B "how deep"', "--column depth="),
    ),
    Case(
        "no velocity column",
        table(*READINGS, heads="tape (m);depth (m);reading"),
        ("row 1", "as the velocities", 'candidates: C "reading"', "--column velocity="),
    ),
    Case(
        "no velocity column and none left over",
        table("0;0", "1;0.3", "2;0", heads="tape (m);depth (m)"),
        ("row 1", "as the velocities", "no column is left over", "--column velocity="),
    ),
    Case(
        "widths instead of tape positions",
        table("1;0.3;0.2", "1;0.5;0.4", "1;0.3;0.2", heads="width (m);depth (m);velocity (m/s)"),
        ("row 1", "as the tape positions", "widths are never used to compute", "--column tape="),
    ),
    Case(
        "two velocity columns",
        _with("", "0.21", "0.42", "", heads=HEADS + ";speed (m/s)"),
        (
            "row 1",
            'columns C "velocity (m/s)" and D "speed (m/s)" could both be the velocity',
            "--column velocity=C",
        ),
    ),
    Case(
        "two depth columns",
        _with("0", "0.31", "0.52", "0", heads=HEADS + ";depth (m)"),
        ("row 1", 'B "depth (m)" and D "depth (m)" could both be the depth', "--column depth=B"),
    ),
    Case(
        "a depth head with a unit of velocity",
        table(*READINGS, heads="tape (m);depth (m/s);velocity (m/s)"),
        ("row 1", "as the depths", 'B "depth (m/s)"', "--column depth="),
    ),
    Case(
        "two tables side by side",
        table(
            "0;0;;;0;0;",
            "1;0.3;0.2;;1;0.4;0.3",
            "2;0;;;2;0;",
            heads=f"{HEADS};;{HEADS}",
        ),
        ("row 1", "A", "E", "could both be the tape", "two tables stand side by side"),
        also=(
            ("row 1", "could both be the depth", "two tables stand side by side"),
            ("row 1", "could both be the velocity", "one under the other"),
        ),
    ),
    Case(
        "no units at all",
        table(*READINGS, heads="tape;depth;velocity"),
        (
            "row 1",
            'column A "tape"',
            "found no unit for the tape",
            "--unit tape=",
            "(or in, m, cm, mm)",
        ),
        also=(
            ("row 1", 'column B "depth"', "found no unit for the depth", "--unit depth="),
            (
                "row 1",
                'column C "velocity"',
                "no unit for the velocity",
                "--unit velocity=ft/s (or m/s",
            ),
        ),
    ),
    Case(
        "no unit for the velocity",
        table(*READINGS, heads="tape (m);depth (m);velocity"),
        ("row 1", 'column C "velocity"', "found no unit for the velocity", "--unit velocity="),
    ),
    Case(
        "a unit that nobody uses",
        table(*READINGS, heads="tape (m);depth (furlongs);velocity (m/s)"),
        ("row 1", "as the depths", 'B "depth (furlongs)"', "--column depth="),
    ),
    Case(
        "a head against a unit column",
        _with("ft", "ft", "ft", "ft", heads=HEADS + ";length unit"),
        ("row", 'column A "tape (m)"', "the head: m", "the unit column: ft", "--unit tape="),
        also=(('column B "depth (m)"', "the head: m", "the unit column: ft", "--unit depth="),),
    ),
    Case(
        "a head against a line of units",
        "# units: ft, ft/s\n" + SOUND_TEXT,
        ("the head: m", "ft", "--unit tape="),
        also=(("the head: m", "ft", "--unit depth="), ("m/s", "ft/s", "--unit velocity=")),
    ),
    Case(
        "units that change down the unit column",
        table(
            "0;0;;m;m/s",
            "1;0.30;0.20;m;m/s",
            "2;0.50;0.40;m;ft/s",
            "3;0;;m;m/s",
            heads="tape;depth;velocity;length unit;velocity unit",
        ),
        ("row 4", "velocity", "ft/s", "m/s", "--unit velocity="),
    ),
    Case(
        "a word in the unit column",
        _with("m", "m", "yards", "m", heads="tape;depth;velocity (m/s);length unit"),
        ("row 4", 'column D "length unit"', 'found "yards"', "m or ft would be right"),
    ),
    Case(
        "a unit of velocity in the column of lengths",
        _with("m", "m/s", "m", "m", heads="tape;depth;velocity (m/s);length unit"),
        ("row 3", 'column D "length unit"', 'found "m/s"', "m or ft would be right"),
    ),
    Case(
        "an answer names no column",
        SOUND_TEXT,
        ("--column", 'found "deep=B"', "tape, depth, velocity"),
        options=("--column", "deep=B"),
        placed=False,
    ),
    Case(
        "an answer without a value",
        SOUND_TEXT,
        ("--column", 'found "depth"', "NAME=VALUE"),
        options=("--column", "depth"),
        placed=False,
    ),
    Case(
        "an answer names a head that is not there",
        SOUND_TEXT,
        (
            "row 1",
            '--column depth="D ft"',
            "is not on the sheet",
            '"tape (m)", "depth (m)", "velocity (m/s)"',
            "by its letter",
        ),
        options=("--column", "depth=D ft"),
    ),
    Case(
        "an answer names a head that stands twice",
        _with("0", "0.31", "0.52", "0", heads=HEADS + ";depth (m)"),
        ("row 1", '--column depth="depth (m)"', "more than one column", "by its letter"),
        also=(("row 1", "could both be the depth", "--column depth=B"),),
        options=("--column", "depth=depth (m)"),
    ),
    Case(
        "a unit that is none, as an answer",
        SOUND_TEXT,
        ("--unit depth=furlong", "ft, in, m, cm, mm would be right"),
        options=("--unit", "depth=furlong"),
        placed=False,
    ),
    Case(
        "a unit of the wrong kind, as an answer",
        SOUND_TEXT,
        ("--unit velocity=m", "m/s", "would be right"),
        options=("--unit", "velocity=m"),
        placed=False,
    ),
    Case(
        "a unit for what has none",
        SOUND_TEXT,
        ("--unit", 'found "colour=m"', "tape, depth, velocity, discharge"),
        options=("--unit", "colour=m"),
        placed=False,
    ),
]


@parametrized(CASES)
def test_columns_that_cannot_be_decided_are_asked_about(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The question lists what was found and names the option that settles it."""
    check(case, tmp_path, capsys)
