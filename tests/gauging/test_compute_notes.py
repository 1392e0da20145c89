"""What a result says of itself: angles, triangular panels, cancelling, overlaps, the rating."""

from typing import Any

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.records import (
    Channel,
    Gauging,
    Meter,
    PointReading,
    RatingPart,
    Units,
    Vertical,
)

METRIC = Units("m", "m/s")
LEFT, RIGHT = Vertical(0, 0, edge="left"), Vertical(4, 0, edge="right")


def _read(tape: float, depth: float, velocity: float, **fields: Any) -> Vertical:
    return Vertical(tape, depth, (PointReading(velocity, 0.6),), **fields)


def _gauging(*verticals: Vertical) -> Gauging:
    return Gauging(METRIC, (Channel(verticals),))


def _notes_with(words: str, notes: tuple[str, ...]) -> list[str]:
    return [note for note in notes if words in note]


def test_an_angle_that_was_applied_is_said_once() -> None:
    """One note for all verticals, each with its angle or coefficient; square ones are left out."""
    result = compute(
        _gauging(
            LEFT,
            _read(1, 0.5, 0.4, angle=10),
            _read(2, 0.5, 0.4, angle=0),
            _read(2.5, 0.5, 0.4, angle_coefficient=1),
            _read(3, 0.5, 0.4, angle_coefficient=0.97),
            RIGHT,
        )
    )

    assert result.notes == (
        "Of the velocity at tapes 1 m (10°) and 3 m (coefficient 0.97) only the part square to the "
        "section counts.",
    )


@pytest.mark.parametrize(("angle", "asked"), [(45, 0), (-46, 1), (85, 1)])
def test_a_wide_angle_is_asked_about(angle: float, asked: int) -> None:
    """Beyond 45° the angle may have been read from the tape instead of from its normal."""
    result = compute(_gauging(LEFT, _read(2, 0.5, 0.4, angle=angle), RIGHT))

    assert len(_notes_with("Was the angle at tape 2 m measured from the tape?", result.notes)) == (
        asked
    )


def test_a_triangular_panel_wider_than_the_water_is_noted() -> None:
    """With W2 above 2 W1 the panel is wider than the way from the bank half way to the next."""
    # W1 = 0.05, W2 = 0.8: (0.05 + 0.4)² / 0.1 = 2.025 m for 0.45 m of water.
    verticals = (
        LEFT,
        _read(0.05, 0.1, 0.2),
        _read(0.85, 0.5, 0.5),
        _read(1.65, 0.5, 0.5),
        Vertical(2.45, 0, edge="right"),
    )
    result = compute(_gauging(*verticals), edge_rule="triangular")

    assert result.panels[1].width_m == pytest.approx(2.025)
    [note] = _notes_with("wide", result.notes)
    assert note.startswith("By the triangular rule the panel at tape 0.05 m is 2.025 m wide, more")
    assert "than the 0.45 m of water" in note
    assert _notes_with("wide", compute(_gauging(*verticals)).notes) == []


@pytest.mark.parametrize(("first", "noted"), [(1.0, 0), (0.99, 1)])
def test_a_triangular_panel_may_be_twice_as_far_from_the_next(first: float, noted: int) -> None:
    """At W2 = 2 W1 the panel is just as wide as the water that it stands for."""
    verticals = (LEFT, _read(first, 0.5, 0.4), _read(3, 0.5, 0.4), _read(5, 0.5, 0.4))
    edge = Vertical(8, 0, edge="right")
    result = compute(_gauging(*verticals, edge), edge_rule="triangular")

    assert len(_notes_with("wide", result.notes)) == noted


def test_a_vertical_alone_between_banks_is_noted_when_its_panel_leaves_the_water() -> None:
    """0.2 m from one bank, 3.8 m from the other: 2 + 3.8²/1.6 + 0.2²/30.4 m in 4 m of water."""
    result = compute(_gauging(LEFT, _read(0.2, 0.5, 0.4), RIGHT), edge_rule="triangular")

    assert result.panels[1].width_m == pytest.approx(2 + 3.8**2 / 1.6 + 0.2**2 / 30.4)
    [note] = _notes_with("wide", result.notes)
    assert "more than the 4 m of water" in note


def test_the_mean_velocity_of_triangular_panels_is_over_their_area() -> None:
    """With 0.5 m/s throughout it is 0.5 m/s, though the panels are larger than the section."""
    verticals = [LEFT, *(_read(x, 0.5, 0.5) for x in (1, 2, 3)), RIGHT]
    result = compute(_gauging(*verticals), edge_rule="triangular")

    # Panels 1.125, 1 and 1.125 m wide, against trapezoids of 1.5 m² in all.
    assert result.discharge_m3s == pytest.approx(3.25 * 0.5 * 0.5)
    assert result.area_m2 == pytest.approx(1.5)
    assert result.mean_velocity_ms == pytest.approx(0.5)
    [note] = result.notes
    assert note.startswith("The triangular rule's panels have 8.3 % more area than the section")


