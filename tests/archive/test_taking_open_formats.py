"""Open formats as an archive takes them in: the gaugings, and the survey that came along."""

from __future__ import annotations

from pathlib import Path

import pytest

from bankside.archive.archive import Archive
from bankside.archive.listing import gauging_rows, record_in
from bankside.archive.refresh import refresh
from bankside.archive.register import survey_of
from bankside.archive.taking import take_file
from bankside.exchange.data import SurveyData
from bankside.exchange.data_package import data_package
from bankside.exchange.geojson import geojson
from bankside.exchange.geopackage import geopackage
from bankside.exchange.members import write_folder, write_zip

from ..exchange.building import FIRST, SURVEY

DATA = SurveyData(SURVEY, (FIRST,))


@pytest.mark.parametrize("name", ["basin.zip", "basin.gpkg"])
def test_gaugings_and_survey_are_taken_in(name: str, archive: Archive, tmp_path: Path) -> None:
    """The record is the same in the archive, and its site is that of the survey in the file."""
    path = tmp_path / name
    if name.endswith(".zip"):
        write_zip(data_package(DATA), path)
    else:
        path.write_bytes(geopackage(DATA))

    taken = take_file(archive, path)

    refresh(archive)

    assert (taken.gaugings, taken.survey, taken.faults) == ((FIRST.id,), SURVEY.id, ())
    with archive.reading() as connection:
        assert survey_of(connection, SURVEY.id) == SURVEY
        (row,) = gauging_rows(connection, taken.gaugings)
        record = record_in(row)
    assert record is not None
    assert record.channels == FIRST.channels
    assert row["survey"] == SURVEY.id


def test_sites_alone_are_taken_in(archive: Archive, tmp_path: Path) -> None:
    """A list of sites on a map is a survey without gaugings."""
    path = tmp_path / "sites.geojson"
    path.write_text(geojson(SurveyData(SURVEY)), encoding="utf-8")

    taken = take_file(archive, path)

    assert (taken.survey, taken.gaugings, taken.faults) == (SURVEY.id, (), ())
    with archive.reading() as connection:
        survey = survey_of(connection, SURVEY.id)
    assert survey is not None
    assert survey.sites == SURVEY.sites


@pytest.mark.parametrize("name", ["tables", "tables/datapackage.json"])
def test_a_folder_is_refused(name: str, archive: Archive, tmp_path: Path) -> None:
    """What is spread over many files could not be kept byte for byte; its archive can."""
    (tmp_path / "tables").mkdir()
    write_folder(data_package(DATA), tmp_path / "tables")

    taken = take_file(archive, tmp_path / name)

    (fault,) = taken.faults
    assert "a ZIP archive of it, which can be kept whole, is right" in str(fault)
    assert taken.gaugings == ()
