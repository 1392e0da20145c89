"""`bankside survey crews`: from files and from an archive, printed and as documents."""

from pathlib import Path

import pytest

from bankside.cli import main

from ..report.documents import pdf_text

HEAD = "# stream: Alder Fork\n# site: {site}\n# date: {day}\n# crew: {crew}\n# meter: {meter}\n"
COLUMNS = "tape (m),depth (m),velocity (m/s)\n"
ROWS = "0.4,0,\n0.8,0.22,{v}\n1.2,0.34,0.47\n1.6,0.27,0.29\n2.1,0,\n"


def sheet(folder: Path, name: str, velocity: float, crew: str, **head: str) -> None:
    """A sheet of one gauging."""
    said = {"site": "above", "day": "2026-07-14", "meter": "propeller", "crew": crew, **head}
    text = HEAD.format(**said) + COLUMNS + ROWS.format(v=velocity)
    (folder / f"{name}.csv").write_text(text, encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three crews, each twice; Cora's figures are a third larger."""
    for name, velocity, crew in (
        *(("a1", 0.31, "Ann"), ("a2", 0.32, "Ann"), ("b1", 0.30, "Ben"), ("b2", 0.31, "Ben")),
        *(("c1", 0.80, "Cora"), ("c2", 0.81, "Cora")),
    ):
        sheet(tmp_path, name, velocity, crew)
    return tmp_path


def crews(*arguments: object) -> int:
    """Run the command."""
    return main(["survey", "crews", *map(str, arguments)])


def test_crews_are_printed_beside_each_other(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every crew has its row; what all come to stands below, to be read without any picture."""
    assert crews(folder) == 0

    out = capsys.readouterr().out
    assert out.startswith("Alder Fork, above, 2026-07-14: 6 gaugings\n")
    for crew in ("Ann", "Ben", "Cora"):
        assert f"\n{crew} " in out
    assert "reproducibility" in out
    assert "is that of Cora" in " ".join(out.split())


def test_a_report_has_pictures_and_says_the_same(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As PDF and as a page; equal files give equal bytes."""
    pdf, page, again = (folder / name for name in ("out.pdf", "out.html", "again.pdf"))
    assert crews(*folder.glob("*.csv"), "-o", pdf) == 0
    assert crews(*folder.glob("*.csv"), "-o", page) == 0
    assert crews(*folder.glob("*.csv"), "-o", again) == 0

    assert capsys.readouterr().out == f"{pdf}\n{page}\n{again}\n"
    text = pdf_text(pdf.read_bytes(), folder)
    assert "Comparison" not in text  # the title is in the file's record, the head names the site
    assert "Several crews, one section, one day" in text
    assert "Cora" in text
    html = page.read_text(encoding="utf-8")
    assert html.count("<svg") == 2  # by crew and by who read; one meter is no comparison
    assert pdf.read_bytes() == again.read_bytes()


def test_an_archive_gives_the_same_comparison(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The gaugings of a survey's site, as filed."""
    survey = tmp_path / "survey.json"
    survey.write_text(
        '{"format": "bankside.survey/1", "id": "day", "name": "Training", "streams": '
        '[{"name": "Alder Fork"}], "sites": [{"id": "AF-1", "stream": "Alder Fork", '
        '"name": "above"}]}',
        encoding="utf-8",
    )
    place = tmp_path / "office.db"
    assert main(["archive", "init", str(place)]) == 0
    assert (
        main(["archive", "import", str(place), str(survey), *map(str, folder.glob("*.csv"))]) == 0
    )
    capsys.readouterr()

    assert crews("--archive", place, "--survey", "day") == 0
    out = capsys.readouterr().out
    assert "Alder Fork, above, 2026-07-14: 6 gaugings" in out
    assert "is that of Cora" in " ".join(out.split())


def test_several_sections_and_days_ask_for_one(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing is thrown together; the one that was meant is said by its name."""
    sheet(folder, "x", 0.3, "Ann", site="below")
    assert crews(folder) == 2
    assert "--site with one is right" in capsys.readouterr().err

    sheet(folder, "y", 0.3, "Ann", day="2026-07-15")
    assert crews(folder, "--site", "Above") == 2
    err = capsys.readouterr().err
    assert "found gaugings of 2026-07-14 and 2026-07-15; --day with one of them is right" in err
    assert crews(folder, "--site", "above", "--day", "2026-07-14") == 0


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "sheets and journals, or --archive with --survey, would be right"),
        (("--archive", "x.db"), "--survey is missing"),
        (("x.csv", "-o", "out.xlsx"), ".pdf"),
    ],
)
def test_what_is_missing_is_said(
    arguments: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence before anything is read."""
    assert crews(*arguments) == 2

    err = capsys.readouterr().err
    assert said in err
    assert err.count("\n") == 1


def test_one_gauging_is_not_compared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two are the least that can differ."""
    sheet(tmp_path, "one", 0.3, "Ann")
    assert crews(tmp_path) == 2
    assert "found 1 finished gauging with a discharge at Alder Fork, above" in (
        capsys.readouterr().err
    )
