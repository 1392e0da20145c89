"""Signs that the letters we bring can show."""

import pytest

from bankside.note.signs import in_every_document, with_signs
from bankside.report.letters import in_our_letters


@pytest.mark.parametrize("sign", [*"aZ0é±³²°·–†ßŁЖΩ≤≥√", "\n"])
def test_usual_signs_stand_as_they_are(sign: str) -> None:
    """Latin, Greek and Cyrillic letters and the signs of the trade are in the letters we bring."""
    assert in_our_letters(sign) and in_every_document(sign)


def test_signs_of_other_letters_are_kept_where_they_can_be_shown() -> None:
    """A browser has letters of its own; on paper the number stands in for the sign."""
    content = {"names": ["山 川", {"fish": "🐟"}], "count": 3, "none": None}

    assert with_signs(content, in_every_document) == content
    assert with_signs(content, in_our_letters) == {
        "names": ["[U+5C71] [U+5DDD]", {"fish": "[U+1F41F]"}],
        "count": 3,
        "none": None,
    }
