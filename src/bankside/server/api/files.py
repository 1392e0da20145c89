"""Photos and sheets, byte for byte."""

from __future__ import annotations

import re
from http import HTTPStatus
from typing import Any

import attrs

from bankside.archive.files import file_of, files_there, keep_file, sha256_of
from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault
from bankside.gauging.fields import about
from bankside.server.api.answers import Answer
from bankside.server.api.asked import Asked
from bankside.server.api.kinds import Hashes
from bankside.server.api.refusals import Refusal, not_found
from bankside.server.api.route import Route
from bankside.server.api.shapes import SHA256_TEXT, list_of, members

__all__ = ["ROUTES"]

_MOST_FILES = 1000
_TYPE = re.compile(r"[a-z0-9][a-z0-9!#$&^_.+-]{0,63}/[a-z0-9][a-z0-9!#$&^_.+-]{0,126}")
_UNKNOWN = "application/octet-stream"
# What a browser shows and does not run; everything else is handed over to be saved.
_SHOWN = frozenset(
    {"application/pdf", *(f"image/{kind}" for kind in "avif gif heic heif jpeg png webp".split())}
)
# Even where a browser should take a photo for a page, that page may do nothing.
_HARMLESS = "default-src 'none'; frame-ancestors 'none'; sandbox"


@attrs.frozen
class FilesAsked(Checked):
    """Files that a device has."""

    files: tuple[str, ...] = attrs.field(metadata=about(Hashes(_MOST_FILES), "their SHA-256"))


def missing(asked: Asked) -> dict[str, Any]:
    """Return which files the archive does not hold."""
    wanted = asked.said(FilesAsked).files
    with asked.archive.reading() as connection:
        there = files_there(connection, wanted)
    return {"missing": [sha256 for sha256 in dict.fromkeys(wanted) if sha256 not in there]}


def put_file(asked: Asked) -> dict[str, Any]:
    """Keep a file under its SHA-256."""
    assert asked.file is not None  # by what the route takes
    said = asked.path["sha256"]
    content = asked.file.path.read_bytes()
    found = sha256_of(content)
    if found != said:
        message = f"the bytes must be those of the SHA-256 {said[:64]} (got those of {found})"
        raise Refusal(
            HTTPStatus.UNPROCESSABLE_ENTITY,
            f"What came is damaged or another file: {message}.",
            [Fault(message)],
        )
    with asked.archive.writing() as connection:
        keep_file(connection, _type(asked.file.type), content, asked.you.name)
    return {"sha256": found}


def get_file(asked: Asked) -> Answer:
    """Return the bytes of a file."""
    sha256 = asked.path["sha256"]
    with asked.archive.reading() as connection:
        kept = file_of(connection, sha256[:64])
    if kept is None:
        raise not_found(f"The archive does not hold the file {sha256[:64]}.")
    headers = {"Content-Security-Policy": _HARMLESS}
    if kept.type not in _SHOWN:
        headers["Content-Disposition"] = f'attachment; filename="{sha256[:12]}"'
    return Answer(kept.content, kept.type, headers=headers)


def _type(said: str) -> str:
    """Return a media type without what may stand behind it; the one of any bytes if it is none."""
    plain = said.partition(";")[0].strip().lower()
    return plain if _TYPE.fullmatch(plain) else _UNKNOWN


ROUTES = (
    Route(
        "POST",
        "files/missing",
        "crew",
        "Which of these files the archive does not hold.",
        missing,
        members(missing=list_of(SHA256_TEXT)),
        takes=FilesAsked,
    ),
    Route(
        "PUT",
        "files/{sha256}",
        "crew",
        "Keep a file; refused where the bytes are others than the SHA-256 says.",
        put_file,
        members(sha256=SHA256_TEXT),
        takes="bytes",
    ),
    Route(
        "GET",
        "files/{sha256}",
        "crew",
        "The bytes of a file: images and PDF as such, everything else to be saved.",
        get_file,
        ("*/*",),
        fails=(404,),
    ),
)
