"""What a picture of the section shows: panels, banks, channels from left to right."""

import attrs
import pytest

from bankside.gauging.records import Channel

from .gaugings import FEET, bare, channel, plain
from .sections import drawing_of, with_channels


def test_panels_reach_half_way_to_their_neighbours() -> None:
    """By the half-width rule the panels of 1, 1.5, 2 … meet at 1.25, 1.75 …, from edge to edge."""
    (one,) = drawing_of(with_channels(channel(3))).channels

    assert [(p.start, p.end) for p in one.panels] == [
        (1.0, 1.25),
        (1.25, 1.75),
        (1.75, 2.25),
        (2.25, 2.75),
        (2.75, 3.0),
    ]


@pytest.mark.parametrize(
    ("how", "first"),
    [(("mid-section", "triangular"), (1.0, 1.75)), (("mean-section",), (1.0, 1.5))],
    ids=["triangular", "mean-section"],
)
def test_panels_follow_the_method(how: tuple[str, ...], first: tuple[float, float]) -> None:
    """By the triangular rule the first panel begins at the bank; by mean-section between."""
    (one,) = drawing_of(with_channels(channel(3)), *how).channels
    carrying = [panel for panel in one.panels if panel.share]

    assert (carrying[0].start, carrying[0].end) == first


def test_depths_and_velocities_are_in_the_units_called() -> None:
    """In feet the picture shows what was called, not what was computed with."""
    (one,) = drawing_of(plain(FEET)).channels

    # Back from metres a depth is a few 1e-16 off what was called.
    assert one.verticals[4].depth == pytest.approx(0.74)
    assert one.verticals[4].velocity == pytest.approx(0.59)
    assert one.verticals[4].fractions == (0.6,)


@pytest.mark.parametrize(
    ("banks", "first", "mirrored", "order"),
    [
        (("left", "right"), "left", False, ["Channel 1", "Channel 2"]),
        (("right", "left"), "right", True, ["Channel 2", "Channel 1"]),
    ],
)
def test_the_left_bank_is_on_the_left(
    banks: tuple[str, str], first: str, mirrored: bool, order: list[str]
) -> None:
    """Whoever faces downstream sees the left bank on the left, wherever the tape begins."""
    gauging = with_channels(channel(4, banks=banks), channel(3, 20.0, banks=banks))
    channels = drawing_of(gauging).channels

    assert {(one.first_bank, one.mirrored) for one in channels} == {(first, mirrored)}
    assert [one.title for one in channels] == order


def test_an_unnamed_bank_is_not_guessed() -> None:
    """Where no edge is named the picture says so; where one is, the other follows from it."""
    (nameless,) = drawing_of(bare()).channels
    first, *others = channel(4).verticals
    half = Channel((attrs.evolve(first, edge=None, bank=None), *others))

    assert nameless.first_bank is None
    assert drawing_of(with_channels(half)).channels[0].first_bank == "left"


def test_what_was_not_measured_is_told_apart() -> None:
    """A sounding without a velocity is drawn, but not as a measured vertical."""
    verticals = list(channel(5).verticals)
    verticals[3] = attrs.evolve(verticals[3], velocity=())
    (one,) = drawing_of(with_channels(Channel(tuple(verticals)))).channels

    assert [v.measured for v in one.verticals] == [False, True, True, False, True, True, False]
