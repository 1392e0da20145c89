"""Whether the verticals were called along the tape, and lie between the edges of water."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding

__all__ = ["CHECKS"]


def _turning_back(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        steps = list(pairwise(_crossing(channel)))
        onward = sum(1 if b.tape > a.tape else -1 for a, b in steps)
        if steps and onward == 0:
            onward = 1 if steps[0][1].tape > steps[0][0].tape else -1
        back = [(a, b) for a, b in steps if (b.tape - a.tape) * onward < 0]
        if not back:
            continue
        words = " and ".join(f"from {a.tape:.10g} to {b.tape:.10g}" for a, b in back)
        tapes = tuple(dict.fromkeys(spot.tape for pair in back for spot in pair))
        yield Finding(
            check="Not along the tape",
            severity="explain",
            found=f"The tape positions called turn back {words} {examined.gauging.units.length}.",
            advice=f"Read the tape again at {examined.at(*tapes)}; if the vertical was added "
            "between others, say so.",
            channel=channel.index,
            tapes=tapes,
        )


def _crossing(channel: ExaminedChannel) -> Sequence[Spot]:
    """Return the verticals in the order called on the way across.

    What is called after the second edge was added later, between others, as a crew should; where
    both edges are called first, the others are the way across.
    """
    edges = [i for i, spot in enumerate(channel.called) if spot.vertical.edge is not None]
    if len(edges) < 2:
        return channel.called
    if edges == [0, 1]:
        return channel.called[2:]
    return channel.called[: edges[1] + 1]


def _beyond_the_edge(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        edges = channel.edges
        if not edges:
            continue
        beyond = _outside(channel, edges)
        if not beyond:
            continue
        tapes = tuple(spot.tape for spot in beyond)
        there = examined.at(*(edge.tape for edge in edges))
        verb = "lies" if len(tapes) == 1 else "lie"
        yield Finding(
            check="Vertical beyond the edge of water",
            severity="fix now",
            found=f"{_capitalised(examined.at(*tapes))} {verb} beyond the edge of water at "
            f"{there}.",
            advice=f"Read the tape again at {examined.at(*tapes)} and at the edge, {there}; water "
            "beyond an edge is a channel of its own.",
            channel=channel.index,
            tapes=tapes,
        )


def _outside(channel: ExaminedChannel, edges: Sequence[Spot]) -> list[Spot]:
    """Return the verticals outside two edges; of one edge, those on the side with fewer."""
    low, high = edges[0].tape, edges[-1].tape
    below = [spot for spot in channel.between if spot.tape < low]
    above = [spot for spot in channel.between if spot.tape > high]
    if len(edges) > 1:
        return below + above
    if len(below) == len(above):
        latest = channel.called[-1]
        return above if latest in above else below
    return min(below, above, key=len)


def _capitalised(words: str) -> str:
    return words[:1].upper() + words[1:]


CHECKS = (
    Check(
        name="Not along the tape",
        trigger="On the way from edge to edge a tape position lies back of the one called before; "
        "verticals called after the second edge are taken as added later.",
        severities=("explain",),
        remedy="Read the tape again, or say that the vertical was added.",
        source="common practice, no source",
        find=_turning_back,
        wades=True,
    ),
    Check(
        name="Vertical beyond the edge of water",
        trigger="A vertical lies outside the edges of water of its channel.",
        severities=("fix now",),
        remedy="Read the tape again at the vertical and at the edge; water beyond an edge is a "
        "channel of its own.",
        source="common practice, no source",
        find=_beyond_the_edge,
        wades=True,
    ),
)
