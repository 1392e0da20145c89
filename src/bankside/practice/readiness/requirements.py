"""What a leader asks for before somebody gauges real water, beside somebody who knows it.

It is a JSON document.
All of it is the choice of the programme; no published figure is known (`docs/training.md`).
"""

from collections.abc import Iterator
from typing import Any, ClassVar, Final

import attrs

from bankside.gauging.checked import Checked, Rule
from bankside.gauging.faults import Fault
from bankside.gauging.fields import Flag, Number, Text, Texts, about
from bankside.gauging.journal.kinds import Counted
from bankside.gauging.json_form import JsonForm
from bankside.gauging.structure import structured, unstructured
from bankside.practice.session.practice_streams import PRACTICE_STREAMS

__all__ = ["FORMAT", "Requirements", "requirements_from_document", "requirements_to_document"]

_FORM: Final = JsonForm("bankside.readiness")

FORMAT: Final = _FORM.format

# What a screen teaches nobody by figures: to stay out, and to look at the gauge meanwhile (ours).
_MUST: Final = ("after rain", "rising stage")
_STREAMS: Final = 5
_GAUGED: Final = 3


def _enough_kinds(asked: "Requirements") -> Iterator[Fault]:
    """Nobody can show more kinds than there are, or than streams are asked for."""
    most = min(len(PRACTICE_STREAMS), asked.streams)
    if asked.kinds > most:
        yield Fault(f"kinds must be from 1 to {most} (got {asked.kinds})", path="kinds")


def _enough_gauged(asked: "Requirements") -> Iterator[Fault]:
    """No more can be gauged than streams are asked for."""
    if asked.gauged > asked.streams:
        message = f"gauged must be from 1 to {asked.streams} (got {asked.gauged})"
        yield Fault(message, path="gauged")


def _known_kinds(asked: "Requirements") -> Iterator[Fault]:
    """Only streams that there are can be asked for, and no more kinds than streams."""
    if len(set(asked.must)) > asked.streams:
        message = f"must must hold {asked.streams} streams at most (got {len(set(asked.must))})"
        yield Fault(message, path="must")
    for name in asked.must:
        if name not in PRACTICE_STREAMS:
            names = ", ".join(f'"{one}"' for one in PRACTICE_STREAMS)
            yield Fault(f'must must hold practice streams: {names} (got "{name}")', path="must")


@attrs.frozen
class Requirements(Checked):
    """So many streams that end rightly, and no finding passed over that calls people out.

    A stream ends rightly within so many percent, or out of the water where that was asked for; so
    many of them have to be gauged.

    The last `streams` first tries of a person count. Training on one water does not carry to
    another kind (read, abstract), so kinds can be asked for: so many of them, or by name.
    """

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("streams", "kinds"), _enough_kinds),
        Rule(("streams", "gauged"), _enough_gauged),
        Rule(("streams", "must"), _known_kinds),
    )

    streams: int = attrs.field(
        default=_STREAMS, metadata=about(Counted(), "how many streams in a row")
    )
    gauged: int = attrs.field(
        default=_GAUGED, metadata=about(Counted(), "how many of them are gauged within the limit")
    )
    within_percent: float = attrs.field(
        default=5.0,
        metadata=about(Number(above=0, most=100), "how far off each may be, in percent"),
    )
    kinds: int = attrs.field(
        default=3, metadata=about(Counted(), "of how many kinds these are at least")
    )
    must: tuple[str, ...] = attrs.field(
        default=_MUST, metadata=about(Texts(), "kinds that have to be among them")
    )
    no_stop_ignored: bool = attrs.field(
        default=True,
        metadata=about(Flag(), "whether findings that call everybody out count when passed over"),
    )
    no_figure_unread: bool = attrs.field(
        default=True,
        metadata=about(Flag(), "whether figures that nobody read spoil a try"),
    )
    no_fix_now_open: bool = attrs.field(
        default=True,
        metadata=about(Flag(), "whether findings to be put right in the water need an answer"),
    )
    leader: str | None = attrs.field(
        default=None, metadata=about(Text(), "who asks for it, and signs")
    )
    programme: str | None = attrs.field(
        default=None, metadata=about(Text(), "the programme that it is for")
    )


def requirements_to_document(requirements: Requirements) -> dict[str, Any]:
    """Return what a leader asks for as JSON takes it, usual values as well: a file to change."""
    usual = {
        field.name: getattr(requirements, field.name)
        for field in attrs.fields(Requirements)
        if getattr(requirements, field.name) is not None
    }
    return {"format": FORMAT, **usual, **unstructured(requirements)}


def requirements_from_document(document: object) -> Requirements:
    """Return what a JSON object asks for; InputRefused with every fault in it.

    Where fewer streams than usual are asked for and nothing is said of them, no kind has to be
    among them, and no more than all are to be gauged: there is no room for what is usual.
    """
    members = _FORM.members(document, "what a leader asks for")
    streams = members.get("streams")
    if isinstance(streams, int) and 1 <= streams < _STREAMS:
        members.setdefault("must", [])
        members.setdefault("gauged", min(_GAUGED, streams))
    return structured(members, Requirements)
