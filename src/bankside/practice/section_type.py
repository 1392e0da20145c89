"""What a type of stream section is: the ranges of all that is drawn to make one of it."""

from typing import Literal

import attrs

from bankside.practice.parameters import Range, of

__all__ = ["EXPONENT", "POINTS", "TURBULENCE", "WALL", "Form", "SectionType"]

Form = Literal["bowl", "trapezoid", "shelf", "braid"]

WALL = "USGS WSP 2175 vol. 1, about p. 82 (from memory): 0.65 at a smooth wall; less assumed"
EXPONENT = "ISO 748: 4 rough to 10 smooth, typically 5 to 7 (from memory)"
TURBULENCE = (
    "chosen so that all types together agree with the table of exposure times in ISO 748:2007 "
    "Annex E (from memory)"
)
POINTS = (
    "chosen so that all types together agree with ISO 748:2007 Annex E: 7.5 % for one point, "
    "3.5 % for two (from memory)"
)


def _about(meaning: str) -> dict[str, str]:
    return {"about": meaning}


@attrs.frozen(kw_only=True)
class SectionType:
    """A named type of section; every `Range` is one parameter, drawn anew for every stream."""

    name: str
    about: str
    form: Form
    undercut: bool = False

    width: Range = attrs.field(metadata=_about("from edge of water to edge of water"))
    depth: Range = attrs.field(metadata=_about("deepest place of the smooth shape"))
    velocity: Range = attrs.field(
        metadata=_about("mean velocity before stones, weed and eddies take their part")
    )
    thalweg: Range = attrs.field(
        default=of(0.35, 0.5), metadata=_about("where it is deepest, as a part of the width")
    )
    peakedness: Range = attrs.field(
        default=of(1.2, 2.2), metadata=_about("2 is a parabola, less is flatter in the middle")
    )
    near_bank: Range = attrs.field(
        default=of(0.0), metadata=_about("depth at the bank nearer to the thalweg / deepest")
    )
    far_bank: Range = attrs.field(
        default=of(0.0), metadata=_about("depth at the other bank / deepest")
    )
    slope: Range = attrs.field(
        default=of(0.1, 0.3), metadata=_about("width of a bank's slope / width, of a trapezoid")
    )
    trough: Range = attrs.field(
        default=of(0.2, 0.35), metadata=_about("width of the deep trough / width, beside a shelf")
    )
    shelf: Range = attrs.field(
        default=of(0.12, 0.3), metadata=_about("depth of the shelf / deepest")
    )
    channels: Range = attrs.field(
        default=of(1.0), metadata=_about("number of channels, rounded down")
    )
    bars: Range = attrs.field(
        default=of(0.0), metadata=_about("part of the width that dry bars between channels take")
    )
    bed_roughness: Range = attrs.field(
        default=of(0.02, 0.06), metadata=_about("standard deviation of the bed / deepest")
    )
    bed_length: Range = attrs.field(
        default=of(0.1, 0.4, "m"), metadata=_about("correlation length of that roughness")
    )
    bed_waves: Range = attrs.field(
        default=of(0.03, 0.1), metadata=_about("standard deviation of broad bed forms / deepest")
    )
    bed_wave_length: Range = attrs.field(
        default=of(0.1, 0.3), metadata=_about("correlation length of bed forms / width")
    )
    stones: Range = attrs.field(
        default=of(0.0, unit="1/m"), metadata=_about("stones that stand out, a metre of width")
    )
    stone_width: Range = attrs.field(
        default=of(0.1, 0.2, "m"), metadata=_about("width of such a stone")
    )
    stone_height: Range = attrs.field(
        default=of(0.3, 0.8), metadata=_about("its height / depth beside it; above 1 it is dry")
    )
    stone_wake: Range = attrs.field(
        default=of(0.3, 0.7), metadata=_about("part of the velocity that it takes away behind it")
    )
    weed_beds: Range = attrs.field(
        default=of(0.0), metadata=_about("number of weed beds, rounded down")
    )
    weed_share: Range = attrs.field(
        default=of(0.2, 0.5), metadata=_about("part of the width that weed takes, all beds")
    )
    weed_speed: Range = attrs.field(
        default=of(0.05, 0.35), metadata=_about("velocity within weed / without it")
    )
    depth_power: Range = attrs.field(
        default=of(0.4, 0.7),
        metadata=_about("mean velocity of a vertical goes with depth to this power"),
    )
    tilt: Range = attrs.field(
        default=of(-0.2, 0.3), metadata=_about("gain of velocity towards the thalweg's bank")
    )
    wall: Range = attrs.field(
        default=of(0.45, 0.65, source=WALL),
        metadata=_about("velocity at a steep bank / velocity one depth away"),
    )
    eddy_width: Range = attrs.field(
        default=of(-0.1, 0.1),
        metadata=_about("width of an eddy at a bank / width; none where below 0"),
    )
    eddy_speed: Range = attrs.field(
        default=of(0.0, 0.15), metadata=_about("how fast water runs back in it / mean velocity")
    )
    velocity_roughness: Range = attrs.field(
        default=of(0.04, 0.1),
        metadata=_about("standard deviation of mean velocities along the tape / smooth shape"),
    )
    velocity_length: Range = attrs.field(
        default=of(0.15, 1.0, "m"), metadata=_about("correlation length of these")
    )
    velocity_length_depths: Range = attrs.field(
        default=of(0.0, 1.0), metadata=_about("added to that length, in depths")
    )
    angle: Range = attrs.field(
        default=of(-6.0, 6.0, "°"), metadata=_about("mean angle of the flow to the square line")
    )
    angle_deviation: Range = attrs.field(
        default=of(1.0, 4.0, "°"), metadata=_about("standard deviation of the angle along the tape")
    )
    angle_length: Range = attrs.field(
        default=of(0.1, 0.4), metadata=_about("correlation length of the angle / width")
    )
    exponent: Range = attrs.field(
        default=of(5.0, 10.0, source=EXPONENT),
        metadata=_about("m of the vertical profile's power 1/m"),
    )
    logarithmic: Range = attrs.field(
        default=of(0.0, 1.0), metadata=_about("above 0.5 the profile is logarithmic instead")
    )
    distortion: Range = attrs.field(
        default=of(0.02, 0.06, source=POINTS),
        metadata=_about("standard deviation of a vertical's profile from it / mean velocity"),
    )
    intensity: Range = attrs.field(
        default=of(0.07, 0.14, source=TURBULENCE),
        metadata=_about("turbulence: standard deviation in time / mean velocity"),
    )
    turnover: Range = attrs.field(
        default=of(0.7, 1.5, source=TURBULENCE),
        metadata=_about("integral time scale of turbulence × velocity / depth"),
    )
    pulsation: Range = attrs.field(
        default=of(0.005, 0.03), metadata=_about("slow pulsation: standard deviation / velocity")
    )
    pulsation_time: Range = attrs.field(
        default=of(5.0, 25.0, "s"), metadata=_about("integral time scale of slow pulsation")
    )
    softness: Range = attrs.field(
        default=of(0.0, 0.005, "m"), metadata=_about("how far a rod sinks in that is leant on")
    )
