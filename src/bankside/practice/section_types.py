"""The types of section there are to practise on, from a smooth run to pocket water.

Widths lie between 1.5 and 20 m, and a person can wade them all: depth times velocity stays about
or below 1 m²/s. All figures without a source are assumed, after what small streams look like.
"""

from collections.abc import Mapping

from bankside.practice.parameters import of
from bankside.practice.section_type import EXPONENT, POINTS, TURBULENCE, WALL, SectionType

__all__ = ["SECTION_TYPES"]

_RUN = SectionType(
    name="run",
    about="A smooth run over gravel, near a parabola.",
    form="bowl",
    width=of(2.0, 15.0, "m"),
    depth=of(0.3, 0.9, "m"),
    velocity=of(0.25, 0.8, "m/s"),
)

_CANAL = SectionType(
    name="canal",
    about="A trapezoid with steep or upright banks, even and dug.",
    form="trapezoid",
    width=of(1.5, 8.0, "m"),
    depth=of(0.3, 1.0, "m"),
    velocity=of(0.2, 0.7, "m/s"),
    near_bank=of(0.0, 0.9),
    far_bank=of(0.0, 0.9),
    slope=of(0.03, 0.25),
    bed_roughness=of(0.005, 0.02),
    bed_waves=of(0.01, 0.04),
    depth_power=of(0.3, 0.6),
    tilt=of(-0.1, 0.1),
    eddy_width=of(0.0),
    velocity_roughness=of(0.02, 0.06),
    velocity_length=of(0.3, 1.5, "m"),
    angle=of(-2.0, 2.0, "°"),
    angle_deviation=of(0.2, 1.5, "°"),
    distortion=of(0.02, 0.04, source=POINTS),
    intensity=of(0.05, 0.1, source=TURBULENCE),
    softness=of(0.0, 0.03, "m"),
)

_POOL = SectionType(
    name="pool",
    about="A pool, deep and slow, with an eddy at a bank as often as not.",
    form="bowl",
    width=of(3.0, 15.0, "m"),
    depth=of(0.6, 1.2, "m"),
    velocity=of(0.05, 0.3, "m/s"),
    thalweg=of(0.3, 0.5),
    peakedness=of(0.8, 2.0),
    near_bank=of(0.0, 0.3),
    depth_power=of(0.3, 0.6),
    tilt=of(-0.3, 0.5),
    eddy_width=of(-0.15, 0.2),
    eddy_speed=of(0.05, 0.25),
    velocity_roughness=of(0.06, 0.14),
    velocity_length=of(0.3, 1.5, "m"),
    angle=of(-12.0, 12.0, "°"),
    angle_deviation=of(2.0, 8.0, "°"),
    distortion=of(0.04, 0.09, source=POINTS),
    intensity=of(0.1, 0.2, source=TURBULENCE),
    pulsation=of(0.02, 0.08),
    softness=of(0.0, 0.04, "m"),
)

_RIFFLE = SectionType(
    name="riffle",
    about="A riffle, wide, shallow and fast over coarse gravel.",
    form="bowl",
    width=of(3.0, 18.0, "m"),
    depth=of(0.12, 0.35, "m"),
    velocity=of(0.4, 1.0, "m/s"),
    thalweg=of(0.25, 0.5),
    peakedness=of(0.5, 1.2),
    bed_roughness=of(0.08, 0.16),
    bed_length=of(0.08, 0.2, "m"),
    bed_waves=of(0.08, 0.18),
    stones=of(0.1, 0.5, "1/m"),
    stone_width=of(0.08, 0.2, "m"),
    stone_height=of(0.3, 1.0),
    velocity_roughness=of(0.12, 0.22),
    velocity_length=of(0.15, 0.6, "m"),
    angle_deviation=of(3.0, 8.0, "°"),
    exponent=of(4.0, 7.0, source=EXPONENT),
    distortion=of(0.05, 0.1, source=POINTS),
    intensity=of(0.14, 0.25, source=TURBULENCE),
)

_COBBLE = SectionType(
    name="cobble bed",
    about="A run over cobbles, some of which stand out of the bed.",
    form="bowl",
    width=of(2.5, 18.0, "m"),
    depth=of(0.25, 0.7, "m"),
    velocity=of(0.3, 0.9, "m/s"),
    peakedness=of(0.9, 1.8),
    bed_roughness=of(0.08, 0.15),
    bed_length=of(0.1, 0.3, "m"),
    bed_waves=of(0.06, 0.14),
    stones=of(0.5, 1.5, "1/m"),
    stone_width=of(0.12, 0.35, "m"),
    stone_height=of(0.2, 0.8),
    stone_wake=of(0.2, 0.6),
    velocity_roughness=of(0.12, 0.22),
    velocity_length=of(0.15, 0.8, "m"),
    angle_deviation=of(3.0, 8.0, "°"),
    exponent=of(4.0, 7.0, source=EXPONENT),
    distortion=of(0.05, 0.1, source=POINTS),
    intensity=of(0.14, 0.25, source=TURBULENCE),
)

