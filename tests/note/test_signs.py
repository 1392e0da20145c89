"""Signs that a note can show, and what stands in for the others."""

import pytest

from bankside.note.signs import in_every_document, with_signs


@pytest.mark.parametrize("sign", ["\x00", "\x07", "\x7f", "\u202e", "\u2066", "\ud800", "\ue000"])
def test_signs_without_a_meaning_stand_nowhere(sign: str) -> None:
    """What steers, turns or says nothing is shown as a number in every kind of document."""
    assert not in_every_document(sign)
    assert with_signs(sign, in_every_document) == f"[U+{ord(sign):04X}]"


def test_line_ends_of_every_kind_are_one() -> None:
    """Remarks typed on any machine break at the same places."""
    assert with_signs("a\r\nb\rc\td", in_every_document) == "a\nb\nc d"


def test_a_pile_of_marks_stays_within_its_line() -> None:
    """Two accents on a letter are writing; five hundred would run over the page."""
    assert with_signs("o\u0302\u0301", in_every_document) == "o\u0302\u0301"
    piled = with_signs("Z" + "\u0301" * 6, in_every_document)
    assert piled == "Z" + "\u0301" * 4 + "[U+0301]" * 2
