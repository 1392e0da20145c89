"""A survey as JSON text, and back: its streams, sites and balances, without the gaugings.

Reading is strict, as for a gauging: unknown and repeated keys are refused, and everything that is
wrong is said at once, each fault with its path.
"""

import re
from typing import Any

import attrs

from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.json_text import parsed, refused, written
from bankside.gauging.structure import JsonObject, structured, unstructured
from bankside.survey.records import Survey

__all__ = [
    "FORMAT",
    "is_survey",
    "survey_from_document",
    "survey_from_json",
    "survey_to_document",
    "survey_to_json",
]

_NAME = "bankside.survey"
_VERSION = 1

FORMAT = f"{_NAME}/{_VERSION}"


def is_survey(document: object) -> bool:
    """Return whether what a JSON text spells says that it is a survey, of whatever version."""
    return isinstance(document, dict) and str(document.get("format")).startswith(f"{_NAME}/")


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
    try:
        return survey_from_document(parsed(text))
    except InputRefused as error:
        raise InputRefused(attrs.evolve(fault, file=file) for fault in error.faults) from None


def survey_from_document(document: object) -> Survey:
    """Return the survey in what a JSON text spells, as `survey_from_json` does."""
    if not isinstance(document, JsonObject):
        raise refused(f"a survey must be a JSON object (got {shown(document)})")
    _require_format(document)
    members = JsonObject((key, value) for key, value in document.items() if key != "format")
    members.repeated = document.repeated
    return structured(members, Survey)


def _require_format(document: JsonObject) -> None:
    found = document.get("format")
    if found == FORMAT and "format" not in document.repeated:
        return
    newer = re.fullmatch(rf"{re.escape(_NAME)}/([1-9][0-9]{{0,5}})", str(found))
    if newer is not None and int(newer[1]) > _VERSION:
        raise refused(
            f'format "{found}" is newer than this version of Bankside, which reads "{FORMAT}": '
            "a newer version is needed to read it",
            path="format",
        )
    raise refused(f'format must be "{FORMAT}", written once (got {shown(found)})', path="format")
