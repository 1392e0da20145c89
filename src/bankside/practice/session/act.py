"""What somebody does at a practice stream: one act after the other, as JSON takes them."""

from collections.abc import Iterator
from typing import ClassVar, Final, Literal, get_args

import attrs

from bankside.gauging.checked import Checked, Rule
from bankside.gauging.faults import Fault
from bankside.gauging.fields import Choice, Flag, Index, Many, Number, Text, about
from bankside.gauging.records import Edge
from bankside.practice.session.practice_streams import PRACTICE_STREAMS

__all__ = ["Act", "Doing", "MeterUnit", "Session", "Stance"]

Doing = Literal["choose", "clear", "stretch", "stage", "edge", "sound", "hold", "stay out"]
"""To choose a section, clear it, stretch the tape, read the gauge, look for an edge of water, read
the depth, hold the meter; to decide that nobody goes in, or anybody goes on."""
Stance = Literal["aside", "close upstream"]
MeterUnit = Literal["m/s", "ft/s"]

_NEEDED: Final[dict[Doing, tuple[str, ...]]] = {
    "choose": ("section",),
    "clear": (),
    "stretch": (),
    "stage": (),
    "edge": ("side",),
    "sound": ("tape",),
    "hold": ("tape", "fraction", "seconds"),
    "stay out": (),
}
# Longer than anybody holds a meter; every second of it is worked out.
_LONGEST: Final = 600
_MOST_SKEW: Final = 45.0


def _says_enough(act: "Act") -> Iterator[Fault]:
    """An act says all that it needs."""
    for name in _NEEDED[act.do]:
        if getattr(act, name) is None:
            yield Fault(f'{name} must be given where somebody does "{act.do}"', path=name)


def _whole_seconds(act: "Act") -> Iterator[Fault]:
    """A meter shows a figure every second."""
    if act.seconds is not None and act.seconds != int(act.seconds):
        yield Fault(f"seconds must be a whole number (got {act.seconds:g})", path="seconds")


@attrs.frozen
class Act(Checked):
    """One act; what it does not say is done as it should be."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("do", "section", "side", "tape", "fraction", "seconds"), _says_enough),
        Rule(("seconds",), _whole_seconds),
    )

    do: Doing = attrs.field(metadata=about(Choice(get_args(Doing)), "what is done"))
    section: str | None = attrs.field(
        default=None, metadata=about(Text(), "the section that is chosen")
    )
    side: Edge | None = attrs.field(
        default=None, metadata=about(Choice(get_args(Edge)), "the edge of water that is looked for")
    )
    tape: float | None = attrs.field(
        default=None, metadata=about(Number(), "the tape mark at which the rod stands, in m")
    )
    fraction: float | None = attrs.field(
        default=None,
        metadata=about(Number(least=0, most=1), "where in the depth the meter is meant to be"),
    )
    setting: float | None = attrs.field(
        default=None,
        metadata=about(
            Number(least=0), "what the scale of a top-setting rod is set to, in m; right if absent"
        ),
    )
    seconds: float | None = attrs.field(
        default=None,
        metadata=about(Number(least=1, most=_LONGEST), "how long the meter is held, in whole s"),
    )
    facing: float = attrs.field(
        default=0.0,
        metadata=about(Number(least=-90, most=90), "how far off the flow the meter faces, in °"),
    )
    stance: Stance = attrs.field(
        default="aside", metadata=about(Choice(get_args(Stance)), "where the reader stands")
    )
    unit: MeterUnit = attrs.field(
        default="m/s", metadata=about(Choice(get_args(MeterUnit)), "what the meter is set to show")
    )
    restarted: bool = attrs.field(
        default=True, metadata=about(Flag(), "whether counter and mean were started anew")
    )
    skew: float = attrs.field(
        default=0.0,
        metadata=about(
            Number(least=-_MOST_SKEW, most=_MOST_SKEW), "how far the tape is off square, in °"
        ),
    )


def _known_stream(session: "Session") -> Iterator[Fault]:
    """A session is at a stream that there is."""
    if session.stream not in PRACTICE_STREAMS:
        names = ", ".join(f'"{name}"' for name in PRACTICE_STREAMS)
        yield Fault(f'stream must be one of {names} (got "{session.stream}")', path="stream")


@attrs.frozen
class Session(Checked):
    """A stream, the seed that it is made from, and all that was done there, in order."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("stream",), _known_stream),)

    stream: str = attrs.field(metadata=about(Text(), "the name of the practice stream"))
    seed: int = attrs.field(metadata=about(Index(), "what tells this stream from its like"))
    acts: tuple[Act, ...] = attrs.field(
        default=(), metadata=about(Many(Act), "what was done, in order")
    )
