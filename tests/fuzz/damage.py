"""How a sound file is damaged: bytes over it, parts of others in it, and so within an archive."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Sequence

import attrs
from hypothesis import strategies as st

__all__ = ["Edit", "damaged", "edits"]

_SIGNS = (
    *(b"\x00", b"\xff", b"\xfe", b"\x80", b"\n", b"\r", b"\t", b" ", b"\\", b"\x1a"),
    *(sign.encode() for sign in ",;|'\"<>&{}[]()=:/#%+-.019e"),
)
_WORDS = (
    *(b"NaN", b"inf", b"1e400", b"1e-400", b"-0", b"null", b"true", b"#N/A", b"&a;", b"]]>"),
    *(b"<!DOCTYPE a [", b"<![CDATA[", b"\xef\xbb\xbf", b"\xff\xfe", b"\xed\xa0\x80", b"-1"),
    *(b"9" * 22, b"65536", b"1048577", b"4294967295", b"2026-02-30", b"24:61"),
)
_LETTERS = tuple(sign.encode() for sign in "½²٣−１\u2028\u202e\ufeffé山🐟İß")  # noqa: RUF001
_BITS = (*_SIGNS, *_WORDS, *_LETTERS)


@attrs.frozen
class Edit:
    """Bytes in the place of others: where (a part of the whole), how many of them, and which.

    `again` says how often they stand there one after another.
    """

    place: float
    length: int
    bits: bytes
    again: int = 1


def edits(others: Sequence[bytes]) -> st.SearchStrategy[list[Edit]]:
    """Return a few edits, whose bytes may be parts of other files."""
    parts = st.builds(
        lambda other, start, length: other[int(start * len(other)) :][:length],
        st.sampled_from(list(others)),
        st.floats(0, 1),
        st.integers(1, 200),
    )
    bits = st.sampled_from(_BITS) | st.binary(max_size=4) | parts
    again = st.just(1) | st.sampled_from((2, 50, 3000))
    edit = st.builds(Edit, st.floats(0, 1), st.integers(0, 40) | st.just(100_000), bits, again)
    return st.lists(edit, min_size=1, max_size=4)


def damaged(data: bytes, made: Sequence[Edit], member: float | None) -> bytes:
    """Return a file with edits made; of an archive in one of its members, unless `member` is None.

    member: which one, as a part of all of them.
    """
    if member is None or not data.startswith(b"PK"):
        return _edited(data, made)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = list(parts)[min(int(member * len(parts)), len(parts) - 1)]
    parts[name] = _edited(parts[name], made)
    out = io.BytesIO()
    with zipfile.ZipFile(
        out, "w", zipfile.ZIP_DEFLATED, compresslevel=zlib.Z_BEST_SPEED
    ) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return out.getvalue()


def _edited(data: bytes, made: Sequence[Edit]) -> bytes:
    for edit in made:
        start = int(edit.place * len(data))
        data = data[:start] + edit.bits * edit.again + data[start + edit.length :]
    return data
