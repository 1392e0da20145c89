"""The table of all routes, from which the application, its document and its tests are made."""

from __future__ import annotations

from typing import Any

from bankside.server.api import about, entries, field, files, pairing
from bankside.server.api.asked import Asked
from bankside.server.api.openapi import openapi
from bankside.server.api.route import Route
from bankside.server.api.shapes import ANY
from bankside.server.desk import documents, gaugings, people, sheets, sites, surveys

__all__ = ["ROUTES"]


def document(asked: Asked) -> dict[str, Any]:
    """Return the document of all routes."""
    del asked
    return openapi(ROUTES)


ROUTES: tuple[Route, ...] = (
    *about.ROUTES,
    *pairing.ROUTES,
    *entries.ROUTES,
    *files.ROUTES,
    *field.ROUTES,
    *surveys.ROUTES,
    *sites.ROUTES,
    *gaugings.ROUTES,
    *documents.ROUTES,
    *sheets.ROUTES,
    *people.ROUTES,
    Route("GET", "openapi.json", None, "This document.", document, ANY),
)