_POCKET = SectionType(
    name="pocket water",
    about="Boulders that break the surface, dead water behind them and fast water between.",
    form="bowl",
    width=of(3.0, 15.0, "m"),
    depth=of(0.3, 0.8, "m"),
    velocity=of(0.3, 0.8, "m/s"),
    peakedness=of(0.6, 1.4),
    bed_roughness=of(0.1, 0.2),
    bed_length=of(0.12, 0.4, "m"),
    bed_waves=of(0.12, 0.25),
    stones=of(0.25, 0.5, "1/m"),
    stone_width=of(0.4, 1.1, "m"),
    stone_height=of(0.4, 1.5),
    stone_wake=of(0.7, 1.15),
    eddy_width=of(-0.1, 0.12),
    velocity_roughness=of(0.22, 0.35),
    velocity_length=of(0.15, 0.8, "m"),
    angle=of(-10.0, 10.0, "°"),
    angle_deviation=of(6.0, 14.0, "°"),
    angle_length=of(0.05, 0.15),
    exponent=of(4.0, 6.0, source=EXPONENT),
    distortion=of(0.08, 0.14, source=POINTS),
    intensity=of(0.2, 0.35, source=TURBULENCE),
    pulsation=of(0.02, 0.08),
)

_UNDERCUT = SectionType(
    name="undercut bank",
    about="A bend: deepest and fastest below an undercut bank, running out on the inner side.",
    form="bowl",
    undercut=True,
    width=of(2.0, 10.0, "m"),
    depth=of(0.4, 0.9, "m"),
    velocity=of(0.2, 0.6, "m/s"),
    thalweg=of(0.12, 0.25),
    peakedness=of(1.2, 2.2),
    near_bank=of(0.5, 0.9),
    tilt=of(0.1, 0.5),
    wall=of(0.3, 0.65, source=WALL),
    bed_roughness=of(0.03, 0.08),
    velocity_roughness=of(0.06, 0.14),
    angle=of(-12.0, 12.0, "°"),
    angle_deviation=of(2.0, 6.0, "°"),
    softness=of(0.0, 0.03, "m"),
)

_BRAID = SectionType(
    name="braid",
    about="Two or three channels of unlike size with dry gravel bars between them.",
    form="braid",
    width=of(6.0, 20.0, "m"),
    depth=of(0.2, 0.6, "m"),
    velocity=of(0.3, 0.8, "m/s"),
    channels=of(2.0, 3.99),
    bars=of(0.1, 0.35),
    bed_roughness=of(0.05, 0.12),
    velocity_roughness=of(0.08, 0.18),
    angle=of(-10.0, 10.0, "°"),
    angle_deviation=of(4.0, 10.0, "°"),
    distortion=of(0.04, 0.08, source=POINTS),
    intensity=of(0.1, 0.2, source=TURBULENCE),
)

_WEED = SectionType(
    name="weed bed",
    about="A run with beds of weed in which the water all but stands.",
    form="bowl",
    width=of(2.0, 12.0, "m"),
    depth=of(0.3, 0.9, "m"),
    velocity=of(0.2, 0.6, "m/s"),
    peakedness=of(0.8, 1.8),
    weed_beds=of(1.0, 4.99),
    velocity_roughness=of(0.06, 0.16),
    distortion=of(0.06, 0.14, source=POINTS),
    intensity=of(0.1, 0.2, source=TURBULENCE),
    softness=of(0.01, 0.05, "m"),
)

_BAR = SectionType(
    name="bar and thalweg",
    about="A narrow deep thalweg beside a wide shallow bar: most of the flow in a part of it.",
    form="shelf",
    width=of(4.0, 18.0, "m"),
    depth=of(0.4, 1.0, "m"),
    velocity=of(0.25, 0.65, "m/s"),
    depth_power=of(0.5, 0.8),
    bed_roughness=of(0.02, 0.05),
    velocity_roughness=of(0.06, 0.14),
    angle=of(-10.0, 10.0, "°"),
    angle_deviation=of(2.0, 6.0, "°"),
)

SECTION_TYPES: Mapping[str, SectionType] = {
    section_type.name: section_type
    for section_type in (
        *(_RUN, _CANAL, _POOL, _RIFFLE, _COBBLE),
        *(_POCKET, _UNDERCUT, _BRAID, _WEED, _BAR),
    )
}
"""Every section type by its name."""
