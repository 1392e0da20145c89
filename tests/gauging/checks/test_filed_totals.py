"""What a sheet carries, held against its readings."""

from collections.abc import Sequence
from itertools import accumulate

import pytest

from bankside.gauging.records import Channel, Filed, FiledPanel, Gauging, Units, Vertical

from .sections import FEET, METRIC, at_tapes, even, found, gauging, left, read, right

ADD_UP = "Widths do not add up"
GAPS = "Width column looks like gaps"
TOTALS = "Two totals disagree"


def _with_widths(
    verticals: Sequence[Vertical], widths: Sequence[float | None], total: float | None = None
) -> Gauging:
    panels = tuple(FiledPanel(0, i, width) for i, width in enumerate(widths) if width is not None)
    return gauging(*verticals, filed=Filed(discharge=total, unit="ft3/s", panels=panels))


def _even_widths(last: float = 1.0) -> list[float | None]:
    """The panel widths of 24 even verticals 1 ft apart, the last inner one changed."""
    return [0.5, *[1.0] * 23, last, 0.5]


@pytest.mark.parametrize(("last", "count"), [(1.0, 0), (1.1, 0), (1.12, 0), (1.2, 1), (0.8, 1)])
def test_widths_against_the_distance_of_the_edges(last: float, count: int) -> None:
    """Of 25 ft the larger limit is 0.5 %, 0.125 ft."""
    made = _with_widths(even(), _even_widths(last))

    assert len(found(ADD_UP, made)) == count
    assert found(ADD_UP, made, finished=False) == []


@pytest.mark.parametrize(
    ("gap", "count", "more", "told"),
    [
        (1.0, 9, 0.09, 0),
        (1.0, 9, 0.1, 0),
        (1.0, 9, 0.13, 1),
        (4.0, 24, 0.45, 0),
        (4.0, 24, 0.5, 0),
        (4.0, 24, 0.6, 1),
    ],
)
def test_the_larger_of_two_limits_counts(gap: float, count: int, more: float, told: int) -> None:
    """In 10 ft 0.1 ft is more than 0.5 %, which is 0.05 ft; in 100 ft 0.5 % is, 0.5 ft."""
    widths = [gap / 2, *[gap] * (count - 1), gap + more, gap / 2]

    assert len(found(ADD_UP, _with_widths(even(count, gap), widths))) == told


def test_rounded_widths_add_up() -> None:
    """Panels of 1.05 ft written as 1.1 each make 1.2 ft too much in all, and are right."""
    tapes = [0.0]
    for i in range(25):
        tapes.append(round(tapes[-1] + (1.0 if i % 2 else 1.1), 1))

    made = _with_widths(at_tapes(tapes), [0.6, *[1.1] * 24, 0.6])

    assert found(ADD_UP, made) == []


def test_widths_that_are_gaps_add_up_too() -> None:
    """Distances to the next, 69 ft in all; the last, 4 ft, is no panel of 4.5 ft rounded."""
    tapes = [*(5.0 * i for i in range(14)), 69.0]

    assert found(ADD_UP, _with_widths(at_tapes(tapes), [*[5.0] * 13, 4.0, None])) == []


def test_a_missing_width_is_named() -> None:
    """Where a row has no width, that row is pointed at."""
    widths = _even_widths()
    widths[1] = widths[24] = None

    (finding,) = found(ADD_UP, _with_widths(even(), widths))

    assert (finding.severity, finding.tapes) == ("explain", (1.0, 24.0))
    assert finding.advice == (
        "Look for a width at tapes 1 and 24 ft and for a wrong edge: tapes 0 and 25 ft."
    )
    assert finding.found == (
        "The filed widths add up to 23 ft, but the edges at tapes 0 and 25 ft are 25 ft apart."
    )


def test_a_missing_row_or_a_wrong_edge_is_looked_for() -> None:
    """Widths for all that is written, on a tape that begins at 10 ft: one row was left out."""
    tapes = [10.0 + i for i in range(26)]
    assert found(ADD_UP, _with_widths(at_tapes(tapes), _even_widths())) == []

    (finding,) = found(ADD_UP, _with_widths(at_tapes(tapes), _even_widths(2.0)))

    assert finding.found.endswith(
        "up to 26 ft, but the edges at tapes 10 and 35 ft are 25 ft apart."
    )
    assert finding.advice == (
        "Look for a row that is missing and for a wrong edge: tapes 10 and 35 ft."
    )
    assert finding.tapes == (10.0, 35.0)
    names = [threshold.name for threshold in finding.thresholds]
    assert names == ["width_difference_share", "width_difference"]


def test_with_its_half_strips_a_width_may_not_be_missing() -> None:
    """The edges have theirs, 0.5 ft each: 24 ft for 25 ft is a width too few."""
    widths = _even_widths()
    widths[12] = None

    assert [f.tapes for f in found(ADD_UP, _with_widths(even(), widths))] == [(12.0,)]


