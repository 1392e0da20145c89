"""The web application that answers under `api/1/`, made of the table of its routes."""

from __future__ import annotations

import logging
import tempfile
from collections.abc import Awaitable, Callable, Mapping, Sequence
from functools import partial
from http import HTTPStatus
from pathlib import Path
from typing import Any, TypeVar

import anyio
import attrs
from starlette.applications import Starlette
from starlette.convertors import PathConvertor, register_url_convertor
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route as StarletteRoute

from bankside.gauging.faults import BanksideError
from bankside.server.api.access import caller_of, require, token_in
from bankside.server.api.answers import Answer, answer_refusal, response_of
from bankside.server.api.asked import Asked, SentFile
from bankside.server.api.bodies import (
    MOST_FROM_ANYBODY,
    MOST_JSON,
    file_of,
    record_of,
    text_of,
)
from bankside.server.api.forms import form_of
from bankside.server.api.refusals import Refusal, refusal_of
from bankside.server.api.route import Route, Sent
from bankside.server.api.routes import ROUTES
from bankside.server.office import Office

__all__ = ["api_application"]

_LOG = logging.getLogger("bankside.server")
# As many requests ask the database at a time: a few more than it keeps connections open for.
_AT_A_TIME = 12

T = TypeVar("T")


class _AnySign(PathConvertor):
    """The rest of a path, whatever it holds: with Starlette's own, a line break in it ends it."""

    regex = r"(?s:.*)"


# Before the first route is made: what the archive is mounted at takes it as well.
register_url_convertor("path", _AnySign())

_Endpoint = Callable[[Request], Awaitable[Response]]


def api_application(office: Office, routes: Sequence[Route] = ROUTES) -> Starlette:
    """Return the application that answers for an office."""
    by_path: dict[str, dict[str, Route]] = {}
    for route in routes:
        by_path.setdefault(route.path, {})[route.method] = route
    # Whoever waits for a drawing takes no thread from whoever hands over readings.
    threads, drawing = anyio.CapacityLimiter(_AT_A_TIME), anyio.CapacityLimiter(1)
    return Starlette(
        routes=[
            StarletteRoute(
                f"/{_pattern(path)}",
                _endpoint(_Answering(office, threads, drawing), methods),
                methods=list(methods),
            )
            for path, methods in by_path.items()
        ],
        exception_handlers={HTTPException: _unknown},
    )


def _pattern(path: str) -> str:
    """Return a path as Starlette spells it: a name may hold every sign, also a slash."""
    return path.replace("{name}", "{name:path}")


@attrs.frozen
class _Answering:
    """Answers one route after another, each in a thread of its own."""

    office: Office
    threads: anyio.CapacityLimiter
    drawing: anyio.CapacityLimiter

    async def answer(self, route: Route, request: Request) -> Response:
        token = token_in(request.headers.get("authorization", ""))
        caller = await self._in_thread(partial(caller_of, self.office, token))
        if route.who is not None:
            require(caller, route.who)
        asked = Asked(
            office=self.office,
            caller=caller,
            token=token,
            address=request.client.host if request.client else "",
            path=dict(request.path_params),
            query=dict(request.query_params),
            headers=request.headers,
        )
        if route.takes is None:
            return await self._answered(route, asked)
        if isinstance(route.takes, type):
            text = await text_of(request, MOST_JSON if route.who else MOST_FROM_ANYBODY)
            body = await self._in_thread(partial(record_of, text, route.takes))
            return await self._answered(route, attrs.evolve(asked, body=body, text=text))
        with tempfile.TemporaryDirectory(prefix="bankside-") as folder:
            file, text = await _sent_file(route.takes, request, Path(folder))
            return await self._answered(route, attrs.evolve(asked, file=file, text=text))

    async def _answered(self, route: Route, asked: Asked) -> Response:
        answered = partial(_response, route, asked)
        if route.draws:
            return await anyio.to_thread.run_sync(answered, limiter=self.drawing)
        return await self._in_thread(answered)

    async def _in_thread(self, call: Callable[[], T]) -> T:
        return await anyio.to_thread.run_sync(call, limiter=self.threads)


def _endpoint(answering: _Answering, methods: Mapping[str, Route]) -> _Endpoint:
    async def endpoint(request: Request) -> Response:
        route = methods["GET" if request.method == "HEAD" else request.method]
        try:
            return await answering.answer(route, request)
        except BanksideError as error:
            return answer_refusal(refusal_of(error))
        except Exception as error:  # whoever asked is told in a sentence, whatever went wrong
            refusal = refusal_of(error)
            if refusal.status is HTTPStatus.INTERNAL_SERVER_ERROR:
                _LOG.exception("%s %s: a fault in Bankside", route.method, route.path)
            else:
                _LOG.warning("%s %s: %s", route.method, route.path, refusal.said)
            return answer_refusal(refusal)

    return endpoint


async def _sent_file(how: Sent, request: Request, folder: Path) -> tuple[SentFile, str]:
    """Return the file that comes with a request, and the answers beside it, "" without any."""
    if how == "form":
        return await form_of(request, folder)
    type_ = request.headers.get("content-type", "").strip()
    return SentFile(await file_of(request, folder), type_), ""


def _response(route: Route, asked: Asked) -> Response:
    answer: Answer | Mapping[str, Any] = route.answer(asked)
    return response_of(answer, asked.headers.get("accept-encoding", ""))


async def _unknown(request: Request, error: Exception) -> Response:
    """Answer what no route is for."""
    assert isinstance(error, HTTPException)  # by what it is registered for
    if error.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
        allowed = (error.headers or {}).get("Allow", "")
        said = f"{request.method} is not possible here; {allowed} is."
        return answer_refusal(
            Refusal(HTTPStatus.METHOD_NOT_ALLOWED, said, headers=dict(error.headers or {}))
        )
    said = f"There is nothing at {request.url.path[:200]}; api/1/openapi.json lists what there is."
    return answer_refusal(Refusal(HTTPStatus(error.status_code), said))
