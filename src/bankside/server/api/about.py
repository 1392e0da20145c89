"""What is served here, and who asks."""

from __future__ import annotations

from importlib.metadata import version
from pathlib import Path
from typing import Any

from bankside.archive.settings import lineage
from bankside.server.api.asked import Asked
from bankside.server.api.route import Route
from bankside.server.api.shapes import FLAG, TEXT, members, named, or_null

__all__ = ["ROUTES", "about_without_archive"]


def about(asked: Asked) -> dict[str, Any]:
    """Return what is served here, and who asks."""
    with asked.archive.reading() as connection:
        line = lineage(connection)
    return {
        "version": version("bankside"),
        "archive": _name(asked.archive.place),
        "sign_in": asked.office.sign_in,
        "lineage": line,
        "you": None if asked.caller is None else asked.caller.you,
    }


def about_without_archive() -> dict[str, Any]:
    """Return what a server says that serves the app alone."""
    said: dict[str, Any] = dict.fromkeys(("archive", "lineage", "you"))
    return {"version": version("bankside"), "sign_in": False, **said}


def _name(place: str) -> str:
    """Return how an archive is called: where it lies is nobody's business."""
    return Path(place.partition("?")[0]).stem or "archive"


ROUTES = (
    Route(
        "GET",
        "about",
        None,
        "What is served here, and who asks.",
        about,
        members(
            version=TEXT,
            archive=or_null(TEXT),
            sign_in=FLAG,
            lineage=or_null(TEXT),
            you=or_null(named("You")),
        ),
    ),
)