@pytest.mark.parametrize(
    ("verticals", "widths", "count"),
    [
        ([left(), read(1.0), right(2.0)], [None, 5.0, None], 0),
        ([left(), read(1.0), right(2.0)], [None, 5.0, 5.0], 1),
        ([left(), right(2.0)], [5.0, 5.0], 1),
        ([read(1.0), read(2.0), read(3.0)], [5.0, 5.0, 5.0], 0),
        ([left(), read(2.0), read(3.0)], [5.0, 5.0, 5.0], 0),
    ],
)
def test_two_widths_between_two_edges_are_enough(
    verticals: list[Vertical], widths: list[float | None], count: int
) -> None:
    """A single width is no column, and where the water goes on nothing says how far."""
    assert len(found(ADD_UP, _with_widths(verticals, widths))) == count


def test_one_channel_hides_nothing_of_the_next() -> None:
    """The first has no widths, the second right ones; those of the third do not add up."""
    channels = tuple(Channel((left(), read(1.0), right(2.0))) for _ in range(3))
    panels = (FiledPanel(1, 0, 0.5), FiledPanel(1, 1, 1.0), FiledPanel(1, 2, 0.5))
    wrong = tuple(FiledPanel(2, i, 5.0) for i in range(3))
    filed = Filed(panels=(*panels, *wrong))

    findings = found(ADD_UP, Gauging(FEET, channels, filed=filed))
    assert [f.channel for f in findings] == [2]


def test_half_strips_at_the_edges_may_be_left_out() -> None:
    """Nothing flows in them; 24 widths of 1 ft are right for 25 ft."""
    assert found(ADD_UP, _with_widths(even(), [None, *[1.0] * 24, None])) == []


UNEVEN = [-0.2, 1.0, 2.0, 3.0, 5.0, 7.0, 8.2]
"""Between edges five verticals of depth 1 ft; the panels are 1.1, 1, 1.5, 2 and 1.6 ft wide."""
TO_NEXT = [1.2, 1.0, 1.0, 2.0, 2.0, 1.2, 0.0]


def test_a_width_column_of_gaps_shows_both_totals() -> None:
    """Distances to the next: 1, 1, 2, 2, 1.2 ft, but the fast panel at 3 ft is 1.5 ft wide.

    With velocities 1 and 3 at 3 ft: 1 + 1 + 2 × 3 + 2 + 1.2 = 11.2 ft³/s against
    1.1 + 1 + 1.5 × 3 + 2 + 1.6 = 10.2 ft³/s. In inches a twelfth of that; in metres the same
    figures in m³/s.
    """
    verticals = at_tapes(UNEVEN, {3.0: {"velocity": 3.0}})

    (finding,) = found(GAPS, _with_widths(verticals, TO_NEXT))

    assert finding.severity == "explain"
    assert finding.found == (
        "The filed widths are the distance to the next vertical: with them the discharge is 11.20 "
        "ft³/s, with the widths of the panels 10.20 ft³/s."
    )
    assert [threshold.name for threshold in finding.thresholds] == ["totals_difference"]
    filed = Filed(panels=tuple(FiledPanel(0, i, w) for i, w in enumerate(TO_NEXT)))
    for units, theirs in ((METRIC, "11.20 m³/s"), (Units("in", "ft/s", "ft"), "0.9333 ft³/s")):
        (finding,) = found(GAPS, gauging(*verticals, units=units, filed=filed))
        assert f"with them the discharge is {theirs}, " in finding.found


def test_gaps_either_way_are_both_told() -> None:
    """Distances to the next up to 10 ft, from the last beyond: each holds but at one wide gap."""
    gaps = [1.0] * 5 + [2.4] + [1.0] * 6 + [2.4] + [1.0] * 5
    tapes = [0.0, *accumulate(gaps)]

    (finding,) = found(GAPS, _with_widths(at_tapes(tapes), [*gaps[:10], *gaps[9:]]))

    assert finding.found.startswith(
        "The filed widths are the distance to the next vertical or the distance from the last "
        "vertical: with them "
    )


def test_before_there_is_a_discharge_a_width_column_says_nothing() -> None:
    """Unfinished, or with a depth still missing."""
    verticals = at_tapes(UNEVEN, {3.0: {"velocity": 3.0}})
    widths = TO_NEXT
    assert found(GAPS, _with_widths(verticals, widths), finished=False) == []

    verticals[3] = read(3.0, velocity=3.0)
    verticals[3] = Vertical(3.0, None, verticals[3].velocity)
    assert found(GAPS, _with_widths(verticals, widths)) == []


@pytest.mark.parametrize(
    ("velocity", "severity"), [(1.0, "note"), (1.1476, "note"), (1.155, "explain")]
)
def test_gaps_that_move_the_total_by_a_percent(velocity: float, severity: str) -> None:
    """5.2 + 2 v against 5.7 + 1.5 v: 0.994 % apart with 1.1476, 1.04 % with 1.155."""
    verticals = at_tapes(UNEVEN, {3.0: {"velocity": velocity}})
    made = _with_widths(verticals, TO_NEXT)

    assert [f.severity for f in found(GAPS, made)] == [severity]


