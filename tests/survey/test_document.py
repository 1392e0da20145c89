"""A survey as JSON text and back: nothing lost, nothing coerced, every fault at once."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from bankside.gauging.faults import InputRefused
from bankside.gauging.json_text import parsed
from bankside.survey.document import FORMAT, is_survey, survey_from_json, survey_to_json
from bankside.survey.records import Survey

from .building import SURVEY
from .strategies import surveys


def _document(**members: Any) -> dict[str, Any]:
    return {"format": FORMAT, "id": "s", "name": "A survey", **members}


def _faults(text: str) -> list[tuple[str | None, str | None, str]]:
    with pytest.raises(InputRefused) as refused:
        survey_from_json(text, "survey.json")
    return [(fault.file, fault.path, fault.message) for fault in refused.value.faults]


@given(surveys())
def test_a_survey_comes_back_as_it_was(survey: Survey) -> None:
    """Whatever the survey, and its text is the same again."""
    text = survey_to_json(survey)

    assert survey_from_json(text) == survey
    assert survey_to_json(survey_from_json(text)) == text


def test_the_text_says_what_it_is_and_leaves_out_what_is_absent() -> None:
    """The format comes first, and no key holds nothing."""
    document = json.loads(survey_to_json(SURVEY))

    assert next(iter(document)) == "format"
    assert document["format"] == "bankside.survey/1"
    assert set(document) == {"format", "id", "name", "streams", "sites"}
    assert set(document["streams"][0]) == {"name"}


def test_a_survey_is_known_by_its_format() -> None:
    """Of whatever version; a gauging is none."""
    assert is_survey(parsed(survey_to_json(SURVEY)))
    assert is_survey({"format": "bankside.survey/7"})
    assert not is_survey({"format": "bankside.gauging/1"})
    assert not is_survey([])


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("[]", (None, "a survey must be a JSON object (got a list of 0)")),
        (
            json.dumps({"id": "s", "name": "A survey"}),
            ("format", 'format must be "bankside.survey/1", written once (got nothing)'),
        ),
        (
            '{"format": "bankside.survey/1", "format": "bankside.survey/1", "id": "s"}',
            (
                "format",
                'format must be "bankside.survey/1", written once (got "bankside.survey/1")',
            ),
        ),
        (
            json.dumps(_document() | {"format": "bankside.survey/2"}),
            (
                "format",
                'format "bankside.survey/2" is newer than this version of Bankside, which reads '
                '"bankside.survey/1": a newer version is needed to read it',
            ),
        ),
    ],
)
def test_what_is_no_survey_of_this_version_is_refused(
    text: str, fault: tuple[str | None, str]
) -> None:
    """One sentence that says what was found and what would be right."""
    assert _faults(text) == [("survey.json", *fault)]


def test_every_fault_is_told_at_once() -> None:
    """An unknown key, a text for a number, and a site on no stream, each with its path."""
    document = _document(
        streams=[{"name": "Alder River"}],
        sites=[
            {"id": "a", "stream": "Alder River", "name": "A", "along_km": "8"},
            {"id": "b", "stream": "Birch Brook", "name": "B", "lable": "B1"},
        ],
    )
    faults = _faults(json.dumps(document))

    assert {path for _, path, _ in faults} >= {"sites[0].along_km", "sites[1].stream"}
    assert any("lable" in message and "label" in message for _, _, message in faults)
    assert all(file == "survey.json" for file, _, _ in faults)


def test_the_example_of_the_documentation_is_a_survey() -> None:
    """What docs/formats.md shows is read, and is the little basin of these tests."""
    text = (Path(__file__).parents[2] / "docs" / "formats.md").read_text(encoding="utf-8")
    (example,) = re.findall(r'```json\n(\{\n  "format": "bankside.survey/1".*?)```', text, re.S)
    survey = survey_from_json(example)

    assert [site.id for site in survey.sites] == ["upper", "brook", "lower"]
    assert survey.streams == SURVEY.streams
