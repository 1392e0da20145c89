"""Which Bankside this is, and which rule sets it has."""

from __future__ import annotations

from functools import cache
from importlib.metadata import version
from typing import Any

from bankside.bank.request import Request
from bankside.gauging.compute import METHOD_VERSION
from bankside.gauging.rule_sets.load import load_rule_set, shipped_names

__all__ = ["about"]


def about(request: Request) -> dict[str, Any]:
    """Return the version of the package and of its methods, and the rule sets by name and title."""
    request.done()
    return {
        "version": _version(),
        "method_version": METHOD_VERSION,
        "rule_sets": [
            {"name": name, "title": load_rule_set(name).title} for name in shipped_names()
        ],
    }


@cache
def _version() -> str:
    return version("bankside")
