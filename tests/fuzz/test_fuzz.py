"""Every reader on damaged files, for a short while; `python -m tests.fuzz.run` looks longer."""

from __future__ import annotations

from pathlib import Path

import pytest

from .reading import hold, said_of
from .run import FOUND, fuzz
from .seeds import CORPUS, seeds

_NO_READINGS = {"points.gpx", "gpx.gpx", "points.geojson"}
_FILES = sorted(CORPUS.iterdir())
_EXAMPLES = 12


@pytest.mark.parametrize("file", _FILES, ids=lambda file: file.name)
def test_a_file_of_the_corpus_is_sound(file: Path) -> None:
    """A run begins with files that are read: what is refused at once is damaged no further."""
    said = said_of(file)
    assert (said == []) is (file.name not in _NO_READINGS), said


def test_the_corpus_has_every_kind_of_file() -> None:
    """A new format gets a file here: `python -m tests.fuzz.seeds`."""
    assert {file.name for file in _FILES} == set(seeds())


@pytest.mark.parametrize("file", sorted(FOUND.glob("*")), ids=lambda file: file.name)
def test_what_was_found_once_is_met_with_a_sentence(file: Path) -> None:
    """A file that once brought a reader down stays here."""
    hold(file)


@pytest.mark.parametrize("file", _FILES, ids=lambda file: file.name)
def test_a_damaged_file_is_read_or_refused(file: Path, tmp_path: Path) -> None:
    """Whatever is damaged in a file, or in a file within it, the reader knows what to say."""
    assert fuzz(file, _EXAMPLES, tmp_path) is None
