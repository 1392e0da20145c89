"""Edges of water: missing, unnamed, without depth, with depth and no velocity."""

import pytest

from bankside.gauging.records import Channel, Gauging, PointReading, Vertical

from .sections import FEET, even, found, gauging, left, read, right

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
    assert len(found(NO_EDGE, gauging(read(3)), finished=False)) == 1
    assert len(found(NO_EDGE, gauging(Vertical(3), read(4)), finished=False)) == 1
    (finding,) = found(NO_EDGE, gauging(Vertical(3)))
    assert finding.found == (
        "No edge of water is written: the outermost vertical, at tape 3 ft, has no depth."
    )


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
    ("bank", "said", "form"),
    [
        (None, "Write depth 0 at tape 2 ft if the bank slopes", " and no form of bank"),
        ("sloping", "Write depth 0 at tape 2 ft, where the bank slopes.", ""),
        ("steep", "Measure the depth at tape 2 ft, in front of the steep bank.", ""),
        ("undercut", "Measure the depth at tape 2 ft, in front of the undercut bank.", ""),
    ],
)
def test_an_edge_without_depth(bank: str | None, said: str, form: str) -> None:
    """The advice goes by the form of the bank, or asks for it."""
    made = gauging(left(2, None, bank=bank), read(3), read(4))

    (finding,) = found("Edge without depth", made, finished=False)

    assert (finding.severity, finding.tapes) == ("fix now", (2,))
    assert finding.advice.startswith(said)
    assert finding.found == f"The left edge of water at tape 2 ft has no depth{form}."


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
    (note,) = found("Edge with depth", unnamed)
    assert note.severity == "note"
    assert note.found == (
        "The left edge of water at tape 0 ft has depth 0.8 ft and a wall factor of 0.7."
    )
    assert note.advice == "Say at tape 0 ft whether the bank is steep or undercut."


def test_a_vertical_beyond_a_marked_edge_is_no_missing_edge() -> None:
    """That one is to be set right first, by a check of its own."""
    made = gauging(*even(), read(25.1))

    assert found(NO_EDGE, made) == []
    assert len(found("Vertical beyond the edge of water", made)) == 1


def test_a_wall_with_a_velocity_has_only_its_form_to_be_named() -> None:
    """What was read there is told; no factor is asked for."""
    wall = Vertical(0.0, 0.8, (PointReading(0.5, 0.6),), edge="left")
    (finding,) = found("Edge with depth", gauging(wall, read(1), right(2)))

    assert finding.severity == "note"
    assert finding.found.endswith("has depth 0.8 ft and a velocity.")


def test_all_that_is_missing_at_a_wall_is_one_advice() -> None:
    """Sentence after sentence."""
    (finding,) = found("Edge with depth", gauging(left(0, 0.8, bank="undercut"), read(1), right(2)))

    assert finding.severity == "explain"
    assert finding.advice.startswith("Probe under the bank at tape 0 ft, and take the edge ")
    assert ". Give a wall factor at tape 0 ft, or read a velocity there" in finding.advice


def test_one_channel_hides_nothing_of_the_next() -> None:
    """Before those with something to say: an empty one, a right one, one beyond its edge."""
    begun = Channel((Vertical(0.0, 0.0), read(1.0), read(2.0)))
    bare = Channel((left(), read(1.0), right(2.0, None)))
    before = (Channel(()), Channel(tuple(even(3))), Channel((*even(3), read(5.0))))
    several = Gauging(FEET, (*before, begun, bare))

    assert [(f.channel, f.tapes) for f in found(NO_EDGE, several)] == [(3, (2.0,))]
    assert [(f.channel, f.tapes) for f in found("Bank not named", several)] == [(3, (0.0,))]
    assert [(f.channel, f.tapes) for f in found("Edge without depth", several)] == [(4, (2.0,))]
