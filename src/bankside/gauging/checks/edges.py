"""Whether both edges of water are there, and say how the water ends."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity

__all__ = ["CHECKS"]

_OTHER = {"left": "right ", "right": "left ", None: ""}


def _unmarked_ends(examined: Examined) -> Iterator[tuple[ExaminedChannel, list[Spot]]]:
    """Yield the ends of each channel that are not marked as edges: the first one until finished.

    A channel that goes on beyond a marked edge is left out: that has to be set right first. So is
    a vertical whose depth is still to be called.
    """
    for channel in examined.channels:
        if not channel.called:
            continue
        ends = [*channel.across[:1], *channel.across[1:][-1:]]
        if any(edge not in ends for edge in channel.edges):
            continue
        if examined.finished:
            yield channel, [spot for spot in ends if spot.vertical.edge is None]
        elif not channel.edges:
            start = channel.called[0]
            waits = start.depth_m is None and len(channel.called) == 1
            yield channel, [] if waits else [start]


def _no_edge(examined: Examined) -> Iterator[Finding]:
    for channel, ends in _unmarked_ends(examined):
        for spot in ends:
            if spot.depth_m == 0:
                continue
            side = _OTHER[channel.edges[0].vertical.edge] if channel.edges else ""
            depth = "no depth" if spot.depth_m is None else f"depth {examined.depth(spot.depth_m)}"
            here = examined.at(spot.tape)
            yield Finding(
                check="No starting or finishing edge",
                severity="fix now",
                found=f"No {side}edge of water is written: the outermost vertical, at {here}, has "
                f"{depth}.",
                advice=f"Read the tape at the water line beyond {here}; write it with its bank, "
                "left or right, and the time. While the crew is still on its way, check the "
                "gauging as unfinished.",
                channel=channel.index,
                tapes=(spot.tape,),
            )


def _bank_not_named(examined: Examined) -> Iterator[Finding]:
    for channel, ends in _unmarked_ends(examined):
        tapes = tuple(spot.tape for spot in ends if spot.depth_m == 0)
        if not tapes:
            continue
        here = examined.at(*tapes)
        yield Finding(
            check="Bank not named",
            severity="note",
            found=f"The water ends at {here}, and nothing says at which bank.",
            advice=f"Write the edge at {here} as left or right, facing downstream.",
            channel=channel.index,
            tapes=tapes,
        )


def _edge_without_depth(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        for spot in channel.edges:
            waits = not examined.finished and spot == channel.called[-1]
            if spot.depth_m is not None or waits:
                continue
            here, bank = examined.at(spot.tape), spot.vertical.bank
            if bank in ("steep", "undercut"):
                advice = f"Measure the depth at {here}, in front of the {bank} bank."
            elif bank == "sloping":
                advice = f"Write depth 0 at {here}, where the bank slopes."
            else:
                advice = (
                    f"Write depth 0 at {here} if the bank slopes; if it is steep or undercut, say "
                    "so and measure the depth in front of it."
                )
            yield Finding(
                check="Edge without depth",
                severity="fix now",
                found=f"The {spot.vertical.edge} edge of water at {here} has no depth"
                f"{'' if bank else ' and no form of bank'}.",
                advice=advice,
                channel=channel.index,
                tapes=(spot.tape,),
            )


def _edge_with_depth(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        for spot in channel.edges:
            if spot.depth_m:
                yield from _wall(examined, spot, spot.depth_m)


def _wall(examined: Examined, spot: Spot, depth_m: float) -> Iterator[Finding]:
    vertical, here = spot.vertical, examined.at(spot.tape)
    bare = not vertical.velocity and vertical.wall_factor is None
    advice = []
    if vertical.bank is None:
        advice.append(f"Say at {here} whether the bank is steep or undercut")
    if vertical.bank == "undercut":
        advice.append(
            f"Probe under the bank at {here}, and take the edge to the back of it only if the "
            "water moves there"
        )
    if bare:
        advice.append(
            f"Give a wall factor at {here}, or read a velocity there; without one a table for "
            "smooth walls, recalled and not checked, stands in"
        )
    if not advice:
        return
    severity: Severity = "explain" if bare or vertical.bank == "undercut" else "note"
    velocity = (
        "neither a velocity nor a wall factor"
        if bare
        else "a velocity"
        if vertical.velocity
        else f"a wall factor of {vertical.wall_factor:g}"
    )
    bank = f"{vertical.bank} " if vertical.bank else ""
    yield Finding(
        check="Edge with depth",
        severity=severity,
        found=f"The {bank}{vertical.edge} edge of water at {here} has depth "
        f"{examined.depth(depth_m)} and {velocity}.",
        advice=f"{'. '.join(advice)}.",
        channel=spot.channel,
        tapes=(spot.tape,),
    )


_STEPS = "stream-flow operating procedure of a Colorado mine permit, 2014, step 20"
_BRITISH_COLUMBIA = "British Columbia manual, 1998, D.3.2"

CHECKS = (
    Check(
        name="No starting or finishing edge",
        trigger="The first vertical along the tape, or the last, is not marked as an edge of water "
        "and has water; before the gauging is finished only the first one called is asked for.",
        severities=("fix now",),
        remedy="Read the tape at the water line; write the bank and the time.",
        source=f"{_STEPS}; {_BRITISH_COLUMBIA}",
        find=_no_edge,
        wades=True,
    ),
    Check(
        name="Bank not named",
        trigger="The water ends at a vertical with depth 0 that is not marked as the left or the "
        "right edge.",
        severities=("note",),
        remedy="Write the edge as left or right, facing downstream.",
        source=_STEPS,
        find=_bank_not_named,
    ),
    Check(
        name="Edge without depth",
        trigger="An edge of water has no depth.",
        severities=("fix now",),
        remedy="Write depth 0 at a sloping bank; measure the depth in front of a steep or undercut "
        "one.",
        source=_STEPS,
        find=_edge_without_depth,
        wades=True,
    ),
    Check(
        name="Edge with depth",
        trigger="An edge with depth has neither a velocity nor a wall factor, or is undercut "
        "(explain); its form of bank alone is missing (note).",
        severities=("explain", "note"),
        remedy="Say what bank it is; give a wall factor or read a velocity; probe under an "
        "undercut bank.",
        source=f"{_BRITISH_COLUMBIA}; the table that stands in is USGS WSP 2175 (from memory)",
        find=_edge_with_depth,
        wades=True,
    ),
)
