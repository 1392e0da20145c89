"""What is measured of plans by depths alone."""

import pytest

from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.wading import Wading
from calibration.advice import SEEDS
from calibration.advised_visit import Step
from calibration.planned_by_depths import SOUNDINGS, sounded, summary


def test_depths_are_sounded_at_equal_distances_between_the_edges() -> None:
    """Both edges, and 8 depths to the nearest mark of the tape."""
    soundings = sounded(Wading(make_stream("run", SEEDS), CAREFUL, SEEDS))
    tapes = [tape for tape, _ in soundings]

    assert len(soundings) == SOUNDINGS + 2
    step = (tapes[-1] - tapes[0]) / (SOUNDINGS + 1)
    for k, tape in enumerate(tapes):
        assert tape == pytest.approx(tapes[0] + step * k, abs=0.03)


def test_a_summary_counts_numbers_reached_and_held() -> None:
    """Of four visits three are given a number; two are at ± 8 % then, and two hold the truth."""
    good = Step(14, 900.0, 0.03, 7.5, 5.0)
    wide = Step(16, 1000.0, 0.03, 9.0, 5.0)
    wrong = Step(20, 1200.0, 0.10, 7.0, 5.0)

    row = summary([good, wide, wrong, None])

    assert row == {"plans": 75.0, "planned": 16, "plan reached": 66.7, "plan held": 66.7}
