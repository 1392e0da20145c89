"""Where one more vertical pays most, once all readings are there."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.advice import advise
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Finding, Place

__all__ = ["OneMore", "one_more"]


@attrs.frozen
class OneMore:
    """Where one more vertical pays most, and why, in a sentence."""

    place: Place
    why: str


def one_more(examined: Examined, findings: Sequence[Finding]) -> OneMore | None:
    """Return the vertical among the acts of `advise`; None where there is none, or not yet.

    Nothing is asked for before all readings are there: what is open so far may be read anyway.
    """
    if not examined.finished:
        return None
    for act in advise(examined, findings):
        if act.kind == "vertical" and act.channel is not None and act.tape is not None:
            return OneMore(Place(act.channel, act.tape), act.words)
    return None
