"""What comes with a request, taken up to a limit while it comes: JSON, or the bytes of a file."""

from __future__ import annotations

import tempfile
from collections.abc import AsyncGenerator
from contextlib import aclosing
from http import HTTPStatus
from pathlib import Path

import anyio
import attrs
from starlette.requests import ClientDisconnect, Request

from bankside.gauging.checked import Checked
from bankside.gauging.fields import shown
from bankside.gauging.json_text import parsed, refused
from bankside.gauging.structure import JsonObject, structured
from bankside.server.api.refusals import Refusal

__all__ = [
    "MOST_FILE",
    "MOST_FROM_ANYBODY",
    "MOST_JSON",
    "file_of",
    "parts_of",
    "record_of",
    "require_type",
    "text_of",
]

_MEGABYTE = 1_000_000
MOST_JSON = 8 * _MEGABYTE
"""As many bytes as a request of JSON may have."""

MOST_FROM_ANYBODY = 20_000
"""As many bytes as a request of JSON may have from whoever is not known yet."""

MOST_VALUES = 1_000_000
"""As many values as a request of JSON may hold: small ones take far more memory than text."""

MOST_FILE = 64 * _MEGABYTE
"""As many bytes as a photo or a sheet may have."""

# A photo over the slowest connection that is of any use: 64 MB at 110 kB/s.
_SECONDS = 600


async def text_of(request: Request, most: int = MOST_JSON) -> str:
    """Return the JSON text that comes with a request, of at most so many bytes."""
    require_type(request, "application/json")
    content = bytearray()
    async for part in parts_of(request, most):
        content += part
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        message = f"found a byte (number {error.start + 1}) that is no UTF-8; UTF-8 would be right"
        raise refused(message) from None


def record_of(text: str, record: type[Checked]) -> Checked:
    """Return the record that a JSON text holds; InputRefused with everything that is wrong."""
    document = parsed(text, MOST_VALUES)
    if not isinstance(document, JsonObject):
        raise refused(f"what is sent must be a JSON object (got {shown(document)})")
    # What a module says of its types is text until somebody asks.
    return structured(document, attrs.resolve_types(record))


async def file_of(request: Request, folder: Path) -> Path:
    """Return a file in a folder with the bytes that come with a request."""
    with tempfile.NamedTemporaryFile(dir=folder, delete=False) as file:
        # What is left half taken is closed here, and not wherever it is found later.
        async with aclosing(parts_of(request, MOST_FILE)) as parts:
            async for part in parts:
                await anyio.to_thread.run_sync(file.write, part)
    return Path(file.name)


async def parts_of(request: Request, most: int) -> AsyncGenerator[bytes, None]:
    """Yield what comes with a request, as long as it is not too much and does not take too long."""
    said = request.headers.get("content-length", "")
    if said.isdigit() and int(said) > most:
        raise _too_much(most)
    taken = 0
    try:
        with anyio.fail_after(_SECONDS):
            async for part in request.stream():
                taken += len(part)
                if taken > most:
                    raise _too_much(most)
                yield part
    except TimeoutError:
        raise Refusal(
            HTTPStatus.REQUEST_TIMEOUT,
            f"What was sent did not come within {_SECONDS // 60} minutes; nothing of it was kept.",
        ) from None
    except ClientDisconnect:
        raise Refusal(HTTPStatus.BAD_REQUEST, "What was sent was cut off.") from None


def _too_much(most: int) -> Refusal:
    limit = f"{most // _MEGABYTE} MB" if most >= _MEGABYTE else f"{most // 1000} kB"
    return Refusal(
        HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
        f"What was sent is larger than {limit}; nothing of it was kept.",
        # The rest is still on its way: what comes next on this connection is no request.
        headers={"Connection": "close"},
    )


def require_type(request: Request, right: str) -> None:
    """Refuse what comes as another type than the right one."""
    found = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if found != right:
        raise Refusal(
            HTTPStatus.UNSUPPORTED_MEDIA_TYPE,
            f"Found the type {shown(found)}; {right} would be right.",
        )
