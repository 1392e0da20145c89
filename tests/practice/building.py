"""A section type without anything that is rough, bent or turned."""

from typing import Any

import attrs

from bankside.practice.parameters import of
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES


def plain(**changes: Any) -> SectionType:
    """A run of 10 m by 0.6 m with 0.5 m/s everywhere and a power law of 1/6; or as changed."""
    nothing = dict.fromkeys(
        (
            *("bed_roughness", "bed_waves", "velocity_roughness", "tilt", "eddy_width"),
            *("depth_power", "distortion", "angle", "angle_deviation", "logarithmic", "softness"),
        ),
        of(0.0),
    )
    sizes = {
        "width": of(10.0, unit="m"),
        "depth": of(0.6, unit="m"),
        "velocity": of(0.5, unit="m/s"),
        "exponent": of(6.0),
    }
    return attrs.evolve(SECTION_TYPES["run"], name="plain", **(nothing | sizes | changes))
