"""Whether all the water of the stream passes the section."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding

__all__ = ["CHECKS"]


def _whole(examined: Examined) -> Iterator[Finding]:
    whole = examined.gauging.whole_flow
    if whole is False:
        yield Finding(
            check="Is all the water here?",
            severity="fix now",
            found="Not all the water of the stream passes the section, as the crew looked.",
            advice="Measure the other channel as well, or go to where all the water runs together.",
        )
    elif whole is None and examined.finished:
        yield Finding(
            check="Is all the water here?",
            severity="note",
            found="Nobody has written down whether all the water of the stream passes the section.",
            advice="Look for a side channel, a culvert, or water under the bank, and write down "
            "what was found.",
        )


CHECKS = (
    Check(
        name="Is all the water here?",
        trigger="The crew has written that not all the water passes the section, or, once the "
        "gauging is finished, has not written anything about it.",
        severities=("fix now", "note"),
        remedy="Look for a side channel, a culvert, or water under the bank.",
        source="Wisconsin volunteer monitoring, tips for trainers: a braid means that flow is "
        "being missed",
        find=_whole,
    ),
)
