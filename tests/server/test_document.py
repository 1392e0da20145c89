"""The document of all routes, and the server held to it by requests that nobody thought of."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis import Case
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
    unsupported_method,
)

from bankside.archive.accounts import accounts, add_account
from bankside.archive.archive import open_archive
from bankside.archive.sessions import open_session
from bankside.archive.taking import take_file
from bankside.server.api.openapi import openapi
from bankside.server.api.route import Route
from bankside.server.api.routes import ROUTES

from ..archive.building import crossing, keep
from .asking import PASSWORD
from .serving import Serving

ROOT = Path(__file__).parents[2]
SURVEY = ROOT / "demo" / "survey" / "survey.json"
SHEETS = sorted((ROOT / "demo" / "survey" / "north").glob("*"))

HEALTH = list(HealthCheck)
KNOWN = ("marrowmere-2026", "SB-03", "g1")
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    unsupported_method,
]


@pytest.fixture(scope="module")
def seeded(ready_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive with a survey, gaugings from sheets, one from a device, and a lead."""
    place = tmp_path_factory.mktemp("seeded") / "season.db"
    place.write_bytes(ready_file.read_bytes())
    with open_archive(place) as archive:
        for file in (SURVEY, *SHEETS):
            take_file(archive, file)
        keep(archive, crossing("g1"))
        with archive.writing() as connection:
            add_account(connection, "Ada Brook", "lead", PASSWORD)
    return place


@pytest.fixture(scope="module")
def here(seeded: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the archive as it is served to this machine, where nobody signs in."""
    serving = Serving(str(seeded), tmp_path_factory.mktemp("app"), "--port", "0")
    yield serving.page
    serving.stop()


@pytest.fixture(scope="module")
def to_others(
    seeded: Path, free_port: int, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[str, str]]:
    """The address of the archive as it is served to others, and the token of a lead."""
    options = ("--behind-proxy", "--url", "https://bank.example.org", "--port", str(free_port))
    serving = Serving(str(seeded), tmp_path_factory.mktemp("app"), *options)
    with open_archive(seeded) as archive, archive.writing() as connection:
        (lead,) = [one for one in accounts(connection) if one.name == "Ada Brook"]
        token, _ = open_session(connection, lead)
    yield f"http://127.0.0.1:{free_port}/", token
    serving.stop()


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: f"{route.method} {route.path}")
def test_whatever_this_machine_asks_is_answered_as_the_document_says(
    here: str, route: Route
) -> None:
    """No request brings the server down, and every answer is one that the document names."""
    _try_out(here, route, {}, examples=12)


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: f"{route.method} {route.path}")
def test_whatever_others_ask_is_answered_as_the_document_says(
    to_others: tuple[str, str], route: Route
) -> None:
    """With a token that holds and without one the answers are those of the document."""
    page, token = to_others
    host = {"Host": "bank.example.org"}
    _try_out(page, route, host, examples=3)
    if route.path != "sign-out":
        _try_out(page, route, {**host, "Authorization": f"Bearer {token}"}, examples=5)


def _try_out(page: str, route: Route, headers: dict[str, str], examples: int) -> None:
    schema = schemathesis.openapi.from_dict(openapi(ROUTES))
    operation = schema[f"/{route.path}"][route.method]

    known = st.sampled_from((None, *KNOWN))

    @given(case=operation.as_strategy(), id_=known)
    @settings(max_examples=examples, deadline=None, database=None, suppress_health_check=HEALTH)
    def answered(case: Case, id_: str | None) -> None:
        # Of what is there more is answered than that it is not.
        if id_ is not None and "id" in case.path_parameters:
            case.path_parameters["id"] = id_
        case.call_and_validate(base_url=f"{page}api/1", headers=headers, checks=CHECKS, timeout=60)

    answered()
