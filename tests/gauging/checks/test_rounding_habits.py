"""Depths rounded further than the rod can be read."""

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.rounding_habits import CHECKS
from bankside.gauging.records import Channel, Gauging, Vertical

from .slip_sections import FEET, of


def _found(*depths: float, finished: bool = True) -> list[Finding]:
    rows = tuple(Vertical(float(tape), depth) for tape, depth in enumerate(depths))
    return of(CHECKS, "Rounded too coarse", Gauging(FEET, (Channel(rows),)), finished=finished)


COARSE = (0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.7, 0.65, 0.6, 0.55)


def test_depths_in_fives_are_noted() -> None:
    """All of ten end in 0 or 5, 0.05 ft of a mean of 0.625 ft being 8 %."""
    (finding,) = _found(*COARSE)

    assert (finding.severity, finding.tapes) == ("note", ())
    assert finding.found == "10 of 10 depths end in 0 or 5, read to 0.05 ft."
    assert finding.advice == "Read the rod to 0.01 ft."
    assert [t.name for t in finding.thresholds] == ["coarse_share", "coarse_count"]


def test_a_share_of_80_percent_will_do() -> None:
    """Eight of ten are silent; nine of ten are not."""
    assert _found(*COARSE[:8], 0.61, 0.57) == []
    assert len(_found(*COARSE[:9], 0.57)) == 1


def test_fives_that_are_small_beside_the_depth_are_silent() -> None:
    """0.05 ft of 1 ft is the 5 % that is told, of 1.005 ft it is less."""
    even = (0.9, 1.1, 0.85, 1.15, 0.95, 1.05, 1.0, 1.0, 1.0)
    assert len(_found(*even, 1.0)) == 1
    assert _found(*even, 1.05) == []


def test_nine_depths_are_too_few() -> None:
    """Neither while the crew is in the water nor at the end."""
    assert _found(*COARSE[:9]) == _found(*COARSE[:9], finished=False) == []
