"""Who may ask what, written by hand: a second witness beside the table of the routes itself."""

from __future__ import annotations

from collections.abc import Mapping

from bankside.archive.roles import Role

__all__ = ["WHO_MAY"]

WHO_MAY: Mapping[str, Role | None] = {
    "GET about": None,
    "GET openapi.json": None,
    "POST pair": None,
    "POST sign-in": None,
    "POST sign-out": "crew",
    "POST entries": "crew",
    "POST pull": "crew",
    "GET gaugings/{id}/journal": "crew",
    "POST files/missing": "crew",
    "PUT files/{sha256}": "crew",
    "GET files/{sha256}": "crew",
    "GET field": "crew",
    "GET surveys": "crew",
    "GET surveys/{id}": "crew",
    "GET surveys/{id}/map": "crew",
    "GET surveys/{id}/report.pdf": "crew",
    "GET surveys/{id}/report.html": "crew",
    "GET surveys/{id}/tables.xlsx": "crew",
    "GET search": "crew",
    "GET without-site": "crew",
    "GET sites/{id}": "crew",
    "GET gaugings/{id}": "crew",
    "GET gaugings/{id}/note.pdf": "crew",
    "POST gaugings/{id}/review": "reviewer",
    "POST sheets/look": "reviewer",
    "POST sheets": "reviewer",
    "PUT surveys/{id}": "lead",
    "GET people": "lead",
    "POST people": "lead",
    "DELETE people/{name}": "lead",
    "GET devices": "lead",
    "POST devices/code": "lead",
    "DELETE devices/{id}": "lead",
}
"""Method and path of each route → the least role that is answered, None for anybody."""
