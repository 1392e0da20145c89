"""A sheet that is sent as a form: the part `file`, and `answers` as JSON beside it."""

from __future__ import annotations

import shutil
from contextlib import aclosing
from http import HTTPStatus
from pathlib import Path

import anyio
from starlette.datastructures import UploadFile
from starlette.formparsers import MultiPartException, MultiPartParser
from starlette.requests import Request

from bankside.server.api.asked import SentFile
from bankside.server.api.bodies import MOST_FILE, parts_of, require_type
from bankside.server.api.refusals import Refusal

__all__ = ["form_of"]

_MOST_ANSWERS = 1_000_000
_LONGEST_STEM = 55
_LONGEST_ENDING = 8


async def form_of(request: Request, folder: Path) -> tuple[SentFile, str]:
    """Return the file that comes in a form, put under its own name in a folder, and the answers."""
    require_type(request, "multipart/form-data")
    # What is left half taken is closed here, and not wherever it is found later.
    async with aclosing(parts_of(request, MOST_FILE)) as parts:
        parser = MultiPartParser(
            request.headers, parts, max_files=1, max_fields=1, max_part_size=_MOST_ANSWERS
        )
        try:
            form = await parser.parse()
        except MultiPartException as error:
            raise Refusal(
                HTTPStatus.BAD_REQUEST, f"The form cannot be read: {error.message.rstrip('.')}."
            ) from None
    try:
        file, answers = form.get("file"), form.get("answers", "")
        if not isinstance(file, UploadFile) or not isinstance(answers, str):
            raise Refusal(
                HTTPStatus.UNPROCESSABLE_ENTITY,
                'The form must have a file as its part "file", and may have JSON as "answers".',
            )
        path = folder / _plain_name(file.filename or "")
        await anyio.to_thread.run_sync(_write, file, path)
        return SentFile(path, file.content_type or "", path.name), answers
    finally:
        await form.close()


def _write(file: UploadFile, path: Path) -> None:
    with path.open("wb") as target:
        shutil.copyfileobj(file.file, target)


def _plain_name(text: str) -> str:
    """Return the name of a file without folders and without what no file system takes."""
    last = text.replace("\\", "/").rsplit("/", 1)[-1]
    name = "".join(sign for sign in last if sign.isprintable()).strip()
    # What the end says of the kind of file is kept; a name of a file has 255 bytes at most.
    stem, dot, ending = name.rpartition(".")
    if not dot:
        stem, ending = name, ""
    cut = f"{stem[:_LONGEST_STEM]}{dot}{ending[:_LONGEST_ENDING]}"
    return cut if cut.strip(". ") else "sheet"
