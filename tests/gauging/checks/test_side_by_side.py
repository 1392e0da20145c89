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


_Told = Mapping[frozenset[int], Mapping[int, float]]
"""By which are left out, which are odd and how surely: what a judge says in these tests."""


def _apart(told: _Told, count: int = 10) -> list[tuple[int, float]]:
    examined = examine(section(), RULES, finished=True)
    spots = [attrs.evolve(examined.channels[0].across[1], index=i) for i in range(count)]

    def judge(among: Sequence[Spot], of: Collection[int]) -> Iterator[_Odd]:
        there = {spot.index: spot for spot in among}
        odd = told.get(frozenset(range(count)).difference(there), {})
        return (_Odd(there[i], sure) for i, sure in odd.items() if i in there and i in of)

    return [(one.spot.index, one.better) for one in told_apart(spots, judge, lambda one: True)]


def _without(*indices: int) -> frozenset[int]:
    return frozenset(indices)


def test_two_that_hid_one_another_are_told_each_without_the_other() -> None:
    """At the very beginning as well, where nothing stands on the other side; and in two places."""
    first = {_without(1): {2: 3.0}, _without(2): {1: 2.0}}
    second = {_without(7): {8: 2.5}, _without(8): {7: 4.0}}

    assert _apart({_without(): {0: 1.0}, **first}) == [(1, 2.0), (2, 3.0)]
    assert _apart({_without(): {0: 1.0, 6: 1.0}, **first, **second}) == [
        *((1, 2.0), (2, 3.0)),
        *((7, 4.0), (8, 2.5)),
    ]


def test_the_surest_two_are_heard_first() -> None:
    """3 is odd by 4 and 5, 5 by 3 and 4: the surer pair clears the 3, which accuses nobody then."""
    odd = {_without(): {3: 1.0, 4: 1.0, 5: 1.0}}
    others = {_without(1, 2): {3: 1.0}, _without(2, 3): {4: 1.0}, _without(5, 6): {4: 1.0}}
    others[_without(6, 7)] = {5: 1.0}
    alone = {_without(3): {4: 1.5}, _without(5): {4: 2.0}, _without(4): {3: 1.5, 5: 2.0}}

    assert _apart({**odd, **others, **alone}) == [(4, 2.0), (5, 2.0)]


def test_one_that_is_a_slip_by_a_surer_pair_is_cleared_by_none() -> None:
    """4 and 5 clear the 3; 6 and 7 would clear the 5, less surely."""
    odd = {_without(): {3: 1.0, 5: 1.0}, _without(1, 2): {3: 1.0}, _without(3, 4): {5: 1.0}}
    surer = {_without(4): {5: 2.0}, _without(5): {4: 2.0}}
    other = {_without(6): {7: 1.5}, _without(7): {6: 1.5}}

    assert _apart({**odd, **surer, **other}) == [(4, 2.0), (5, 2.0)]


@pytest.mark.parametrize(("sureness", "cleared"), [(1.3, True), (1.299, False)])
def test_each_of_the_two_has_to_be_sure(sureness: float, cleared: bool) -> None:
    """As sure as a slip that is to be mended: 20 times likelier otherwise."""
    slips = {_without(4): {5: 9.0}, _without(5): {4: sureness}}
    told = _apart({_without(): {3: 1.0}, _without(1, 2): {3: 1.0}, **slips})

    assert told == ([(4, sureness), (5, 9.0)] if cleared else [(3, 1.0)])


@pytest.mark.parametrize(("odd", "anew"), [(13, False), (12, True)])
def test_where_very_many_are_odd_none_is_judged_anew(odd: int, anew: bool) -> None:
    """A sheet of nonsense is told as it is, and takes no longer than a sound one."""
    examined = examine(section(), RULES, finished=True)
    spots = [attrs.evolve(examined.channels[0].across[1], index=i) for i in range(20)]
    asked: list[int] = []

    def judge(among: Sequence[Spot], of: Collection[int]) -> Iterator[_Odd]:
        asked.append(len(of))
        return (_Odd(spot) for spot in among if spot.index in of and spot.index < odd)

    assert len(told_apart(spots, judge, lambda one: True)) == odd
    assert asked[0] == len(spots) and (len(asked) > 1) is anew
