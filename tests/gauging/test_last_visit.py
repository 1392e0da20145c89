"""A gauging beside the last visit's: figures by hand, and what is asked about them."""

from typing import Any

import attrs
import pytest

from bankside.gauging.compute import compute
from bankside.gauging.last_visit import Compared, compare_with_last_visit
from bankside.gauging.records import (
    Channel,
    Gauging,
    PointReading,
    StageReading,
    Units,
    Vertical,
)

NAMES = [
    "discharge",
    "width",
    "area",
    "mean depth",
    "mean velocity",
    "largest depth",
    "stage",
    "verticals",
]


def _gauging(
    width: float = 4.0,
    depth: float = 0.5,
    velocity: float = 0.4,
    stage: float | None = None,
    units: Units = Units("m", "m/s"),  # noqa: B008 - frozen
) -> Gauging:
    """Steep banks and three verticals, all of one depth: the mean depth is that depth."""
    step = width / 4
    reading = (PointReading(velocity, 0.6),)
    bank: dict[str, Any] = {"bank": "steep", "velocity": reading}
    verticals = (
        Vertical(0.0, depth, edge="left", **bank),
        *(Vertical(step * i, depth, reading) for i in (1, 2, 3)),
        Vertical(width, depth, edge="right", **bank),
    )
    levels = () if stage is None else (StageReading(stage),)
    return Gauging(units, (Channel(verticals),), stage=levels)


def _beside(
    now: Gauging, then: Gauging, finished: bool = True, units: Units | None = None
) -> dict[str, Compared]:
    pair = (now, compute(now), then, compute(then))
    compared = compare_with_last_visit(*pair, finished=finished, units=units)
    return {one.name: one for one in compared}


def _odd(now: Gauging, then: Gauging, finished: bool = True) -> list[str]:
    return [name for name, one in _beside(now, then, finished).items() if one.odd]


def test_figures_are_in_the_units_of_the_present_gauging() -> None:
    """4 m by 0.5 m at 0.4 m/s, then; 10 ft by 2 ft at 1 ft/s, now."""
    beside = _beside(
        _gauging(10.0, 2.0, 1.0, 1.5, Units("ft", "ft/s")), _gauging(4.0, 0.5, 0.4, 0.4572)
    )

    assert list(beside) == NAMES
    metre = 1 / 0.3048
    expected = {
        "discharge": ("ft³/s", 0.8 * metre**3, 20.0),
        "width": ("ft", 4 * metre, 10.0),
        "area": ("ft²", 2 * metre**2, 20.0),
        "mean depth": ("ft", 0.5 * metre, 2.0),
        "mean velocity": ("ft/s", 0.4 * metre, 1.0),
        "largest depth": ("ft", 0.5 * metre, 2.0),
        "stage": ("ft", 1.5, 1.5),
        "verticals": ("", 5.0, 5.0),
    }
    for name, (unit, then, now) in expected.items():
        one = beside[name]
        assert (one.unit, one.then, one.now) == (
            unit,
            pytest.approx(then, rel=1e-12),
            pytest.approx(now, rel=1e-12),
        )
        assert one.difference == pytest.approx(now - then, abs=1e-12)


def test_the_words_say_both_figures_and_the_difference() -> None:
    """0.8 m³/s and 1 m³/s: a quarter more."""
    beside = _beside(_gauging(velocity=0.5, stage=1.02), _gauging(stage=1.0))

    assert beside["discharge"].words == "0.800 m³/s then, 1.00 m³/s now, 25 % more."
    assert beside["stage"].words == "1 m then, 1.02 m now, 0.02 m higher."
    assert beside["width"].words == "4.00 m then, 4.00 m now, the same."
    assert beside["verticals"].words == "5 then, 5 now."


def test_a_stage_moves_by_no_less_than_a_gauge_is_read_to() -> None:
    """0.2 mm between two means is no difference; 0.02 m are 0.07 ft."""
    still = _beside(_gauging(stage=1.0002), _gauging(stage=1.0))
    moved = _beside(
        _gauging(stage=1.02), _gauging(stage=1.0), units=Units(length="ft", velocity="ft/s")
    )

    assert still["stage"].words == "1 m then, 1.0002 m now, the same."
    assert moved["stage"].words == "3.281 ft then, 3.346 ft now, 0.07 ft higher."
    assert moved["width"].words == "13.1 ft then, 13.1 ft now, the same."


