"""The published schema of a survey is that of the records, and refuses what reading refuses."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator

from bankside.gauging.faults import InputRefused
from bankside.gauging.schema import schema_text
from bankside.survey.document import FORMAT, survey_from_json, survey_to_json
from bankside.survey.records import Survey
from bankside.survey.schema import schema

from .strategies import surveys

PUBLISHED = Path(__file__).parents[2] / "docs" / "schema" / "survey-1.schema.json"
VALIDATOR = Draft202012Validator(schema())


def test_the_published_schema_is_the_one_of_the_records() -> None:
    """The file in the documentation is what the records give, to the letter."""
    assert PUBLISHED.read_text(encoding="utf-8") == schema_text(schema())


def test_the_schema_is_one() -> None:
    """It follows its own standard, JSON Schema 2020-12."""
    Draft202012Validator.check_schema(schema())


@given(surveys())
def test_every_survey_on_the_wire_follows_the_schema(survey: Survey) -> None:
    """What is written, whatever the survey, is what was published."""
    assert list(VALIDATOR.iter_errors(json.loads(survey_to_json(survey)))) == []


def _document(**site: Any) -> dict[str, Any]:
    place = {"id": "a", "stream": "Alder River", "name": "Ford", **site}
    return {"format": FORMAT, "id": "s", "name": "A survey", "sites": [place]}


@pytest.mark.parametrize(
    "site",
    [
        {"id": "a b"},
        {"id": ""},
        {"name": " "},
        {"name": None},
        {"along_km": -1},
        {"along_km": "1"},
        {"drainage_area_km2": 0},
        {"also": "Between"},
        {"also": ["Between", "Between"]},
        {"also": [" "]},
        {"position": {"lon": 181, "lat": 0}},
        {"lable": "A1"},
    ],
)
def test_schema_and_reader_refuse_alike(site: dict[str, Any]) -> None:
    """A value that the schema refuses is refused on reading, and the other way round."""
    document = _document(**site)

    assert not VALIDATOR.is_valid(document)
    with pytest.raises(InputRefused):
        survey_from_json(json.dumps(document))


def test_the_schema_takes_what_the_reader_takes() -> None:
    """The same document without the mistake passes both."""
    document = _document(also=["Between"], along_km=1, drainage_area_km2=2.5)

    assert VALIDATOR.is_valid(document)
    survey_from_json(json.dumps(document))
