"""How many verticals a target needs, by depths alone."""

import math
import re

import pytest

from bankside.gauging.advice_depths import section_of_depths, soundings_remark
from bankside.gauging.advice_design import HowRead
from bankside.gauging.faults import InputRefused

from .checks.sections import RULES

_HOW = HowRead.by(RULES)
_BOWL = tuple((1.2 * k, 2.4 * k / 10 * (1 - k / 10)) for k in range(1, 10))
_STONES = tuple((1.2 * k, 0.6 if k % 2 else 0.1) for k in range(1, 10))


def test_unit_discharge_goes_with_the_depth_to_five_thirds() -> None:
    """Depths of 0.5 and 0.25 m: 2^(5/3) times as much; the mean is the 0.4 m/s that is assumed."""
    section = section_of_depths([(0.0, 0.0), (2.0, 0.5), (4.0, 0.25), (6.0, 0.0)], _HOW)
    first, second, third, last = section.waters[0]

    assert second.unit_discharge / third.unit_discharge == pytest.approx(2 ** (5 / 3), rel=1e-12)
    assert first.unit_discharge == last.unit_discharge == 0.0
    # Triangle, trapeze, triangle: 0.5, 0.75 and 0.25 m² of water.
    assert section.total == pytest.approx(0.4 * 1.5, rel=1e-12)
    assert math.fsum(section.between.weights) == pytest.approx(1.0, rel=1e-12)
    assert min(section.between.weights) > 0.0  # nothing that is likely of streams is ruled out


def test_a_number_is_told_with_what_it_rests_on() -> None:
    """A smooth bowl: fewer verticals for a wider target, and what the rule set asks for."""
    numbers = []
    for target in (7.0, 12.0):
        words = soundings_remark(_BOWL, (0.0, 12.0), RULES, target=target)
        found = re.fullmatch(
            rf"For ± {target:g} % \(19 in 20\) about (\d+) verticals do, by 9 soundings alone, as "
            r"likely as not; slow pools and weed ask for more(?:; the rule set \"common-practice\" "
            r"asks for at least 20)?\.",
            words,
        )
        assert found is not None, words
        numbers.append(int(found[1]))

    assert numbers[0] > numbers[1]


def test_a_bed_of_stones_is_told_not_to_do() -> None:
    """Deep and shallow by turns."""
    words = soundings_remark(_STONES, (0.0, 12.0), RULES, target=8.0)

    assert re.match(
        r"± 8 % \(19 in 20\) is not likely here, by 9 soundings alone: 60 verticals would still ",
        words,
    )


def test_it_does_not_matter_from_which_bank_the_tape_runs() -> None:
    """The left edge may have the larger figure."""
    assert soundings_remark(_BOWL, (0.0, 12.0), RULES, target=15.0) == soundings_remark(
        _BOWL, (12.0, 0.0), RULES, target=15.0
    )


@pytest.mark.parametrize(
    ("soundings", "said"),
    [
        (_BOWL[:4], "soundings must be 5 or more (got 4)"),
        ((*_BOWL, _BOWL[0]), "soundings must stand at different tape positions (got two at 1.2 m)"),
        ((*_BOWL, (13.0, 0.2)), "the edges of water at 0 and 12 m (got 13 m)"),
        ((*_BOWL, (0.5, -0.2)), "depths must be 0 or more (got -0.2 m at tape 0.5 m)"),
        (tuple((tape, 0.0) for tape, _ in _BOWL), "must be above 0 (got none)"),
    ],
)
def test_what_is_no_set_of_soundings_is_refused(
    soundings: tuple[tuple[float, float], ...], said: str
) -> None:
    """Each with one sentence on what would be right."""
    with pytest.raises(InputRefused, match=re.escape(said)):
        soundings_remark(soundings, (0.0, 12.0), RULES, target=8.0)