@pytest.mark.parametrize(("width", "odd"), [(4.8, False), (4.81, True), (3.2, False), (3.19, True)])
def test_a_width_a_fifth_off_is_asked_about(width: float, odd: bool) -> None:
    """20 % of 4 m is 0.8 m, either way."""
    assert _odd(_gauging(width), _gauging()) == (["width"] if odd else [])


@pytest.mark.parametrize(
    ("depth", "odd"), [(0.625, False), (0.626, True), (0.375, False), (0.374, True)]
)
def test_a_mean_depth_a_quarter_off_is_asked_about(depth: float, odd: bool) -> None:
    """25 % of 0.5 m is 0.125 m, either way."""
    assert _odd(_gauging(depth=depth), _gauging()) == (["mean depth"] if odd else [])


def test_another_stage_explains_another_width_and_depth() -> None:
    """A tenth of the mean depth of 0.5 m is 0.05 m: above that the level itself has changed."""
    wide = {"width": 6.0, "depth": 0.8}

    at_limit = _beside(_gauging(**wide, stage=1.05), _gauging(stage=1.0))
    assert [name for name, one in at_limit.items() if one.odd] == ["width", "mean depth"]
    assert "at a similar stage" in at_limit["width"].question
    assert _odd(_gauging(**wide, stage=1.06), _gauging(stage=1.0)) == []
    unknown = _beside(_gauging(**wide, stage=1.06), _gauging())
    assert "no stage tells whether the level is the same" in unknown["width"].question
    assert unknown["stage"].words == "not known then, 1.06 m now."


@pytest.mark.parametrize(
    ("ratio", "odd"),
    [
        (2.89, False),
        (2.91, True),
        (3.28, True),
        (3.69, True),
        (3.71, False),
        (0.26, False),
        (0.28, True),
        (0.3048, True),
        (0.34, True),
        (0.36, False),
        (1.0, False),
    ],
)
def test_feet_mistaken_for_metres_are_asked_about(ratio: float, odd: bool) -> None:
    """A mean velocity about 3.28 times as high or as low as it was, whatever the stage."""
    now, then = _gauging(velocity=0.4 * ratio, stage=3.0), _gauging(stage=1.0)

    assert _odd(now, then) == (["mean velocity"] if odd else [])
    if odd:
        assert "is it m/s?" in _beside(now, then)["mean velocity"].words


def test_while_readings_are_to_come_only_a_high_velocity_is_odd() -> None:
    """Half of the section is narrow and may be slow; it is hardly three times as fast."""
    then = _gauging()

    assert _odd(_gauging(width=2.0, depth=0.2, velocity=0.12), then, finished=False) == []
    assert _odd(_gauging(velocity=1.3), then, finished=False) == ["mean velocity"]
    half = _beside(_gauging(width=2.0), then, finished=False)["width"]
    assert half.words == "4.00 m then, 2.00 m so far."


def test_water_that_runs_the_other_way_is_asked_about() -> None:
    """Minus signs on every velocity are more likely a slip than a stream that turned."""
    assert _odd(_gauging(velocity=-0.4), _gauging()) == ["mean velocity"]


def test_without_a_result_what_was_read_is_still_compared() -> None:
    """Depths and the number of verticals need no discharge; what neither knows is left out."""
    now = _gauging()
    compared = compare_with_last_visit(now, None, now, None)

    assert [one.name for one in compared] == ["largest depth", "verticals"]
    one_sided = compare_with_last_visit(now, compute(now), now, None)
    assert one_sided[0].words == "not known then, 0.800 m³/s now."
    assert not any(one.odd for one in one_sided)


def test_nothing_is_odd_about_the_same_gauging() -> None:
    """A gauging beside itself."""
    made = attrs.evolve(_gauging(stage=1.2), remarks="clear and low")

    assert _odd(made, made) == []
    assert all(one.difference == 0 for one in _beside(made, made).values())
