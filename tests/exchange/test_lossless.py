"""What is written to tables comes back as it was, whatever a record holds."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import assume, given, settings

from bankside.exchange.data import SurveyData
from bankside.exchange.data_package import data_package, read_data_package
from bankside.exchange.geopackage import geopackage, read_geopackage
from bankside.exchange.members import write_folder, write_zip
from bankside.exchange.parquet import parquet_files, read_parquet_files
from bankside.gauging.records import Gauging
from bankside.gauging.wire import several_to_json
from bankside.sheets.read import read_sheets
from bankside.survey.document import survey_to_json

from .strategies import survey_data

ROOT = Path(__file__).parents[2]
TRANSECTS = ROOT / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"

Back = Callable[[SurveyData, Path], SurveyData]


def _by_package(data: SurveyData, folder: Path) -> SurveyData:
    write_zip(data_package(data), folder / "package.zip")
    return read_data_package(folder / "package.zip").data


def _by_parquet(data: SurveyData, folder: Path) -> SurveyData:
    write_zip(parquet_files(data), folder / "parquet.zip")
    return read_parquet_files(folder / "parquet.zip").data


def _by_geopackage(data: SurveyData, folder: Path) -> SurveyData:
    (folder / "survey.gpkg").write_bytes(geopackage(data))
    return read_geopackage(folder / "survey.gpkg").data


WAYS = [
    pytest.param(_by_package, id="data package"),
    pytest.param(_by_parquet, id="parquet"),
    pytest.param(_by_geopackage, id="geopackage"),
]
# A GeoPackage takes a second to write and read.
EXAMPLES = {_by_package: 100, _by_parquet: 100, _by_geopackage: 20}


def _texts(data: SurveyData) -> str:
    """What our own JSON says of a survey: every digit, every offset, every order.

    SQLite keeps no sign of zero.
    """
    survey = "" if data.survey is None else survey_to_json(data.survey)
    return re.sub(r" -0\.0(?=[,\n])", " 0.0", several_to_json(data.gaugings) + survey)


@pytest.mark.parametrize("back", WAYS)
def test_any_survey_comes_back(back: Back, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Every field of every record survives, in its order and with its offset from UTC."""
    folder = tmp_path_factory.mktemp("any")

    @settings(max_examples=EXAMPLES[back])
    @given(survey_data())
    def comes_back(data: SurveyData) -> None:
        assume(back is not _by_geopackage or "\\u0000" not in _texts(data))
        found = back(data, folder)
        assert (found.survey, found.gaugings) == (data.survey, data.gaugings)
        assert _texts(found) == _texts(data)

    comes_back()


@pytest.mark.parametrize("back", WAYS)
@pytest.mark.parametrize(
    "sheet", sorted((ROOT / "demo" / "sheets").iterdir()), ids=lambda p: p.name
)
def test_the_demo_comes_back(back: Back, sheet: Path, tmp_path: Path) -> None:
    """What a sheet holds is the same after a round by each format, in a folder too."""
    gaugings = _gaugings(sheet)

    assert back(SurveyData(None, gaugings), tmp_path).gaugings == gaugings


@pytest.mark.skipif(not TRANSECTS.exists(), reason="the survey's transects are not beside this")
@pytest.mark.parametrize("back", WAYS)
def test_a_published_survey_comes_back(back: Back, tmp_path: Path) -> None:
    """Dozens of gaugings with filed totals, as an agency filed them, are the same afterwards."""
    gaugings = _gaugings(TRANSECTS)

    assert len(gaugings) > 90
    assert back(SurveyData(None, gaugings), tmp_path).gaugings == gaugings


def test_a_folder_holds_what_an_archive_holds(tmp_path: Path) -> None:
    """A package is read from its folder, and by its descriptor, as from a ZIP archive."""
    data = SurveyData(None, _gaugings(ROOT / "demo" / "sheets" / "tansy_run.csv"))
    write_folder(data_package(data), tmp_path)

    assert read_data_package(tmp_path).data == data
    assert read_data_package(tmp_path / "datapackage.json").data == data


def _gaugings(sheet: Path) -> tuple[Gauging, ...]:
    return tuple(item.gauging for item in read_sheets(sheet).gaugings if item.gauging is not None)
