"""Where a vertical is to be added."""

from typing import Any

import attrs
import pytest

from bankside.gauging.checks.adding import add, carried, half_way, largest_gaps
from bankside.gauging.checks.examined import Examined, examine
from bankside.gauging.records import Meter, Units

from .sections import FEET, METRIC, RULES, even, gauging, read


def _examined(units: Units = FEET, finished: bool = True, **changed: object) -> Examined:
    return examine(gauging(*even(**changed), units=units), RULES, finished=finished)


@pytest.mark.parametrize(
    ("low", "high", "place"),
    [
        (3.0, 4.0, 3.5),
        (3.0, 4.06, 3.5),
        (1.05, 1.65, 1.35),  # on 1.3 or 1.4 it would be 0.25 ft from one of them
        (1.05, 1.64, None),  # 0.29 ft is too close to any
        (-4.0, -3.0, -3.5),
    ],
)
def test_half_way_on_a_mark_and_not_too_close(low: float, high: float, place: float | None) -> None:
    """A mark of 0.1 ft, a finer reading where that would be too close, or none at all."""
    assert half_way(_examined(), low, high) == place


@pytest.mark.parametrize(
    ("rotor", "gap", "place"),
    [("large", 1.0, 3.5), ("large", 0.98, None), ("small", 0.98, 3.5), (None, 0.98, 3.5)],
)
def test_a_large_rotor_needs_more_room(rotor: Any, gap: float, place: float | None) -> None:
    """HYDRO21676, p. 31: 0.5 ft apart with the large rotating meter, 0.3 ft with the small one."""
    made = attrs.evolve(gauging(*even()), meter=Meter(rotor=rotor))
    examined = examine(made, RULES, finished=True)
    assert half_way(examined, 3.0, 3.0 + gap) == place
    words = add(examined, (), (3.0,))
    assert f"closer than {0.5 if rotor == 'large' else 0.3} ft to another" in words


def test_metric_tapes_are_called_to_five_centimetres() -> None:
    """0.3 ft is 0.0914 m: 0.2 m have room for one between, 0.18 m have not."""
    examined = _examined(METRIC)

    assert half_way(examined, 1.0, 1.2) == 1.1
    assert half_way(examined, 1.0, 1.34) == 1.15
    assert half_way(examined, 1.0, 1.18) is None


def test_gaps_are_halved_one_after_the_other() -> None:
    """Between the two fastest first, then to either side of them: 8 a foot, halved, and 4.5."""
    fast = {"v7": {"velocity": 8.0}, "v8": {"velocity": 8.0}}
    examined = examine(gauging(*even(gap=2.0, **fast)), RULES, finished=True)
    (channel,) = examined.channels

    assert largest_gaps(examined, channel, 1) == (15.0,)
    assert largest_gaps(examined, channel, 3) == (13.0, 15.0, 17.0)


def test_the_widest_gap_before_shares_are_known() -> None:
    """Unfinished, only distances are known."""
    verticals = [*even()[:5], *even()[6:9]]
    examined = examine(gauging(*verticals), RULES, finished=False)

    assert largest_gaps(examined, examined.channels[0], 1) == (5.0,)


def test_what_was_added_is_halved_on_either_side() -> None:
    """10 ft halved are 5 ft twice: both come before the gap of 4 ft beside them."""
    examined = examine(gauging(read(0.0), read(10.0), read(14.0)), RULES, finished=False)

    assert largest_gaps(examined, examined.channels[0], 3) == (2.5, 5.0, 7.5)


def test_of_equal_gaps_the_first_along_the_tape() -> None:
    """All are 1 m wide, and nothing else is known yet."""
    examined = _examined(METRIC, finished=False)

    assert largest_gaps(examined, examined.channels[0], 1) == (0.5,)


def test_what_runs_between_two_verticals() -> None:
    """1 m wide, 1 m deep, 1 and 3 m/s at its ends: 2 m³/s; the width alone before the end."""
    fast = {"v3": {"velocity": 3.0}}
    for finished, runs in ((True, 2.0), (False, 1.0)):
        across = _examined(METRIC, finished, **fast).channels[0].across
        assert carried(across[2], across[3]) == pytest.approx(runs)


def test_the_advice_names_every_place() -> None:
    """One vertical, or several."""
    assert add(_examined(), (3.5,), ()) == "Add a vertical at tape 3.5 ft"
    assert add(_examined(), (3.5, 5.5), ()) == "Add verticals at tapes 3.5 and 5.5 ft"