def test_gaps_that_move_the_total_by_a_percent_to_the_digit() -> None:
    """1 + 1 + 2 × 1.2 + 2 × 2.25 + 1.2 = 10.1 against 1.1 + 1 + 1.5 × 1.2 + 4.5 + 1.6 = 10."""
    verticals = at_tapes(UNEVEN, {3.0: {"velocity": 1.2}, 5.0: {"velocity": 2.25}})

    (finding,) = found(GAPS, _with_widths(verticals, TO_NEXT))
    assert (finding.severity, "10.10 ft³/s" in finding.found) == ("note", True)


@pytest.mark.parametrize("units", [FEET, METRIC])
def test_whole_widths_that_are_the_gaps_are_gaps_in_every_unit(units: Units) -> None:
    """Panels of 0.5 and 1.5 lie half a unit off all the way, which speaks for no rounding."""
    filed = Filed(panels=tuple(FiledPanel(0, i, w) for i, w in enumerate((1, 1, 1, 2, 2, 1, 0))))
    verticals = at_tapes([0.0, *UNEVEN[1:-1], 8.0], {3.0: {"velocity": 3.0}})

    assert len(found(GAPS, gauging(*verticals, units=units, filed=filed))) == 1


def test_panel_widths_are_no_gaps() -> None:
    """Neither the right widths nor an even spacing, which does not tell, is spoken of."""
    right_ones = _with_widths(at_tapes(UNEVEN), [0.6, 1.1, 1.0, 1.5, 2.0, 1.6, 0.6])

    assert found(GAPS, right_ones) == []
    assert found(GAPS, _with_widths(even(), [1.0] * 26)) == []


@pytest.mark.parametrize(
    ("total", "count"), [(24.0, 0), (24.2, 0), (23.8, 0), (24.3, 1), (23.7, 1)]
)
def test_a_total_off_by_more_than_a_percent(total: float, count: int) -> None:
    """24 panels of 1 ft³/s: 24.2 is 0.8 % off, 24.3 is 1.2 % off."""
    made = gauging(*even(), filed=Filed(discharge=total, unit="ft3/s"))

    findings = found(TOTALS, made)

    assert [f.severity for f in findings] == ["explain"] * count
    assert all(f.advice.startswith("Look at the sheet's arithmetic, and ") for f in findings)
    assert all([t.name for t in f.thresholds] == ["totals_difference"] for f in findings)
    assert found(TOTALS, made, finished=False) == []


def test_the_verticals_that_make_the_difference_are_named() -> None:
    """One product of 2 instead of 1 makes the total 25."""
    products = [0.0, *[1.0] * 24, 0.0]
    products[9] = 2.0
    panels = tuple(FiledPanel(0, i, discharge=q) for i, q in enumerate(products))
    made = gauging(*even(), filed=Filed(discharge=25.0, unit="ft3/s", panels=panels))

    (finding,) = found(TOTALS, made)

    assert finding.tapes == (9.0,)
    assert "24.00 ft³/s, 4 % less; the vertical at tape 9" in finding.found
    assert finding.advice.startswith("Look at the products filed at tape 9 ft")


def test_the_three_largest_differences_are_named() -> None:
    """Along the tape, whichever is the largest; the smallest of four is left to the arithmetic."""
    products = [0.0, *[1.0] * 24, 0.0]
    products[3], products[9], products[12], products[15] = 1.5, 2.0, 0.1, 3.0
    panels = tuple(FiledPanel(0, i, discharge=q) for i, q in enumerate(products))
    made = gauging(*even(), filed=Filed(discharge=26.6, unit="ft3/s", panels=panels))

    (finding,) = found(TOTALS, made)

    assert finding.tapes == (9.0, 12.0, 15.0)


@pytest.mark.parametrize(
    ("doubled", "channel", "begins"),
    [([(1, 9)], 1, "Channel 2, side: The filed products"), ([(0, 9), (1, 9)], None, "The filed")],
)
def test_the_channel_of_the_difference_is_told(
    doubled: list[tuple[int, int]], channel: int | None, begins: str
) -> None:
    """Tape 9 ft stands in both channels: in which the product is doubled, if in one alone."""
    panels = tuple(
        FiledPanel(c, i, discharge=2.0 if (c, i) in doubled else float(0 < i < 25))
        for c in (0, 1)
        for i in range(26)
    )
    channels = (Channel(tuple(even())), Channel(tuple(even()), name="side"))
    filed = Filed(discharge=48.0 + len(doubled), unit="ft3/s", panels=panels)

    (finding,) = found(TOTALS, Gauging(FEET, channels, filed=filed))

    assert (finding.channel, set(finding.tapes)) == (channel, {9.0})
    assert finding.found.startswith(begins)


def test_without_anything_filed_there_is_nothing_to_say() -> None:
    """A crew that files nothing hears nothing of it."""
    made = gauging(read(1), read(2), units=METRIC)

    assert [found(name, made) for name in (ADD_UP, GAPS, TOTALS)] == [[], [], []]
