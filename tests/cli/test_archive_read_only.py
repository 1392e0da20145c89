"""What reads an archive works where nothing may be written."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from bankside.archive.archive import create_archive, open_archive
from bankside.archive.register import put_survey
from bankside.cli import main
from bankside.cli.survey_material import from_archive

from ..archive.building import crossing, keep, store
from ..archive.closed_folder import nobody
from ..survey.building import SURVEY

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder with an archive that everybody may enter; pytest's own are closed to others."""
    made = Path(tempfile.mkdtemp(prefix="bankside-"))
    made.chmod(0o755)
    with create_archive(made / "season.db") as archive:
        with archive.writing() as connection:
            put_survey(connection, SURVEY)
        keep(archive, crossing())
    yield made
    made.chmod(0o755)
    shutil.rmtree(made)


def _run(*arguments: object) -> int:
    return main([str(argument) for argument in arguments])


def test_lists_exports_and_reports_are_made_from_what_can_only_be_read(
    folder: Path, capsys: Printed
) -> None:
    """The file stays as it is to the last byte, and nothing is left beside it."""
    place = folder / "season.db"
    content = place.read_bytes()
    out = Path(tempfile.mkdtemp(prefix="bankside-out-"))
    out.chmod(0o777)
    try:
        with nobody(folder):
            assert _run("archive", "list", place, "--survey", SURVEY.id) == 0
            assert "One gauging." in capsys.readouterr().out
            assert _run("archive", "export", place, "-o", out / "journals") == 0
            # Drawing asks for modules that are closed to others; its material is what is read.
            assert len(from_archive(str(place), SURVEY.id, [], None, None, None).surveyed) == 1
        assert capsys.readouterr().err == ""
        assert len(list((out / "journals").iterdir())) == 1
    finally:
        shutil.rmtree(out)

    assert place.read_bytes() == content
    assert [one.name for one in folder.iterdir()] == ["season.db"]


def test_what_waits_to_be_worked_out_is_told(folder: Path, capsys: Printed) -> None:
    """It cannot be worked out there, and nobody takes the list for the whole."""
    place = folder / "season.db"
    with open_archive(place) as archive:
        store(archive, crossing("g2", day="2026-07-15"))
    with nobody(folder):
        assert _run("archive", "list", place, "--survey", SURVEY.id) == 0
    printed = capsys.readouterr()
    assert "One gauging." in printed.out
    assert printed.err.startswith(
        "One gauging waits to be worked out, and what follows is as it was before: "
    )

    assert _run("archive", "list", place, "--survey", SURVEY.id) == 0
    assert "2 gaugings." in capsys.readouterr().out
