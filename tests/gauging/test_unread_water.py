"""Water in which no velocity was read: refused where nothing tells about it, else filled in."""

import math

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical

METRIC = Units("m", "m/s")
LEFT, RIGHT = Vertical(0, 0, edge="left"), Vertical(4, 0, edge="right")


def _read(tape: float, depth: float, velocity: float) -> Vertical:
    return Vertical(tape, depth, (PointReading(velocity, 0.6),))


def _refusals(*verticals: Vertical) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        compute(Gauging(METRIC, (Channel(verticals),)))
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("verticals", "index", "where"),
    [
        # Behind a stone, and behind an island.
        ((LEFT, _read(1, 0.5, 0.4), Vertical(2, dry=True), Vertical(3, 0.3), RIGHT), 3, "tape 3 m"),
        (
            (
                LEFT,
                _read(1, 0.5, 0.4),
                Vertical(2, 0),
                Vertical(2.5, 0),
                Vertical(3, 0.3),
                Vertical(3.5, 0.2),
                RIGHT,
            ),
            4,
            "tapes 3 and 3.5 m",
        ),
        # A steep edge, alone or with a sounding, before a stone.
        (
            (
                Vertical(0, 0.5, edge="left", bank="steep"),
                Vertical(1, 0.6),
                Vertical(2, 0),
                _read(3, 0.5, 0.5),
                RIGHT,
            ),
            0,
            "tapes 0 and 1 m",
        ),
        # Water called beyond the edge.
        ((Vertical(-1, 0.2), Vertical(0, 0), _read(1, 0.4, 0.4), RIGHT), 0, "tape -1 m"),
        ((LEFT, _read(1, 0.4, 0.4), Vertical(2, 0), Vertical(4, 0.3, edge="right")), 3, "tape 4 m"),
    ],
)
def test_water_that_reaches_no_velocity_is_refused(
    verticals: tuple[Vertical, ...], index: int, where: str
) -> None:
    """Nobody knows whether it stood; the refusal says where it is and what would settle it."""
    [sentence] = _refusals(*verticals)

    assert sentence.startswith(f"channels[0].verticals[{index}].velocity: velocity must be read")
    assert f"(got none at {where})" in sentence
    assert "0 there would be right if the water was slack" in sentence
    assert "can be read with empty as zero" in sentence
    assert "--" not in sentence


def test_every_such_water_is_told_at_once() -> None:
    """Two pools without a reading are two faults, as in two channels of their own."""
    pools = (Vertical(1, 0.3), Vertical(2, 0), Vertical(3, 0.3))

    assert len(_refusals(LEFT, *pools, RIGHT)) == 2


def test_a_velocity_of_0_settles_it() -> None:
    """Slack water that was called slack is computed, and its area counts."""
    channel = Channel((LEFT, _read(1, 0.5, 0.4), Vertical(2, 0), _read(3, 0.3, 0), RIGHT))
    result = compute(Gauging(METRIC, (channel,)))

    assert result.discharge_m3s == pytest.approx(0.5 * 0.4)
    assert result.area_m2 == pytest.approx(0.5 + 0.3)
    assert result.notes == ()


@pytest.mark.parametrize(
    ("depth", "distance", "share", "words"),
    [
        # Half a depth from the wall the table says 0.95 of the velocity one depth away, beyond
        # one depth all of it, and at the wall 0.65.
        (0.8, 0.4, 0.65 / 0.95, "0.68"),
        (0.5, 2.0, 0.65, "0.65"),
        (1.0, 0.25, 0.65 / 0.90, "0.72"),
    ],
)
def test_a_wall_note_gives_its_number(
    depth: float, distance: float, share: float, words: str
) -> None:
    """The note says by how much the wall slows the water, beside what, and who says so."""
    wall = Vertical(0, depth, edge="left", bank="steep")
    channel = Channel((wall, _read(distance, 0.8, 0.5), RIGHT))
    result = compute(Gauging(METRIC, (channel,)))

    assert math.isclose(result.verticals[0].velocity_ms, 0.5 * share)
    assert result.notes == (
        f"No velocity was read at the edge with depth at tape 0 m: it is taken as {words} of that "
        f"at tape {distance:g} m (smooth wall, USGS WSP 2175, from memory).",
    )


def test_an_undercut_bank_borrows_the_table_of_a_wall() -> None:
    """The note says that the table was not made for such a bank."""
    wall = Vertical(4, 0.5, edge="right", bank="undercut")
    channel = Channel((LEFT, _read(2, 0.8, 0.5), wall))
    [note] = compute(Gauging(METRIC, (channel,))).notes

    assert "a stand-in: this bank is undercut" in note


def test_an_angle_without_a_velocity_is_not_used() -> None:
    """At a sounding and at a wall there is nothing to take the part of, and it is said."""
    wall = Vertical(4, 0.5, edge="right", angle_coefficient=0.9)
    channel = Channel((LEFT, _read(1, 0.8, 0.5), Vertical(2, 0.5, angle=10), wall))
    notes = compute(Gauging(METRIC, (channel,))).notes

    assert "The angle at tapes 4 and 2 m is not used, as no velocity was read." in notes
