"""What cannot be answered as asked: one sentence, and a status that programs understand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

import attrs

from bankside.archive.room import is_full
from bankside.archive.trouble import ArchiveTrouble, DoesNotFit
from bankside.gauging.faults import BanksideError, Fault, InputRefused

__all__ = ["Refusal", "not_found", "refusal_of"]


class Refusal(BanksideError):
    """A request that is not answered: its status, one sentence, and all that is wrong with it."""

    def __init__(
        self,
        status: HTTPStatus,
        said: str,
        faults: Sequence[Fault] = (),
        headers: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(said)
        self.status = status
        self.said = said
        self.faults = tuple(faults)
        self.headers = dict(headers or {})

    @property
    def members(self) -> dict[str, Any]:
        """The answer that says so."""
        faults = [
            attrs.asdict(fault, filter=lambda _, value: value is not None) for fault in self.faults
        ]
        return {"error": {"status": int(self.status), "said": self.said, "faults": faults}}


def not_found(said: str) -> Refusal:
    """Return that something is not there."""
    return Refusal(HTTPStatus.NOT_FOUND, said)


def refusal_of(error: Exception) -> Refusal:
    """Return what an error of Bankside says to whoever asked."""
    if isinstance(error, Refusal):
        return error
    if isinstance(error, InputRefused):
        return Refusal(HTTPStatus.UNPROCESSABLE_ENTITY, _sentence(error.faults), error.faults)
    if isinstance(error, DoesNotFit):
        return Refusal(HTTPStatus.CONFLICT, " ".join(str(error).split()))
    if isinstance(error, ArchiveTrouble):
        return Refusal(HTTPStatus.SERVICE_UNAVAILABLE, " ".join(str(error).split()))
    if isinstance(error, BanksideError):
        return Refusal(HTTPStatus.UNPROCESSABLE_ENTITY, " ".join(str(error).split()))
    if isinstance(error, OSError) and is_full(error):
        return Refusal(
            HTTPStatus.SERVICE_UNAVAILABLE,
            "There is no room left on the server's disk for what was sent; nothing of this was "
            "kept.",
        )
    return Refusal(
        HTTPStatus.INTERNAL_SERVER_ERROR,
        f"This is a fault in Bankside, not in what was asked ({type(error).__name__}); nothing was "
        "changed by it. Whoever runs the server finds it in the log.",
    )


def _sentence(faults: Sequence[Fault]) -> str:
    first = " ".join(str(faults[0]).split()) if faults else "what was sent cannot be taken"
    more = len(faults) - 1
    return f"{first}{f' (and {more} more)' if more > 0 else ''}."
