"""A survey as JSON text, and back: its streams, sites and balances, without the gaugings.

Reading is strict, as for a gauging: unknown and repeated keys are refused, and everything that is
wrong is said at once, each fault with its path.
"""

from typing import Any

from bankside.gauging.json_form import JsonForm, read_json
from bankside.gauging.json_text import written
from bankside.gauging.structure import structured, unstructured
from bankside.survey.records import Survey

__all__ = [
    "FORMAT",
    "is_survey",
    "survey_from_document",
    "survey_from_json",
    "survey_to_document",
    "survey_to_json",
]

_FORM = JsonForm("bankside.survey")

FORMAT = _FORM.format


def is_survey(document: object) -> bool:
    """Return whether what a JSON text spells says that it is a survey, of whatever version."""
    return _FORM.says(document)


def survey_to_json(survey: Survey) -> str:
    """Return a survey as JSON text: keys in a fixed order, and none for what is absent."""
    return written(survey_to_document(survey))


def survey_to_document(survey: Survey) -> dict[str, Any]:
    """Return the members of the JSON object that holds a survey; what is absent has no key."""
    return {"format": FORMAT, **unstructured(survey)}


def survey_from_json(text: str, file: str | None = None) -> Survey:
    """Return the survey that a JSON text holds.

    `file`, a file name as people know it, goes into every fault. InputRefused with every fault
    that is in the text if it is not a survey of this version of the format.
    """
    return read_json(text, file, survey_from_document)


def survey_from_document(document: object) -> Survey:
    """Return the survey in what a JSON text spells, as `survey_from_json` does."""
    return structured(_FORM.members(document, "a survey"), Survey)
