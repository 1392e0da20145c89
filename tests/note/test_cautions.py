"""The usual cautions about wading."""

import re

from bankside.note.cautions import CAUTIONS


def test_every_caution_says_where_it_comes_from() -> None:
    """A reminder without a source or a short form would be no use on paper."""
    for caution in CAUTIONS:
        assert all((caution.title, caution.text, caution.source))
        assert len(caution.short) <= 105
        assert re.search(r"read\b|from memory|no source", caution.source, re.IGNORECASE)
