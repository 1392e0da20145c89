"""Widths, area and perimeter of a section from its verticals.

A section is two sequences of equal length: `tape`, the distances of the verticals along the
tape, strictly increasing; and `depth`, the depth of water at each, never negative.  The edges
of water count as verticals.  Any length unit serves as long as it is one unit throughout; only
`froude_number` wants metres and seconds.  The order of the tape is the caller's to ensure.
"""

import math

__all__ = [
    "STANDARD_GRAVITY",
    "distance_from_last",
    "distance_to_next",
    "froude_number",
    "hydraulic_radius",
    "is_bank",
    "mean_depth",
    "panel_width",
    "panel_width_full_end",
    "panel_width_triangular",
    "section_area",
    "stretch_end",
    "trapezoid_area",
    "water_width",
    "wetted_perimeter",
]

STANDARD_GRAVITY = 9.80665  # m/s2; the standard value of 1901, exact by definition

Floats = list[float] | tuple[float, ...]


def _require_vertical(tape: Floats, i: int) -> None:
    """Refuse a section of fewer than two verticals and an index that names none of them."""
    if len(tape) < 2:
        raise ValueError("a section has at least two verticals")
    if i < 0 or i >= len(tape):
        raise IndexError("no vertical has this index")


def _require_pairs(tape: Floats, values: Floats) -> None:
    """Refuse a section of fewer than two verticals and values that do not pair with them."""
    if len(tape) < 2:
        raise ValueError("a section has at least two verticals")
    if len(values) != len(tape):
        raise ValueError("there is one value for every vertical on the tape")


def panel_width(tape: Floats, i: int) -> float:
    """Width of the panel of vertical `i`: half the distance from its left to its right neighbour.

    The first and the last panel reach half way to their one neighbour.  The widths of all panels
    add up to the distance between the first and the last vertical.

    Raises ValueError for fewer than two verticals, IndexError when there is no vertical `i`.

    Source: USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15 (inner panels); Manual of
    Standard Operating Procedures for Hydrometric Surveys in British Columbia, 1998, D.3.2 (ends).
    """
    _require_vertical(tape, i)
    return (tape[min(i + 1, len(tape) - 1)] - tape[max(i - 1, 0)]) / 2.0


def is_bank(depth: Floats, i: int) -> bool:
    """Whether vertical `i` has depth 0 and the water ends there.

    It does at either end of the section and beside a dry gap, where a neighbour has depth 0 too.
    A single vertical of depth 0 between wet ones, a stone, is no bank: the water goes on behind it.

    Raises ValueError for fewer than two verticals, IndexError when there is no vertical `i`.
    """
    _require_vertical(depth, i)
    if depth[i] > 0.0:
        return False
    if i == 0 or i == len(depth) - 1:
        return True
    return not (depth[i - 1] > 0.0 and depth[i + 1] > 0.0)


def stretch_end(depth: Floats, i: int) -> int:
    """Index of the station at which the stretch of water that begins at station `i` ends.

    The next bank (`is_bank`), or the last station.  Of two banks side by side the stretch between
    them is dry.

    Raises ValueError for fewer than two verticals, IndexError when no stretch begins at `i`.
    """
    _require_vertical(depth, i)
    last = len(depth) - 1
    if i == last:
        raise IndexError("no stretch of water begins at the last vertical")
    for j in range(i + 1, last):
        if is_bank(depth, j):
            return j
    return last


def _triangular_excess(to_bank: float, to_next: float) -> float:
    """What the triangular rule adds to the half-width of the vertical next to a bank.

    (W1 + W2/2)^2 / (2 W1) is W1/2 + W2/2 + W2^2 / (8 W1): the half-width and this excess.
    """
    return to_next * to_next / (8.0 * to_bank)


def panel_width_triangular(tape: Floats, depth: Floats, i: int) -> float:
    """Width of the panel of vertical `i` by the triangular rule of textbooks.

    Next to a bank of depth 0 (`is_bank`: an end of the section, the shore of a dry gap) the panel
    is (W1 + W2/2)^2 / (2 W1) wide, W1 being the distance to that bank and W2 the distance to the
    neighbour on the other side; the bank itself has no panel.  An end with water at it, and every
    other vertical, keep `panel_width`.  With W2 above 2 W1 the panel is wider than the water from
    the bank to half way to the next vertical.

    A vertical alone between two banks gets the excess of each over the half-width,
    W2^2/(8 W1) + W1^2/(8 W2).  No source treats this case: the sum is ours.  So are the shores of
    dry gaps, which makes two channels on one tape the sum of each alone.

    Raises ValueError for fewer than two verticals or unequal lengths, IndexError when there is no
    vertical `i`.

    Source: Subramanya, Engineering Hydrology, ch. 4, area-velocity method (from memory; confirmed
    by a worked example of the same form).
    """
    width = panel_width(tape, i)
    _require_pairs(tape, depth)
    if is_bank(depth, i):
        return 0.0
    if i == 0 or i == len(tape) - 1 or not depth[i] > 0.0:
        return width
    before, after = tape[i] - tape[i - 1], tape[i + 1] - tape[i]
    if is_bank(depth, i - 1):
        width += _triangular_excess(before, after)
    if is_bank(depth, i + 1):
        width += _triangular_excess(after, before)
    return width