def test_channels_are_the_same_on_one_tape_by_every_rule() -> None:
    """Dry ground between two channels parts them, by the triangular rule as by the others."""
    one = (LEFT, _read(1, 0.5, 0.4), _read(2, 0.6, 0.5))
    other = (_read(6, 0.5, 0.3), _read(6.5, 0.4, 0.3), Vertical(8, 0, edge="right"))
    on_one_tape = compute(_gauging(*one, Vertical(4, 0), Vertical(5, 0), *other), "mid-section")
    triangular = compute(
        _gauging(*one, Vertical(4, 0), Vertical(5, 0), *other), edge_rule="triangular"
    )
    apart = Gauging(
        METRIC, (Channel((*one, RIGHT)), Channel((Vertical(5, 0, edge="left"), *other)))
    )

    for result, rule in ((on_one_tape, "half-width"), (triangular, "triangular")):
        both = compute(apart, edge_rule=rule)  # type: ignore[arg-type]
        for name in ("discharge_m3s", "area_m2", "width_m", "wetted_perimeter_m"):
            assert getattr(result, name) == pytest.approx(getattr(both, name), rel=1e-14)


def test_panels_that_cancel_have_no_shares() -> None:
    """0.1 × 3 is not 0.3 to the last bit: the total is 0, not what rounding left of it."""
    verticals = (_read(1, 0.1, 0.3), _read(2, 0.3, -0.1))
    result = compute(_gauging(LEFT, *verticals, Vertical(3, 0, edge="right")))

    assert 0.1 * 0.3 + 0.3 * -0.1 == 0
    skew = compute(
        _gauging(LEFT, _read(1, 0.1, 0.3), _read(2, 0.1, 0.6), _read(3, 0.9, -0.1), RIGHT)
    )
    assert 0.1 * 0.3 + 0.1 * 0.6 + 0.9 * -0.1 != 0
    for cancelling in (result, skew):
        assert cancelling.discharge_m3s == 0
        assert cancelling.mean_velocity_ms == 0
        assert [channel.discharge_m3s for channel in cancelling.channels] == [0]
        assert {panel.share for panel in cancelling.panels} == {None}
        assert _notes_with("The panels cancel", cancelling.notes)


@pytest.mark.parametrize(("back", "shared"), [(-0.3984, True), (-0.3996, False)])
def test_nearly_cancelling_panels_have_no_shares(back: float, shared: bool) -> None:
    """Two thousandths of the amounts can be shared out, half a thousandth cannot."""
    # 0.2 m³/s one way; 0.1992 or 0.1998 m³/s the other.
    verticals = (_read(1, 0.5, 0.4), _read(2, 0.5, back), Vertical(3, 0, edge="right"))
    result = compute(_gauging(LEFT, *verticals))

    assert result.discharge_m3s == pytest.approx(0.5 * (0.4 + back))
    assert [panel.share is not None for panel in result.panels] == [shared] * 4
    assert bool(_notes_with("The panels cancel", result.notes)) is not shared


def test_no_water_that_moves_does_not_cancel() -> None:
    """Standing water has no shares either, but nothing cancels in it."""
    assert compute(_gauging(LEFT, _read(2, 0.5, 0), RIGHT)).notes == ()


def test_channels_over_one_another_are_noted() -> None:
    """Where two channels have water at one tape position it may be counted twice."""
    one = Channel((LEFT, _read(1, 0.5, 0.4), Vertical(3, 0, edge="right")))
    over = Channel((Vertical(2.5, 0, edge="left"), _read(3, 0.5, 0.4), RIGHT))
    beyond = Channel((Vertical(3, 0, edge="left"), _read(3.5, 0.5, 0.4), RIGHT))
    gap = Channel(
        (LEFT, _read(1, 0.5, 0.4), Vertical(2, 0), Vertical(5, 0), _read(6, 1, 1), Vertical(7, 0))
    )

    [note] = compute(Gauging(METRIC, (one, over))).notes
    assert note.startswith(
        "Channels 1 and 2 have water at the same tape positions, first from 2.5 to 3 m"
    )
    assert compute(Gauging(METRIC, (one, beyond))).notes == ()
    assert _notes_with("same tape positions", compute(Gauging(METRIC, (gap, over))).notes) == []
    [note] = compute(Gauging(METRIC, (one, over, one))).notes
    assert note.startswith("Channels 1, 2 and 3 have water")


def test_dry_ground_inside_a_channel_is_noted() -> None:
    """Two dry verticals side by side are an island or a bar, and it is said where."""
    stone = Channel((LEFT, _read(1, 0.5, 0.4), Vertical(2, 0), _read(3, 0.5, 0.4), RIGHT))
    island = Channel(
        (LEFT, _read(1, 0.5, 0.4), Vertical(2, 0), Vertical(3, 0), _read(3.5, 0.5, 0.4), RIGHT)
    )

    assert compute(Gauging(METRIC, (stone,))).notes == ()
    assert compute(Gauging(METRIC, (island,))).notes == (
        "The ground from 2 to 3 m is dry, with water on both sides: an island or a bar.",
    )


@pytest.mark.parametrize(
    ("intercept", "noted"),
    # At 1 revolution a second the first line gives 0.5 m/s.
    [(0.02, 0), (0.029, 0), (0.031, 1), (0.009, 1)],
)
def test_lines_of_a_rating_that_do_not_meet_are_noted(intercept: float, noted: int) -> None:
    """More than 2 % apart at the change, and counts read: somebody should look at the rating."""
    counted = Vertical(2, 0.5, (PointReading(fraction=0.6, seconds=40, counts=20),))
    meter = Meter(rating=(RatingPart(0.48, 0.02, up_to=1), RatingPart(0.48, intercept)))
    result = compute(Gauging(METRIC, (Channel((LEFT, counted, RIGHT)),), meter=meter))
    unused = Gauging(METRIC, (Channel((LEFT, _read(2, 0.5, 0.4), RIGHT)),), meter=meter)

    assert len(_notes_with("at 1 rev/s, where they change", result.notes)) == noted
    assert compute(unused).notes == ()
