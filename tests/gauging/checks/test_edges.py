"""Edges of water: missing, unnamed, without depth, with depth and no velocity."""

import pytest

from bankside.gauging.records import Vertical

from .sections import even, found, gauging, left, read, right

NO_EDGE = "No starting or finishing edge"


def test_an_even_section_raises_nothing_about_its_edges() -> None:
    """Both edges marked, with depth 0: nothing to say."""
    made = gauging(*even())

    names = (NO_EDGE, "Bank not named", "Edge without depth", "Edge with depth")
    assert [found(name, made) for name in names] == [[], [], [], []]


def test_a_missing_finishing_edge_is_asked_for_when_finished() -> None:
    """The last vertical has water and no edge stands beyond it: the side is known by the other."""
    verticals = even()[:-1]

    (finding,) = found(NO_EDGE, gauging(*verticals))

    assert finding.severity == "fix now"
    assert finding.tapes == (24.0,)
    assert finding.found == (
        "No right edge of water is written: the outermost vertical, at tape 24 ft, has depth 1 ft."
    )
    assert "beyond tape 24 ft" in finding.advice
    assert found(NO_EDGE, gauging(*verticals), finished=False) == []


def test_a_missing_starting_edge_is_asked_for_at_once() -> None:
    """Without a starting edge the crew would walk on: said before the gauging is finished."""
    verticals = [read(3), read(4)]

    (finding,) = found(NO_EDGE, gauging(*verticals), finished=False)

    assert finding.tapes == (3.0,)
    assert len(found(NO_EDGE, gauging(*verticals))) == 2


def test_a_first_vertical_still_being_called_is_waited_for() -> None:
    """A tape position alone may yet turn out to be the edge."""
    assert found(NO_EDGE, gauging(Vertical(3)), finished=False) == []
    assert len(found(NO_EDGE, gauging(Vertical(3)))) == 1


def test_a_start_from_the_far_bank_counts() -> None:
    """Called from the right bank down the tape, the right edge is the starting one."""
    assert found(NO_EDGE, gauging(right(20), read(19), read(18)), finished=False) == []


def test_an_end_of_depth_0_has_only_its_bank_to_be_named() -> None:
    """The water is known to end there; which bank it is, is a note for both ends together."""
    made = gauging(Vertical(0, 0), read(1), read(2), Vertical(3, 0))

    (finding,) = found("Bank not named", made)

    assert (finding.severity, finding.tapes) == ("note", (0, 3))
    assert found(NO_EDGE, made) == []
    assert [f.tapes for f in found("Bank not named", made, finished=False)] == [(0,)]


@pytest.mark.parametrize(
    ("bank", "word"), [(None, "depth 0"), ("sloping", "depth 0"), ("undercut", "Measure")]
)
def test_an_edge_without_depth(bank: str | None, word: str) -> None:
    """The advice goes by the form of the bank, or asks for it."""
    made = gauging(left(2, None, bank=bank), read(3), read(4))

    (finding,) = found("Edge without depth", made, finished=False)

    assert (finding.severity, finding.tapes) == ("fix now", (2,))
    assert word in finding.advice and "tape 2 ft" in finding.advice


def test_an_edge_that_is_just_being_called_may_lack_its_depth() -> None:
    """The last vertical called of an unfinished gauging is waited for."""
    made = gauging(left(2, None))

    assert found("Edge without depth", made, finished=False) == []
    assert len(found("Edge without depth", made)) == 1


def test_a_wall_without_velocity_or_factor_is_to_be_explained() -> None:
    """A table from memory stands in for what was not said."""
    made = gauging(left(0, 0.8, bank="steep"), read(1), right(2))

    (finding,) = found("Edge with depth", made, finished=False)

    assert finding.severity == "explain"
    assert finding.found == (
        "The steep left edge of water at tape 0 ft has depth 0.8 ft and neither a velocity nor a "
        "wall factor."
    )


def test_a_wall_with_a_factor_is_silent_unless_undercut_or_unnamed() -> None:
    """A steep bank with its factor says all; an undercut one may hide more water."""
    steep, undercut, unnamed = (
        gauging(left(0, 0.8, bank=bank, wall_factor=0.7), read(1), right(2))
        for bank in ("steep", "undercut", None)
    )

    assert found("Edge with depth", steep) == []
    assert [f.severity for f in found("Edge with depth", undercut)] == ["explain"]
    assert [f.severity for f in found("Edge with depth", unnamed)] == ["note"]


def test_a_vertical_beyond_a_marked_edge_is_no_missing_edge() -> None:
    """That one is to be set right first, by a check of its own."""
    made = gauging(*even(), read(25.1))

    assert found(NO_EDGE, made) == []
    assert len(found("Vertical beyond the edge of water", made)) == 1
