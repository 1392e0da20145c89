import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator

from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.schema import schema, schema_text
from bankside.gauging.wire import FORMAT, from_json, to_json

from .strategies import gaugings

PUBLISHED = Path(__file__).parents[2] / "docs" / "schema" / "gauging-1.schema.json"
VALIDATOR = Draft202012Validator(schema())


def test_the_published_schema_is_the_one_of_the_records() -> None:
    """The file in the documentation is what the records give, to the letter."""
    assert PUBLISHED.read_text(encoding="utf-8") == schema_text(schema())


def test_the_schema_is_one() -> None:
    """It follows its own standard, JSON Schema 2020-12."""
    Draft202012Validator.check_schema(schema())


@given(gaugings())
def test_every_gauging_on_the_wire_follows_the_schema(gauging: Gauging) -> None:
    """What is written, whatever the gauging, is what was published."""
    assert list(VALIDATOR.iter_errors(json.loads(to_json(gauging)))) == []


def _document(**vertical: Any) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "units": {"length": "ft", "velocity": "ft/s"},
        "channels": [{"verticals": [{"tape": 1, **vertical}]}],
    }


@pytest.mark.parametrize(
    "vertical",
    [
        {"depth": -1},
        {"depth": "1"},
        {"depth": None},
        {"depht": 1},
        {"edge": "north"},
        {"angle": 91},
        {"wall_factor": 1.5},
        {"remark": " "},
        {"velocity": {}},
        {"velocity": [{"value": 1, "fraction": 60}]},
        {"velocity": [{"value": 1, "seconds": 0}]},
    ],
)
def test_schema_and_reader_refuse_alike(vertical: dict[str, Any]) -> None:
    """A value that the schema refuses is refused on reading, and the other way round."""
    document = _document(**vertical)

    assert not VALIDATOR.is_valid(document)
    with pytest.raises(InputRefused):
        from_json(json.dumps(document))


def test_the_schema_takes_what_the_reader_takes() -> None:
    """The same document without the mistake passes both."""
    document = _document(depth=1, velocity=[{"value": 1, "fraction": 0.6}])

    assert VALIDATOR.is_valid(document)
    from_json(json.dumps(document))
