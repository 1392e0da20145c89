"""The ranges that the package tells are those of the section types."""

from bankside.gauging.between_ranges import DEEPEST_M, VELOCITY_MS, WIDTH_M
from calibration.gaugings import JUDGING, cases
from calibration.ranges import MODULE, module_text


def test_ranges_are_as_written_from_the_section_types() -> None:
    """The module in the package is what the section types give now."""
    assert MODULE.read_text(encoding="utf-8") == module_text(), "run: python -m calibration.ranges"


def test_streams_that_judge_lie_within() -> None:
    """Of every type, width, deepest place and velocity as drawn lie within the ranges told."""
    for case in cases(JUDGING, 1, crews=("perfect",)):
        drawn = case.stream().drawn
        assert WIDTH_M[0] <= drawn["width"] <= WIDTH_M[1]
        assert DEEPEST_M[0] <= drawn["depth"] <= DEEPEST_M[1]
        assert VELOCITY_MS[0] <= drawn["velocity"] <= VELOCITY_MS[1]
