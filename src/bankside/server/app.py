"""The web application: the built app's files, and what an archive answers beside them."""

from __future__ import annotations

import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from http import HTTPStatus
from pathlib import Path

import anyio
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import FileResponse, PlainTextResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from bankside.server.api.about import about_without_archive
from bankside.server.api.answers import response_of
from bankside.server.api.application import api_application
from bankside.server.built_app import BuiltApp
from bankside.server.guard import Guard
from bankside.server.headers import cache_control, protective_headers
from bankside.server.office import Office

__all__ = ["office_application", "web_application"]


def web_application(app: BuiltApp) -> Starlette:
    """Return the web application that serves an app's files, each with its type and headers."""
    return Starlette(
        routes=[Route("/api/1/about", _no_archive), Mount("/", _AppFiles(app))],
        exception_handlers={404: _refused, 405: _refused},
    )


def office_application(app: BuiltApp, office: Office) -> Starlette:
    """Return the web application that serves the app, and an office's archive beside it."""

    @asynccontextmanager
    async def running(_: Starlette) -> AsyncIterator[None]:
        office.background.start()
        yield
        await anyio.to_thread.run_sync(office.background.stop)

    return Starlette(
        routes=[Mount("/api/1", api_application(office)), Mount("/", _AppFiles(app))],
        exception_handlers={404: _refused, 405: _refused},
        middleware=[Middleware(Guard, office=office)],
        lifespan=running,
    )


async def _no_archive(_: Request) -> Response:
    """Tell a page that asks that there is no archive here."""
    return response_of(about_without_archive())


class _AppFiles(StaticFiles):
    """The files of the app; types come from its list, never from the machine's own table."""

    def __init__(self, app: BuiltApp) -> None:
        super().__init__(directory=app.folder, html=True)
        self._app = app

    def file_response(
        self,
        full_path: str | os.PathLike[str],
        stat_result: os.stat_result,
        scope: Scope,
        status_code: int = 200,
    ) -> Response:
        response = super().file_response(full_path, stat_result, scope, status_code)
        path = Path(full_path).relative_to(self._app.folder.resolve()).as_posix()
        if isinstance(response, FileResponse):
            response.headers["Content-Type"] = _content_type(self._app.types.get(path))
        response.headers["Cache-Control"] = cache_control(path)
        response.headers.update(protective_headers())
        return response


def _content_type(media_type: str | None) -> str:
    if media_type is None:
        return "application/octet-stream"
    return f"{media_type}; charset=utf-8" if media_type.startswith("text/") else media_type


async def _refused(request: Request, error: Exception) -> Response:
    if isinstance(error, HTTPException) and error.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
        said = f"{request.method} is not possible here; GET and HEAD are."
        status, more = error.status_code, error.headers or {}
    else:
        said = f"There is nothing at {request.url.path}; the app is at /."
        status, more = HTTPStatus.NOT_FOUND, {}
    return PlainTextResponse(f"{said}\n", status, {**more, **protective_headers()})
