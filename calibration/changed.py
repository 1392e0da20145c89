"""Figures of a module set to others for a while, to see what they are good for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from types import ModuleType
from typing import Any

from bankside.kernel import between_prior

__all__ = ["Changes", "Prior", "changed", "prior_rows"]

Prior = tuple[tuple[float, ...], ...]
Changes = Mapping[ModuleType, Mapping[str, Any]]


@contextmanager
def changed(changes: Changes) -> Iterator[None]:
    """Set names of modules; processes that are forked meanwhile have them as well."""
    with ExitStack() as stack:
        for module, values in changes.items():
            for name, value in values.items():
                stack.callback(setattr, module, name, getattr(module, name))
                setattr(module, name, value)
        yield


def prior_rows(prior: list[float]) -> Changes:
    """Return the change that lets the model weigh by another table of prior weights."""
    across = len(between_prior.UNEVENNESS_LENGTHS_M)
    rows = tuple(tuple(prior[i : i + across]) for i in range(0, len(prior), across))
    return {between_prior: {"_PRIOR": rows}}
