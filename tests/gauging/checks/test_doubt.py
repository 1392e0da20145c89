"""When no range around a discharge is told: what stands open, and ends that nobody measured."""

from typing import Any

import attrs
import pytest

from bankside.gauging.checks.doubt import in_doubt, unmeasured_ends
from bankside.gauging.checks.finding import Finding, Severity, Suspect
from bankside.gauging.compute import compute
from bankside.gauging.records import Answer, Channel, Gauging

from .slip_sections import FEET, section

WHOLE = section()
SLIP = Suspect(3, "depth")


def _finding(severity: Severity, **members: Any) -> Finding:
    return attrs.evolve(Finding("a check", "note", "found", "advice"), severity=severity, **members)


@pytest.mark.parametrize(
    ("found", "doubtful"),
    [
        (_finding("stop"), True),
        (_finding("fix now"), False),
        (_finding("explain", suspect=SLIP), True),
        (_finding("explain", comes_out=True), True),
        (_finding("note", suspect=SLIP), False),
        (_finding("stop", answer=Answer("a check", "found", "stop", "looked at again")), False),
    ],
)
def test_what_stands_open(found: Finding, doubtful: bool) -> None:
    """What was answered and what asks for nothing stand no more in the way."""
    assert in_doubt(WHOLE, compute(WHOLE), (_finding("fix now"), found)) is doubtful
    assert not in_doubt(WHOLE, compute(WHOLE), ())


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize("channel", [0, 1])
def test_an_end_that_nobody_measured(end: str, channel: int) -> None:
    """In whichever channel, and at whichever end."""
    verticals = WHOLE.channels[0].verticals
    cut = {"left": verticals[1:], "right": verticals[:-1]}[end]
    channels = [Channel(verticals), Channel(verticals)]
    channels[channel] = Channel(cut)
    made = Gauging(FEET, tuple(channels))
    result = compute(made)

    assert in_doubt(made, result, ())
    for index, one in enumerate(channels):
        own = [vertical for vertical in result.verticals if vertical.channel == index]
        assert unmeasured_ends(one, own) == (
            (index == channel) and end == "left",
            (index == channel) and end == "right",
        )


def test_ends_with_nothing_beyond() -> None:
    """A wall with water at it, and a last vertical in no water that nobody called an edge."""
    verticals = WHOLE.channels[0].verticals
    wall = attrs.evolve(verticals[0], depth=0.3)
    dry = attrs.evolve(verticals[-1], edge=None)
    made = Gauging(FEET, (Channel((wall, *verticals[1:-1], dry)),))

    assert not in_doubt(made, compute(made), ())
