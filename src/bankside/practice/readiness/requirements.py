"""What a leader asks for before somebody gauges real water without a watcher, as a JSON document.

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


def _enough_kinds(asked: "Requirements") -> Iterator[Fault]:
    """Nobody can show more kinds than there are, or than streams are asked for."""
    most = min(len(PRACTICE_STREAMS), asked.streams)
    if asked.kinds > most:
        yield Fault(f"kinds must be from 1 to {most} (got {asked.kinds})", path="kinds")


def _known_kinds(asked: "Requirements") -> Iterator[Fault]:
    """Only streams that there are can be asked for."""
    for name in asked.must:
        if name not in PRACTICE_STREAMS:
            names = ", ".join(f'"{one}"' for one in PRACTICE_STREAMS)
            yield Fault(f'must must hold practice streams: {names} (got "{name}")', path="must")


@attrs.frozen
class Requirements(Checked):
    """So many streams within so many percent, and no finding passed over that calls people out.

    The last `streams` first tries of a person count. Training on one water does not carry to
    another kind (read, abstract), so kinds can be asked for: so many of them, or by name.
    """

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("streams", "kinds"), _enough_kinds),
        Rule(("must",), _known_kinds),
    )

    streams: int = attrs.field(default=5, metadata=about(Counted(), "how many streams in a row"))
    within_percent: float = attrs.field(
        default=5.0,
        metadata=about(Number(above=0, most=100), "how far off each may be, in percent"),
    )
    kinds: int = attrs.field(
        default=3, metadata=about(Counted(), "of how many kinds these are at least")
    )
    must: tuple[str, ...] = attrs.field(
        default=(), metadata=about(Texts(), "kinds that have to be among them")
    )
    no_stop_ignored: bool = attrs.field(
        default=True,
        metadata=about(Flag(), "whether findings that call everybody out count when passed over"),
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
    """Return what a JSON object asks for; InputRefused with every fault in it."""
    return structured(_FORM.members(document, "what a leader asks for"), Requirements)
