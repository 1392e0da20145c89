"""Verticals called along the tape, between the edges."""

import pytest

from bankside.gauging.records import Channel, Gauging

from .sections import FEET, even, found, gauging, left, read, right

BACK = "Not along the tape"
BEYOND = "Vertical beyond the edge of water"


def test_called_either_way_along_the_tape_is_silent() -> None:
    """From the left bank or from the right."""
    verticals = even()

    assert found(BACK, gauging(*verticals)) == []
    assert found(BACK, gauging(*verticals[::-1])) == []


def test_turning_back_is_to_be_explained_at_once() -> None:
    """11, 12, 11.5, 13: misheard, or added on the way."""
    verticals = [left(10), read(11), read(12), read(11.5), read(13)]

    (finding,) = found(BACK, gauging(*verticals), finished=False)

    assert (finding.severity, finding.tapes) == ("explain", (12, 11.5))
    assert finding.found == "The tape positions called turn back from 12 to 11.5 ft."


def test_two_steps_go_by_the_first() -> None:
    """From 0 to 2 and back to 1: nothing else tells the way across yet."""
    (finding,) = found(BACK, gauging(left(0), read(2), read(1)), finished=False)

    assert finding.tapes == (2, 1)


@pytest.mark.parametrize(
    ("called", "words"),
    [
        ((5, 3, 6), "from 3 to 6"),  # as many either way: the first tells
        ((9, 9.5, 8.5, 8), "from 9 to 9.5"),
        ((10, 12, 11.5, 13, 12.6, 14), "from 12 to 11.5 and from 13 to 12.6"),
        ((1, 1.4), None),
    ],
)
def test_most_steps_tell_the_way_across(called: tuple[float, ...], words: str | None) -> None:
    """Down the tape as well as up; every step the other way is told."""
    findings = found(BACK, gauging(*map(read, called)), finished=False)

    assert [f.found for f in findings] == (
        [] if words is None else [f"The tape positions called turn back {words} ft."]
    )


def test_turning_back_at_the_edge_itself_is_told() -> None:
    """The second edge belongs to the way across."""
    (finding,) = found(BACK, gauging(left(0), read(1), read(2), read(3), right(2.5)))

    assert finding.tapes == (3, 2.5)


def test_every_channel_is_looked_at() -> None:
    """What is odd in the last of three is told with its channel; the others are in order."""
    no_edge = Channel((read(1), read(2)))
    odd = Channel((left(0), read(1), read(3), read(2), right(4), read(4.1), read(4.3)))
    made = Gauging(FEET, (no_edge, Channel(tuple(even())), odd))

    (back,), (beyond,) = found(BACK, made), found(BEYOND, made)

    assert (back.channel, back.tapes) == (2, (3, 2))
    assert (beyond.channel, beyond.tapes) == (2, (4.1, 4.3))
    assert beyond.found == (
        "Channel 3: Tapes 4.1 and 4.3 ft lie beyond the edge of water at tapes 0 and 4 ft."
    )


def test_verticals_added_after_the_second_edge_are_as_they_should_be() -> None:
    """A crew that adds where it was told to goes back on the tape."""
    verticals = [*even(), read(12.5), read(7.5)]

    assert found(BACK, gauging(*verticals)) == []


def test_both_edges_may_be_called_first() -> None:
    """The way across is what follows; turning back on it is told."""
    verticals = [left(0), right(5), read(1), read(2), read(3), read(4)]

    assert found(BACK, gauging(*verticals)) == []
    assert len(found(BACK, gauging(*verticals[:3], read(3), read(2)))) == 1


def test_a_vertical_beyond_the_edge() -> None:
    """On the edge's far side there is no water of this channel."""
    inside = gauging(*even(), read(24.9))
    outside = gauging(*even(), read(25.1))

    assert found(BEYOND, inside) == []
    (finding,) = found(BEYOND, outside)
    assert (finding.severity, finding.tapes) == ("fix now", (25.1,))
    assert finding.found == "Tape 25.1 ft lies beyond the edge of water at tapes 0 and 25 ft."


def test_of_one_edge_the_side_with_fewer_is_beyond() -> None:
    """Three verticals up the tape say where the channel is."""
    verticals = [left(10), read(11), read(12), read(9), read(13)]

    assert [f.tapes for f in found(BEYOND, gauging(*verticals), finished=False)] == [(9,)]
    assert found(BEYOND, gauging(*verticals[:3]), finished=False) == []


@pytest.mark.parametrize("called", [(9, 11), (11, 9), (9, 8, 11, 12), (12, 11, 8, 9)])
def test_of_as_many_on_either_side_of_one_edge_the_latest_is_beyond(
    called: tuple[float, ...],
) -> None:
    """What was called first tells where the channel is."""
    (finding,) = found(BEYOND, gauging(left(10), *map(read, called)), finished=False)

    assert called[-1] in finding.tapes and called[0] not in finding.tapes
