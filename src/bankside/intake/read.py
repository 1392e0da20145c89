"""The one way in for a file of any kind that holds gaugings."""

from __future__ import annotations

from pathlib import Path

from bankside.gauging.faults import Fault, InputRefused
from bankside.intake.journals import JournalFile
from bankside.intake.open_formats import open_format, read_open_format
from bankside.intake.our_json import is_json, read_json
from bankside.intake.source import Source, SurveyFile, refused_source
from bankside.sheets.answers import Answers
from bankside.sheets.files.reading import shown_name
from bankside.sheets.read import read_sheets

__all__ = ["read_file", "read_gaugings"]


def read_gaugings(path: Path, answers: Answers) -> Source | JournalFile:
    """Return the gaugings of a file, or its journal, as `read_file` does; refuse a survey."""
    found = read_file(path, answers)
    if isinstance(found, SurveyFile):
        message = "found a survey, which lists sites; a file with readings would be right"
        return refused_source(found.file, "the file", [Fault(message, file=found.file)])
    return found


def read_file(path: Path, answers: Answers) -> Source | JournalFile | SurveyFile:
    """Return what is in a file; one that is refused is one refused item.

    answers: what a person said about sheets, which no other file needs.
    """
    name = shown_name(path)
    try:
        kind = open_format(path)
        if kind is not None:
            return read_open_format(path, kind, name)
        return read_json(path, name) if is_json(path) else _sheets(path, answers)
    except InputRefused as refused:
        return refused_source(name, "the file", refused.faults)


def _sheets(path: Path, answers: Answers) -> Source:
    """Return the gaugings on the sheets of one file."""
    read = read_sheets(path, answers)
    return Source(read.file, read.gaugings, read.counts, read.notes)
