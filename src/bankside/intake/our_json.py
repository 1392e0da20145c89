"""Files in our own JSON forms: gaugings, or the journal of one."""

from __future__ import annotations

import re
from pathlib import Path

import attrs

from bankside.exchange.geojson_read import GeoJsonRead, is_geojson, read_geojson
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.document import Journal, is_journal, journal_from_document
from bankside.gauging.json_text import parsed, refused
from bankside.gauging.practice_mark import PRACTICE_REFUSED, is_practice_id
from bankside.gauging.wire import several_from_document
from bankside.intake.journals import JournalFile
from bankside.intake.source import Source, SurveyFile, source_of_records
from bankside.survey.document import is_survey, survey_from_document

__all__ = ["is_json", "read_json"]

_MAX_JSON_BYTES = 64 * 1024 * 1024
_JSON_START = re.compile(rb"(\xef\xbb\xbf)?\s*(\{|\[\s*[\[{\]\"\d-])")


def read_json(path: Path, name: str) -> Source | JournalFile | SurveyFile:
    """Return the gaugings of a file in our JSON form, or its journal, or its survey."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        message = f"could not be opened ({error.strerror or error})"
        raise InputRefused([Fault(message, file=name)]) from error
    except UnicodeDecodeError as error:
        message = f"found a byte (number {error.start + 1}) that is no UTF-8; UTF-8 would be right"
        raise InputRefused([Fault(message, file=name)]) from error
    try:
        document = parsed(text)
        if is_journal(document):
            return JournalFile(name, _real(journal_from_document(document)))
        if is_survey(document):
            return SurveyFile(name, survey_from_document(document))
        if is_geojson(document):
            return _sites_of(read_geojson(text), name)
        gaugings = several_from_document(document)
    except InputRefused as error:
        raise InputRefused(attrs.evolve(fault, file=name) for fault in error.faults) from None
    if not gaugings:
        message = "found none; at least one gauging would be right"
        raise InputRefused([Fault(message, file=name, path="gaugings")])
    return source_of_records(name, gaugings)


def _real(journal: Journal) -> Journal:
    """Return a journal of real water; InputRefused for one of practice."""
    if is_practice_id(journal.gauging):
        raise refused(PRACTICE_REFUSED, path="gauging")
    return journal


def _sites_of(found: GeoJsonRead, name: str) -> SurveyFile:
    if found.survey is not None:
        return SurveyFile(name, found.survey, found.notes)
    raise refused(
        "found GeoJSON, which holds places and no readings; as --positions it would be right, and "
        'with a member "survey" that has id and name it is a list of sites'
    )


def is_json(path: Path) -> bool:
    """Return whether a file starts like JSON; files that cannot be read are left to the sheets."""
    try:
        if not path.is_file() or path.stat().st_size > _MAX_JSON_BYTES:
            return False
        with path.open("rb") as stream:
            start = stream.read(512)
    except (OSError, ValueError):
        return False
    return _JSON_START.match(start) is not None
