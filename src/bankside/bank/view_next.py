"""What to do next after the first pass, as the page shows it: the acts of `advise`, best first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from bankside.bank.standing import Standing
from bankside.bank.view_verticals import figure
from bankside.gauging.advice import Act, advise
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Finding
from bankside.gauging.journal.record import Recorded
from bankside.gauging.rounding import to_figures

__all__ = ["next_view", "target_of"]

_MOST_PERCENT: Final = 100.0


def target_of(recorded: Recorded) -> float | None:
    """Return half the interval of 95 % that the leader wants, in percent; None where none is set.

    None as well for what is no percentage above 0.
    """
    said = recorded.said.get("target")
    try:
        value = None if said is None else float(str(said.value))
    except ValueError:
        return None
    return value if value is not None and 0.0 < value <= _MOST_PERCENT else None


def next_view(
    standing: Standing, examined: Examined, findings: Sequence[Finding]
) -> list[dict[str, Any]]:
    """Return the acts, each with its kind, place, seconds, what it would leave, and its words.

    None before all readings are there: what is open so far may be read anyway.
    """
    if not standing.finished:
        return []
    acts = advise(examined, findings, target=target_of(standing.recorded))
    return [_act(standing, act) for act in acts]


def _act(standing: Standing, act: Act) -> dict[str, Any]:
    return {
        "kind": act.kind,
        "channel": None if act.channel is None else standing.channel_key(act.channel),
        "vertical": _vertical(standing, act),
        "tape": None if act.tape is None else figure(act.tape),
        "seconds": act.seconds,
        "percent": to_figures(act.percent, 2),
        "words": act.words,
    }


def _vertical(standing: Standing, act: Act) -> str | None:
    """Return the key of the vertical that is read again, None for any other act."""
    if act.kind not in ("second point", "longer exposure") or standing.gauging is None:
        return None
    assert act.channel is not None
    called = standing.gauging.channels[act.channel].verticals
    place = next(i for i, vertical in enumerate(called) if vertical.tape == act.tape)
    return standing.vertical_key(act.channel, place)
