"""What a reason is: two sentences and a source for a figure or a rule that the app shows."""

from __future__ import annotations

from typing import Final

import attrs

from bankside.gauging.checks.run import ALL_CHECKS

__all__ = ["NO_SOURCE", "Reason", "source_of_check"]

NO_SOURCE: Final = "common practice, no source"

_SOURCES: Final = {check.name: check.source for check in ALL_CHECKS}


@attrs.frozen
class Reason:
    """Why the app shows a figure, or goes by a rule.

    `key` is what a screen marks the figure with, `name` what people call it. `purpose` says in one
    sentence what it is for, `grounds` in one why it is as it is. `source` says who says so, or that
    nobody is known to. `thresholds` are the values of the rule set that it hangs on: their figures
    stand in rule sets alone, each with its own source, so no sentence here has one of them.
    """

    key: str
    name: str
    purpose: str
    grounds: str
    source: str
    thresholds: tuple[str, ...] = ()


def source_of_check(name: str) -> str:
    """Return the source of a rule that the catalogue of checks has already."""
    return _SOURCES[name]
