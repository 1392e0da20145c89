"""`bankside sheet` as it is typed: the file it writes, and what it refuses."""

import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from bankside.cli import main
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical
from bankside.gauging.wire import to_json

Said = Callable[..., str]

EDGES = ("2.0", "5.9")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Where the sheet goes."""
    return tmp_path / "sheet.pdf"


@pytest.fixture
def said(file: Path, capsys: pytest.CaptureFixture[str]) -> Said:
    """A function that writes the sheet and returns what is printed; the command must succeed."""

    def run(*typed: str) -> str:
        assert main(["sheet", *typed, "-o", str(file)]) == 0
        return " ".join(capsys.readouterr().out.split())

    return run


@pytest.fixture
def refused(file: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., list[str]]:
    """A function that expects a refusal, and no file, and returns its sentences."""

    def run(*typed: str) -> list[str]:
        assert main(["sheet", *typed, "-o", str(file)]) == 2
        assert not file.exists()
        return capsys.readouterr().err.splitlines()

    return run


def tool(name: str, file: Path) -> str:
    """Return what one of poppler's tools says about a sheet."""
    last = ["-layout", str(file), "-"] if name == "pdftotext" else [str(file)]
    run = subprocess.run([name, *last], capture_output=True, check=True, timeout=60)
    return run.stdout.decode()


def test_a_sheet_is_written_and_described(said: Said, file: Path) -> None:
    """The command says where the sheet is, what is on it, and what the plan remarks."""
    out = said(*EDGES, "--verticals", "2", "--minimum-spacing", "0.3")

    assert f"{file}: US Letter, 2 verticals, 6 spare rows" in " ".join(out.split())
    assert "No unit was given: lengths are taken as ft; --unit m for metres." in out
    assert file.read_bytes().startswith(b"%PDF-")


def test_planned_positions_are_no_closer_than_the_rules_ask(said: Said) -> None:
    """The crew carries the paper, not the remarks: in 2.4 ft seven verticals stand 0.3 ft apart."""
    out = " ".join(said("3", "5.4", "--unit", "ft").split())

    assert "US Letter, 7 verticals" in out and "the minimum spacing of 0.3 ft allows 7" in out


def test_the_remarks_of_a_plan_are_not_lost(said: Said) -> None:
    """A plan that cannot place all verticals says so here as `bankside plan` does."""
    out = said(*EDGES, "--verticals", "25", "--minimum-spacing", "0.5", "--unit", "ft")

    # By hand: 7 steps of 0.5 ft or more fit into 3.9 ft, an eighth does not; 6 verticals between.
    assert "US Letter, 6 verticals" in out
    assert "the minimum spacing of 0.5 ft allows 6" in out


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ((), "612 x 792"),
        (("--unit", "ft"), "612 x 792"),
        (("--unit", "m"), "595.276 x 841.89"),
        (("--unit", "ft", "--paper", "a4"), "595.276 x 841.89"),
        (("--unit", "m", "--paper", "letter"), "612 x 792"),
    ],
)
def test_the_paper_goes_with_the_unit(
    said: Said, file: Path, typed: tuple[str, ...], size: str
) -> None:
    """Feet come on US Letter and metres on A4, unless somebody says another paper."""
    said(*EDGES, *typed)

    assert size in tool("pdfinfo", file)


def test_what_is_typed_is_printed(said: Said, file: Path) -> None:
    """Stream, site, day, crew and unit stand on the sheet; positions as on the tape."""
    said(
        *("1.2", "3.2", "--unit", "m", "--verticals", "3", "--tape-resolution", "0.01"),
        *("--stream", "Quill Brook", "--site", "Plank bridge", "--date", "2026-07-14"),
        *("--crew", "R. Tamsin: rod", "--crew", "K. Ostrow: recorder"),
    )
    text = tool("pdftotext", file)

    for words in (
        *("Quill Brook", "Plank bridge", "2026-07-14", "R. Tamsin: rod, K. Ostrow: recorder"),
        *("1.20", "1.70", "2.20", "2.70", "3.20", "depth (m)", "m/s"),
    ):
        assert words in text


