"""Verticals called along the tape, between the edges."""

from .sections import even, found, gauging, left, read, right

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
