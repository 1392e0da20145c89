"""Why of practice: simulated streams, what is done at them, the debrief, drills and readiness."""

from __future__ import annotations

from typing import Final

from bankside.bank.reasons.reason import Reason
from bankside.practice.debrief.source_words import SOURCES

__all__ = ["PRACTISING"]

_SHAPLEY: Final = "the value of Shapley (from memory)"
_SIMULATED: Final = "ours, docs/practice.md"

_AT_THE_STREAM: Final = (
    Reason(
        "practice stream",
        "Stream and its number",
        "The stream is made by a computer, so its discharge is known and nobody is in the water.",
        "The same number always makes the same stream, so a whole crew can measure one and "
        "compare.",
        f"{_SIMULATED}; all figures assumed",
    ),
    Reason(
        "practice section",
        "Where the tape hangs",
        "All sections of the reach carry the same discharge, and one of them is smoother.",
        "There the bed between the verticals hides less, so the choice is practised too.",
        SOURCES["section choice"].source,
    ),
    Reason(
        "square tape",
        "Tape square to the flow",
        "A tape that hangs askew is longer than the section is wide, so the discharge comes out "
        "too large.",
        "It costs little at a small angle and much at a large one.",
        SOURCES["tape"].source,
    ),
    Reason(
        "reading a rod",
        "Rod and tape as drawn",
        "They are read by eye, as at a stream, so the picture says no figure.",
        "The water swings and heaps up on the rod, and the depth is the middle of the swing.",
        f"{SOURCES['depth reading'].source}; ours, docs/practice.md",
    ),
    Reason(
        "practice meter",
        "What the meter shows",
        "It shows the mean since it was started, a figure a second, and it wanders less and less.",
        "Turbulence and slow pulsation are drawn so that a longer stay errs less, as in a stream.",
        SOURCES["exposure"].source,
    ),
    Reason(
        "standing",
        "Where you stand, and how the meter faces",
        "Legs close upstream slow the water, and a meter turned off the flow sees a part of it.",
        "How much they cost here is assumed, and the debrief says what they cost you.",
        SOURCES["meter handling"].source,
    ),
    Reason(
        "pace",
        "Pace",
        "It lets the time of the stream run faster than the clock, so that practice stays short.",
        "The figures that the meter shows are the same at every pace.",
        "ours",
    ),
)

_AFTERWARDS: Final = (
    Reason(
        "true discharge",
        "What the stream carried",
        "It is the discharge that a perfect crew would find, known because the stream is "
        "simulated.",
        "It is taken in the middle of the readings, as the level may move while they are made.",
        _SIMULATED,
    ),
    Reason(
        "whole error",
        "The whole error",
        "It says how far your discharge is off, in percent of the true one.",
        "A percent or three by chance is usual with good habits too, so look at several tries.",
        "ours, docs/training.md",
    ),
    Reason(
        "parts of the error",
        "Where the error came from",
        "The parts say what to work on first, and they add up to the whole error.",
        "Each is the mean, over all orders, of what putting it right changes, since no one order "
        "would be fair.",
        _SHAPLEY,
    ),
    Reason(
        "better",
        "Three things to do better",
        "They name what is worth most at the next stream, a call to come out before all else.",
        "They come from what was seen in your acts and from the dearest parts of the error.",
        "ours, docs/practice.md",
    ),
    Reason(
        "true section",
        "The true bed",
        "It shows what lay between your verticals, where nobody read.",
        "The straight lines from depth to depth are what the discharge is worked out with.",
        _SIMULATED,
    ),
    Reason(
        "one more vertical",
        "One more vertical",
        "It says what the next act would have been worth.",
        "It stands where the advice would have put it, and is read without any error.",
        "ours, docs/advice.md",
    ),
    Reason(
        "fate",
        "What became of a finding",
        "It says whether what you were told in time was heeded.",
        "A call to come out is heeded only by coming out, or by putting a slip right, and no "
        "answer stands for that; all else was put right, answered or left open, and only the last "
        "costs you.",
        _SIMULATED,
    ),
    Reason(
        "readiness",
        "Who is ready",
        "The leader says how many streams, how near and of how many kinds are asked for.",
        "No published figure is known for it, and no certificate makes anybody safe in a river.",
        "ours, docs/training.md",
    ),
    Reason(
        "drill",
        "Drills",
        "They train the eye for rod, tape, setting and units before it costs a gauging.",
        "What was wrong comes again soon, and what was right later and later.",
        "the boxes of Leitner (from memory)",
    ),
)


def _parts() -> tuple[Reason, ...]:
    """Return why of each source of error, with the words that the debrief has for it."""
    return tuple(
        Reason(
            f"source: {key}",
            words.name,
            f"It counts {words.what}.",
            "Its percent is the mean, over all orders, of what putting it right changes.",
            f"{_SHAPLEY}; what helps against it: {words.source}",
        )
        for key, words in SOURCES.items()
    )


PRACTISING: Final = (*_AT_THE_STREAM, *_AFTERWARDS, *_parts())
"""Reasons of what stands on the screens of practice alone."""