def panel_width_full_end(tape: Floats, i: int) -> float:
    """Width of the panel of vertical `i` where the banks are not written down.

    The first and the last panel take the whole distance to their one neighbour, as if the bank
    were half that distance beyond; every other vertical keeps `panel_width`.  With equal spacing
    all panels are equally wide.

    Raises ValueError for fewer than two verticals, IndexError when there is no vertical `i`.

    Source: Raghunath, Hydrology, ch. 6 (constant strip, end triangles omitted).
    """
    width = panel_width(tape, i)
    if i == 0 or i == len(tape) - 1:
        return 2.0 * width
    return width


def distance_to_next(tape: Floats, i: int) -> float:
    """Distance from vertical `i` to the next one along the tape; 0 for the last.

    No panel is so wide by any method; some sheets are worked out with it.

    Raises ValueError for fewer than two verticals, IndexError when there is no vertical `i`.
    """
    _require_vertical(tape, i)
    return tape[i + 1] - tape[i] if i < len(tape) - 1 else 0.0


def distance_from_last(tape: Floats, i: int) -> float:
    """Distance from the vertical before to vertical `i` along the tape; 0 for the first.

    No panel is so wide by any method; some sheets are worked out with it.

    Raises ValueError for fewer than two verticals, IndexError when there is no vertical `i`.
    """
    _require_vertical(tape, i)
    return tape[i] - tape[i - 1] if i > 0 else 0.0


def water_width(tape: Floats, depth: Floats) -> float:
    """Width of the water surface: the stretches between neighbouring verticals, dry gaps left out.

    A dry gap is a stretch between two neighbouring verticals of depth 0.  A single vertical of
    depth 0 between wet ones is a point and takes nothing away.

    Raises ValueError for fewer than two verticals or unequal lengths.
    """
    _require_pairs(tape, depth)
    width = 0.0
    for i in range(len(tape) - 1):
        if depth[i] > 0.0 or depth[i + 1] > 0.0:
            width += tape[i + 1] - tape[i]
    return width


def trapezoid_area(tape: Floats, depth: Floats, i: int) -> float:
    """Area of water between vertical `i` and vertical `i` + 1, the bed a straight line.

    Raises ValueError for fewer than two verticals or unequal lengths, IndexError when one of the
    two verticals does not exist.
    """
    _require_pairs(tape, depth)
    if i < 0 or i + 1 >= len(tape):
        raise IndexError("no two neighbouring verticals have this index")
    return (tape[i + 1] - tape[i]) * ((depth[i] + depth[i + 1]) / 2.0)


def section_area(tape: Floats, depth: Floats) -> float:
    """Area of the section as the sum of the trapezoids between neighbouring verticals.

    It equals the sum of `panel_width` times depth for any spacing.

    Raises ValueError for fewer than two verticals or unequal lengths.
    """
    _require_pairs(tape, depth)
    area = 0.0
    for i in range(len(tape) - 1):
        area += trapezoid_area(tape, depth, i)
    return area


def wetted_perimeter(tape: Floats, depth: Floats) -> float:
    """Length of the bed and of upright banks under water.

    The bed runs straight from vertical to vertical; dry gaps are left out; a first or last
    vertical with water at it adds its depth, the face of a steep bank.

    Raises ValueError for fewer than two verticals or unequal lengths.

    Source: the definition, as in open-channel textbooks.
    """
    _require_pairs(tape, depth)
    last = len(tape) - 1
    perimeter = depth[0] + depth[last]
    for i in range(last):
        if depth[i] > 0.0 or depth[i + 1] > 0.0:
            across = tape[i + 1] - tape[i]
            down = depth[i + 1] - depth[i]
            perimeter += math.sqrt(across * across + down * down)
    return perimeter


def hydraulic_radius(area: float, perimeter: float) -> float:
    """Area of the section over its wetted perimeter.  Raises ValueError unless perimeter > 0."""
    if not perimeter > 0.0:
        raise ValueError("the wetted perimeter must be above 0")
    return area / perimeter


def mean_depth(area: float, width: float) -> float:
    """Area of the section over the width of its water surface.  Raises ValueError unless > 0."""
    if not width > 0.0:
        raise ValueError("the width must be above 0")
    return area / width


def froude_number(velocity: float, mean_depth: float) -> float:
    """Mean velocity (m/s) over the speed of a long wave in water of this mean depth (m).

    It has no unit and keeps the sign of the velocity; above 1 the flow is rapid.  Metres and
    seconds only, because gravity enters.

    Raises ValueError unless the mean depth is above 0.

    Source: the definition, as in open-channel textbooks.
    """
    if not mean_depth > 0.0:
        raise ValueError("the mean depth must be above 0")
    return velocity / math.sqrt(STANDARD_GRAVITY * mean_depth)
