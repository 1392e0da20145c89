"""Two slips side by side: they are named, and the sound readings beside them are not."""

from collections.abc import Collection, Iterator, Mapping, Sequence

import attrs
import pytest

from bankside.gauging.checks import depth_slips, velocity_slips
from bankside.gauging.checks.examined import Spot, examine
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.side_by_side import told_apart

from .slip_sections import METRIC, RULES, VELOCITIES, changed, of, section

_TAPES = [float(i) for i in range(17)]
_DEPTHS = [0.0, 0.42, 0.71, 0.88, 0.93, 0.97, 1.02, 1.07, 1.13, 1.08, 1.04, 0.98, 0.93, 0.74, 0.47]
_DEPTHS += [0.3, 0.0]


@attrs.frozen
class _Odd:
    spot: Spot
    better: float = 2.0


def _velocities(written: Mapping[int, float]) -> list[Finding]:
    made = section(velocities=changed(VELOCITIES, written))
    return of(velocity_slips.CHECKS, "Velocity looks misread", made)


def _depths(written: Mapping[int, float]) -> list[Finding]:
    made = section(_TAPES, changed(_DEPTHS, written), [1.0] * len(_TAPES))
    return of(depth_slips.CHECKS, "Depth looks misread", made)


@pytest.mark.parametrize("written", [{4: 11.6, 5: 6.2}, {4: 6.2, 5: 11.6}, {4: 11.6, 5: 12.4}])
def test_two_velocities_that_slipped_are_named_and_none_beside_them(
    written: Mapping[int, float],
) -> None:
    """1.04 and 1.19 on either side are odd by these two alone; 6.2 was hidden by 11.6."""
    found = _velocities(written)

    assert [(f.tapes, f.instead) for f in found] == [
        ((tape,), float(f"{written[place] / 10:.3g}")) for tape, place in ((6.0, 4), (7.0, 5))
    ]
    assert {f.severity for f in found} == {"explain"}


def test_two_depths_that_slipped_are_named_and_none_beside_them() -> None:
    """10.7 for 1.07 and 11.3 for 1.13 ft, among depths of about 1 ft."""
    assert [(f.tapes, f.instead) for f in _depths({7: 10.7, 8: 11.3})] == [
        ((7.0,), 1.07),
        ((8.0,), 1.13),
    ]


def test_two_that_may_be_the_bed_clear_nobody() -> None:
    """0.024 for 0.24 m beside the bank: the 0.21 and 0.24 before it are odd, and no slips."""
    depths = [0.0, 0.12, 0.16, 0.15, 0.16, 0.14, 0.15, 0.21, 0.24, 0.024, 0.0]

    found = of(depth_slips.CHECKS, "Depth looks misread", section(depths=depths, units=METRIC))

    assert (11.0,) in [f.tapes for f in found]


def test_two_beside_which_it_is_odd_all_the_same_clear_nothing() -> None:
    """Three in a row: 0.107 fits neither 10.4 and 11.3 beside it nor 0.97 and 1.02 behind them."""
    assert (9.0,) in [f.tapes for f in _depths({7: 10.4, 8: 11.3, 9: 0.107})]


def test_two_sound_ones_beside_three_that_slipped_are_not_taken_for_the_slips() -> None:
    """9.3, 9.7 and 10.2 bear one another out: without 0.71 and 0.88 the 9.3 looks sound."""
    tapes = [f.tapes for f in _depths({4: 9.3, 5: 9.7, 6: 10.2})]

    assert (4.0,) in tapes and (2.0,) not in tapes


def test_where_very_many_are_odd_none_is_judged_anew() -> None:
    """A sheet of nonsense is told as it is, and takes no longer than a sound one."""
    examined = examine(section(), RULES, finished=True)
    spots = [attrs.evolve(examined.channels[0].across[1], index=i) for i in range(20)]
    asked: list[int] = []

    def judge(among: Sequence[Spot], of: Collection[int]) -> Iterator[_Odd]:
        asked.append(len(of))
        return (_Odd(spot) for spot in among if spot.index in of)

    assert len(told_apart(spots, judge, lambda one: True)) == len(spots)
    assert asked == [len(spots)]