def test_a_blank_sheet_has_as_many_rows_as_are_asked_for(said: Said, file: Path) -> None:
    """Without edges the rows are numbered and nothing else is filled in."""
    out = said("--verticals", "12", "--extra-rows", "0")
    rows = re.findall(r"^ *(\d+)$", tool("pdftotext", file), re.MULTILINE)

    assert "12 verticals, 0 spare rows" in out
    assert rows == [str(number) for number in range(1, 13)]


def test_an_earlier_gauging_spreads_the_verticals(said: Said, tmp_path: Path) -> None:
    """The sheet takes the same options as the plan, an earlier gauging included."""
    verticals = (
        Vertical(tape=0.0, depth=0.0, edge="left"),
        Vertical(tape=2.0, depth=1.0, velocity=(PointReading(value=0.5),)),
        Vertical(tape=6.0, depth=2.0, velocity=(PointReading(value=1.5),)),
        Vertical(tape=8.0, depth=0.0, edge="right"),
    )
    gauging = Gauging(
        units=Units(length="ft", velocity="ft/s"), channels=(Channel(verticals=verticals),)
    )
    earlier = tmp_path / "earlier.json"
    earlier.write_text(to_json(gauging), encoding="utf-8")

    out = said("0", "8", "--rule", "equal-flow", "--from", str(earlier), "--verticals", "5")

    assert "5 verticals" in out


def test_a_sheet_is_not_written_over_unasked(said: Said, file: Path) -> None:
    """Only --replace writes over a file, and then equal input gives equal bytes."""
    said(*EDGES)
    before = file.read_bytes()

    assert main(["sheet", *EDGES, "-o", str(file)]) == 2
    said(*EDGES, "--replace")
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("typed", "sentences"),
    [
        (("2.0",), ["RIGHT must go with LEFT, or neither for a blank sheet"]),
        (("2.0", "x"), ['RIGHT: found "x"; a length in ft such as 3.2 would be right']),
        (
            ("--rule", "cell-centres", "--from", "a.csv", "--minimum-spacing", "0.3"),
            [
                "--rule must go with LEFT and RIGHT",
                "--from must go with LEFT and RIGHT",
                "--minimum-spacing must go with LEFT and RIGHT",
            ],
        ),
        (
            (*EDGES, "--date", "14.7.2026"),
            ['--date: found "14.7.2026"; a day such as 2026-07-14 would be right'],
        ),
        (
            (*EDGES, "--date", "20260714"),
            ['--date: found "20260714"; a day such as 2026-07-14 would be right'],
        ),
        (("--verticals", "0"), ["verticals must be 1 to 500 in number (got 0)"]),
        ((*EDGES, "--extra-rows", "101"), ["extra rows must be 0 to 100 in number (got 101)"]),
        ((*EDGES, "--points", "4"), ["points must be 1 to 3 in number (got 4)"]),
        (
            (*EDGES, "--site", "x" * 201),
            ["the site must have 200 characters at most (got 201)"],
        ),
        (
            (*EDGES, "--rules", "no-such.toml"),
            ["no-such.toml: found no such file; a TOML file of thresholds would be right"],
        ),
    ],
)
def test_what_makes_no_sense_is_refused(
    refused: Callable[..., list[str]], typed: tuple[str, ...], sentences: list[str]
) -> None:
    """Each fault is one sentence that says what would be right; nothing is written."""
    assert refused(*typed) == sentences


@pytest.mark.parametrize("typed", [(*EDGES, "--paper", "a5"), (*EDGES, "--extra-rows", "2.5")])
def test_a_wrong_choice_is_one_line(
    refused: Callable[..., list[str]], typed: tuple[str, ...]
) -> None:
    """An option with a value that it cannot have gets one line that names it."""
    (line,) = refused(*typed)

    assert typed[-2] in line and typed[-1] in line


def test_the_file_must_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    """A sheet goes to a file; without its name nothing happens."""
    assert main(["sheet", *EDGES]) == 2
    assert "--output is missing" in capsys.readouterr().err
