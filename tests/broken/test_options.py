"""Commands, options and choices that there are not."""

from pathlib import Path

import pytest

from .cases import SOUND, run

COMMANDS = [
    ("unknown command", ("compte", "{file}"), ('"compte"', '"compute"')),
    ("no file", ("compute",), ("FILES is missing", "bankside compute --help")),
    ("unknown option", ("compute", "{file}", "--metod", "x"), ("--metod",)),
    ("unknown method", ("compute", "{file}", "--method", "simpson"), ('"simpson"', "mid-section")),
    ("unknown edges", ("compute", "{file}", "--edges", "round"), ('"round"', "half-width")),
    ("unknown decimal", ("compute", "{file}", "--decimal", "dot"), ('"dot"', '"point", "comma"')),
    (
        "unknown date order",
        ("compute", "{file}", "--date-order", "ymd"),
        ('"ymd"', '"day-first", "month-first"'),
    ),
    (
        "unknown meaning of an empty velocity",
        ("compute", "{file}", "--empty-velocity", "dry"),
        ('"dry"', '"sounding", "zero"'),
    ),
    (
        "unknown meaning of a restart",
        ("compute", "{file}", "--tape-restart", "split"),
        ('"split"', '"channels", "gaugings", "sort"'),
    ),
    (
        "an option without its value",
        ("compute", "{file}", "--sheet"),
        ("--sheet is missing or has no value", "--help"),
    ),
    ("no form", ("convert", "{file}"), ("no form is named; --to json, csv, xlsx,", "out.json")),
    ("unknown form", ("convert", "{file}", "--to", "pdf"), ('"pdf"', '"json", "csv", "xlsx"')),
    (
        "a workbook to the screen",
        ("convert", "{file}", "--to", "xlsx"),
        ("--to xlsx needs --output",),
    ),
]


@pytest.mark.parametrize(
    ("words", "says"), [pytest.param(words, says, id=name) for name, words, says in COMMANDS]
)
def test_a_command_line_that_cannot_be_understood_is_refused(
    words: tuple[str, ...],
    says: tuple[str, ...],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One line names the word that was not understood and the words that would be."""
    path = tmp_path / "flow.csv"
    path.write_text("\n".join(SOUND) + "\n", encoding="utf-8")
    code, out, lines = run(capsys, *(word.format(file=path) for word in words))
    assert (code, out) == (2, "")
    (line,) = lines
    assert all(part in line for part in says), line
