"""Laying out verticals: worked by hand, and properties that hold for any edges."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.flow_profile import FlowProfile
from bankside.gauging.plan import Plan, plan_verticals
from bankside.gauging.plan_rules import MOST_VERTICALS, RULES, Rule
from bankside.gauging.plan_timing import Timing, points_for_depth
from bankside.gauging.records import Channel, Edge, Gauging, PointReading, Units, Vertical

D = Decimal
EVEN = FlowProfile(across=(0.0, 1.0), flow_per_width=(0.4, 0.4))
# A thalweg on the right, an eddy along the left bank.
UNEVEN = FlowProfile(
    across=(0.0, 0.1, 0.3, 0.6, 0.8, 0.95, 1.0),
    flow_per_width=(0.0, -0.02, 0.03, 0.2, 0.6, 0.1, 0.0),
)


def planned(
    left: str,
    right: str,
    *,
    verticals: int = 25,
    rule: Rule = "equal",
    start: Edge = "left",
    resolution: str = "0.1",
    spacing: str | None = None,
    earlier: FlowProfile | None = None,
) -> Plan:
    """A plan in feet from numbers as they are written."""
    return plan_verticals(
        D(left),
        D(right),
        unit="ft",
        resolution=D(resolution),
        verticals=verticals,
        rule=rule,
        start=start,
        minimum_spacing=None if spacing is None else D(spacing),
        earlier=earlier,
    )


def tapes(plan: Plan) -> list[str]:
    """The tape positions as they are printed."""
    return [str(vertical.tape) for vertical in plan.verticals]


def widths(plan: Plan) -> list[str]:
    """The panel widths as they are printed."""
    return [f"{vertical.panel_width.normalize():f}" for vertical in plan.verticals]


def test_equal_spacing_takes_the_edges_as_stations() -> None:
    """Five verticals make six intervals of one foot in six feet."""
    plan = planned("2.0", "8.0", verticals=5)

    assert tapes(plan) == ["3.0", "4.0", "5.0", "6.0", "7.0"]
    assert widths(plan) == ["1", "1", "1", "1", "1"]
    assert [edge.panel_width for edge in plan.edges] == [D("0.5"), D("0.5")]
    assert plan.interval == 1


def test_steps_of_a_tenth_print_as_they_are_read() -> None:
    """Tenths of a foot stay decimals: 3.3 and not 3.3000000000000003."""
    plan = planned("3.0", "3.9", verticals=8)

    assert tapes(plan) == ["3.1", "3.2", "3.3", "3.4", "3.5", "3.6", "3.7", "3.8"]


def test_a_tape_that_begins_on_the_right_bank_counts_down() -> None:
    """The plan runs from the left edge to the right edge, whichever has the larger number."""
    plan = planned("8.0", "2.0", verticals=5)

    assert tapes(plan) == ["7.0", "6.0", "5.0", "4.0", "3.0"]
    assert [edge.bank for edge in plan.edges] == ["left", "right"]
    assert [edge.tape for edge in plan.edges] == [8, 2]


def test_between_two_graduations_the_one_nearer_to_the_left_edge_is_taken() -> None:
    """The middle of 5 ft on a tape read to whole feet, from either bank."""
    assert tapes(planned("0", "5", verticals=1, resolution="1")) == ["2"]
    assert tapes(planned("5", "0", verticals=1, resolution="1")) == ["3"]


def test_cell_centres_stand_half_a_cell_off_the_edges() -> None:
    """Five cells of one metre are read at 0.5 m, 1.5 m and so on."""
    plan = planned("0", "5", verticals=5, rule="cell-centres", resolution="0.05")

    assert tapes(plan) == ["0.50", "1.50", "2.50", "3.50", "4.50"]
    assert widths(plan) == ["0.75", "1", "1", "1", "0.75"]
    assert [edge.panel_width for edge in plan.edges] == [D("0.25"), D("0.25")]


def test_the_first_cell_is_skipped_and_the_last_panel_takes_what_is_left() -> None:
    """In 10.3 ft ten verticals mean intervals of 1 ft from 1.5 ft on, the last panel 0.9 ft."""
    plan = planned("0", "10.3", verticals=10, rule="skip-first-cell")

    assert tapes(plan) == ["1.5", "2.5", "3.5", "4.5", "5.5", "6.5", "7.5", "8.5", "9.5"]
    assert widths(plan) == ["1.25", "1", "1", "1", "1", "1", "1", "1", "0.9"]
    assert plan.interval == 1
    assert plan.remarks[:2] == (
        "Whole intervals of 1 ft give 9 verticals; 10 were asked for.",
        "Nothing is read in the first 1.5 ft from the left edge, taken as too shallow for the "
        "meter: common practice, no source. The rule under which the crew works goes before it.",
    )


@pytest.mark.parametrize("start", ["left", "right"])
def test_what_the_skipped_cell_leaves_out_of_the_figure_is_told(start: Edge) -> None:
    """Of 1.5 ft unread, 0.75 ft lie nearer to the edge, which has no depth and so no flow."""
    plan = planned("0", "10.3", verticals=10, rule="skip-first-cell", start=start)

    assert plan.edges[0].panel_width == D("0.75")
    assert plan.remarks[2] == (
        "By the half-width rule the first 0.75 ft there, about three quarters of an interval, "
        "carry nothing in the figure if the edge has depth 0. Sound the depth in this stretch all "
        "the same: is it really too shallow? A depth written down without a velocity counts with "
        "one between those of its neighbours."
    )


def test_the_figure_does_what_the_skipped_cell_says() -> None:
    """Unsounded, 0.75 ft carry nothing; a depth half way adds its panel at half the velocity."""
    rows = [(0.0, 0.0), (1.5, 1.0), (2.5, 1.0), (3.5, 0.0)]
    verticals = [
        Vertical(tape, depth, (PointReading(value=2.0),) if depth else ()) for tape, depth in rows
    ]
    units = Units(length="ft", velocity="ft/s")

    def discharge(*called: Vertical) -> float:
        gauging = Gauging(units=units, channels=(Channel(called),))
        return compute(gauging).discharge_m3s / 0.3048**3

    # Panels of 1.25 ft and 1 ft, each of 1 ft and 2 ft/s.
    assert discharge(*verticals) == pytest.approx(1.25 * 2 + 1 * 2)
    # Sounded at 0.75 ft: 0.75 ft × 0.4 ft × 1 ft/s; the next panel is 0.875 ft then.
    sounded = discharge(verticals[0], Vertical(0.75, 0.4), *verticals[1:])
    assert sounded == pytest.approx(0.75 * 0.4 * 1 + 0.875 * 2 + 1 * 2)


def test_one_and_a_half_intervals_are_rounded_into_deeper_water() -> None:
    """Half of 0.3 ft is on no graduation of a tape read to 0.1 ft: 0.45 ft becomes 0.5 ft."""
    plan = planned("0", "3", verticals=10, rule="skip-first-cell")

    assert tapes(plan)[:3] == ["0.5", "0.8", "1.1"]


def test_the_first_cell_cannot_be_skipped_in_a_trickle() -> None:
    """Without room for one and a half intervals one vertical stands in the middle."""
    plan = planned("1.0", "1.4", rule="skip-first-cell", spacing="0.3")

    assert tapes(plan) == ["1.2"]
    assert plan.remarks[0] == (
        "0.4 ft of water have no room for one and a half intervals of 0.3 ft: a single vertical "
        "stands in the middle."
    )


def test_the_skipped_cell_is_at_the_bank_where_the_crew_starts() -> None:
    """From the right bank of 10.3 ft the first vertical stands at 8.8 ft, and 0.8 ft is read."""
    plan = planned("0", "10.3", verticals=10, rule="skip-first-cell", start="right")

    assert tapes(plan) == ["8.8", "7.8", "6.8", "5.8", "4.8", "3.8", "2.8", "1.8", "0.8"]
    assert [(edge.bank, edge.panel_width) for edge in plan.edges] == [
        ("right", D("0.75")),
        ("left", D("0.4")),
    ]
    assert "in the first 1.5 ft from the right edge" in plan.remarks[1]


@pytest.mark.parametrize("rule", ["equal", "cell-centres", "equal-flow"])
def test_the_start_only_turns_the_list_round(rule: Rule) -> None:
    """Rules that skip nothing stand at the same positions from either bank, shares included."""
    there = planned("3.0", "12.4", verticals=11, rule=rule, earlier=UNEVEN)
    back = planned("3.0", "12.4", verticals=11, rule=rule, earlier=UNEVEN, start="right")

    assert back.verticals == there.verticals[::-1]
    assert back.edges == there.edges[::-1]
    assert (back.interval, back.remarks) == (there.interval, there.remarks)


def test_even_flow_is_shared_out_as_cell_centres() -> None:
    """Where every foot carries the same, equal shares are equal cells."""
    shares = planned("0", "20", verticals=10, rule="equal-flow", earlier=EVEN)

    assert tapes(shares) == tapes(planned("0", "20", verticals=10, rule="cell-centres"))


def test_verticals_crowd_where_the_water_was() -> None:
    """A right half that carried three times the flow per width gets three times the verticals."""
    step = FlowProfile((0.0, 0.5, 0.5 + 1e-9, 1.0), (0.1, 0.1, 0.3, 0.3))
    plan = planned("0", "8", verticals=8, rule="equal-flow", resolution="0.01", earlier=step)

    # 2 of 8 verticals share 4 ft on the left, 6 share 4 ft on the right.
    assert tapes(plan) == ["1.00", "3.00", "4.33", "5.00", "5.67", "6.33", "7.00", "7.67"]


def test_dead_water_keeps_verticals() -> None:
    """No gap grows beyond three times width / n, though half the width carried nothing."""
    dead = FlowProfile((0.0, 0.5, 0.6, 1.0), (0.0, 0.0, 1.0, 0.5))
    plan = planned("0", "30", verticals=20, rule="equal-flow", resolution="0.01", earlier=dead)
    stands = [D(0), *(vertical.tape for vertical in plan.verticals), D(30)]

    assert max(b - a for a, b in pairwise(stands)) <= 3 * D(30) / 20 + D("0.01")


def test_equal_shares_come_out_nearly_equal() -> None:
    """On a parabola every inner share lies near a twentieth, and none above the 10 % limit."""
    across = [i / 40 for i in range(41)]
    parabola = FlowProfile(tuple(across), tuple(x * (1 - x) for x in across))
    plan = planned("0", "20", verticals=20, rule="equal-flow", resolution="0.01", earlier=parabola)
    shares = [vertical.share_expected or 0.0 for vertical in plan.verticals]

    assert sum(shares) == pytest.approx(100.0)
    assert all(3.9 < share < 6.0 for share in shares[1:-1])


def test_any_rule_tells_the_expected_shares_when_the_flow_is_known() -> None:
    """Equal spacing in even flow: one vertical, half of the width, half of the flow."""
    plan = planned("0", "4", verticals=1, earlier=EVEN)

    assert plan.verticals[0].share_expected == pytest.approx(50.0)
    assert planned("0", "4", verticals=1).verticals[0].share_expected is None


def test_a_share_above_the_limit_is_foretold() -> None:
    """Equal spacing over an uneven stream says which panel would carry too much."""
    plan = planned("0", "20", verticals=12, earlier=UNEVEN)
    largest = max(plan.verticals, key=lambda vertical: vertical.share_expected or 0.0)

    assert f"the panel at {largest.tape.normalize():f} ft carries" in " ".join(plan.remarks)


# All water in the right half, evenly; and all of it in a tent over the middle fifth.
HALF = FlowProfile((0.0, 0.5, 0.5 + 1e-9, 1.0), (0.0, 0.0, 0.4, 0.4))
TENT = FlowProfile((0.0, 0.4, 0.5, 0.6, 1.0), (0.0, 0.0, 0.8, 0.0, 0.0))


def test_too_few_verticals_for_equal_shares_ask_for_more() -> None:
    """Where most panels are over the limit all are named, and moving them is no advice."""
    plan = planned("0", "16", verticals=10, rule="equal-flow", earlier=HALF)
    shares = [f"{vertical.share_expected:.1f}" for vertical in plan.verticals]

    # Weights 1/4 and 1: 2 verticals in 8 ft on the left, 8 in 8 ft on the right.
    assert tapes(plan)[:4] == ["2.0", "6.0", "8.5", "9.5"]
    # Panels with flow: (9.5 - 6) / 2 = 1.75 ft, six of 1 ft, 0.75 ft and the edge's 0.25 ft.
    assert shares == ["0.0", "0.0", f"{175 / 8.75:.1f}", *[f"{100 / 8.75:.1f}"] * 6, "8.6"]
    assert any(remark.endswith("so more verticals are wanted.") for remark in plan.remarks)
    assert (
        "If the flow is spread as it was, 7 panels carry more than 10 %, at 8.5, 9.5, 10.5, 11.5, "
        "12.5, 13.5, 14.5 ft; the panel at 8.5 ft carries 20.0 %, the most; no panel should, "
    ) in " ".join(plan.remarks)


@pytest.mark.parametrize(
    ("right", "resolution", "spacing", "ending"),
    [
        ("20", "0.1", None, "so verticals are wanted closer there."),
        (
            "20",
            "0.1",
            "1",
            "but the minimum spacing of 1 ft leaves no room for verticals closer there.",
        ),
        (
            "20",
            "1",
            None,
            "but the tape, read to 1 ft, leaves no room for verticals closer there.",
        ),
        (
            "20",
            "1",
            "0.2",
            "but the tape, read to 1 ft, leaves no room for verticals closer there.",
        ),
        (
            "6",
            "0.1",
            None,
            "but the published minimum of 0.3 ft (0.09 m) for a small rotating meter leaves no "
            "room for verticals closer there.",
        ),
    ],
)
def test_a_few_panels_over_the_limit_want_verticals_closer(
    right: str, resolution: str, spacing: str | None, ending: str
) -> None:
    """19 even verticals, 1/4, 1/2 and 1/4 of the flow at three: closer there, if there is room."""
    plan = planned("0", right, verticals=19, earlier=TENT, spacing=spacing, resolution=resolution)
    step = D(right) / 20
    places = ", ".join(f"{(k * step).normalize():f}" for k in (9, 10, 11))

    assert (
        f"3 panels carry more than 10 %, at {places} ft; the panel at {10 * step:.0f} ft carries "
        f"50.0 %, the most; no panel should, {ending}"
    ) in " ".join(plan.remarks)


def test_a_share_at_the_limit_is_not_over_it() -> None:
    """Nine verticals in even flow have 10 % each, the steep edges 5 %: nothing to point out."""
    plan = planned("0", "20", verticals=9, earlier=EVEN)

    assert [f"{vertical.share_expected:.1f}" for vertical in plan.verticals] == ["10.0"] * 9
    assert not any("panel" in remark for remark in plan.remarks)


def test_shares_that_are_not_equal_are_explained() -> None:
    """Still water on the left keeps 4 of 20 verticals, which carry nothing."""
    plan = planned("0", "20", verticals=20, rule="equal-flow", resolution="0.01", earlier=HALF)
    said = "Shares are not all equal: water that carried less than half of the mean per width"
    even = planned("0", "20", verticals=20, rule="equal-flow", earlier=EVEN)

    # Weights 1/4 and 1 share 20 verticals as 4 to 16.
    assert sum(not vertical.share_expected for vertical in plan.verticals) == 4
    explained = [remark for remark in plan.remarks if remark.startswith(said)]
    assert [remark.rpartition("banks")[2] for remark in explained] == [
        " and dead water keep some verticals. The smallest share is 0.0 %."
    ]
    assert not any(remark.startswith("Shares") for remark in even.remarks)
    assert not any(
        remark.startswith("Shares") for remark in planned("0", "20", earlier=HALF).remarks
    )


def test_shares_of_water_that_ran_upstream_as_a_whole() -> None:
    """Signs that are all turned round change no share, and are pointed out."""
    turned = FlowProfile((0.0, 0.5, 1.0), (0.0, -0.4, 0.0))
    plan = planned("0", "20", verticals=12, earlier=turned)

    assert all((vertical.share_expected or 0.0) > 0.0 for vertical in plan.verticals)
    assert any("please check the signs" in remark for remark in plan.remarks)


def test_flows_that_cancel_out_have_no_shares() -> None:
    """As much water up as down leaves no whole to have a share of."""
    eddy = FlowProfile((0.0, 0.25, 0.75, 1.0), (0.0, -0.4, 0.4, 0.0))

    assert planned("0", "20", verticals=3, earlier=eddy).verticals[0].share_expected is None
    spread = planned("0", "20", verticals=12, rule="equal-flow", earlier=eddy)
    assert not any(remark.startswith("Equal distances") for remark in spread.remarks)


def test_an_eddy_that_carries_too_much_is_pointed_out() -> None:
    """A panel at -25 % is as much over the limit as one at 25 %."""
    eddy = FlowProfile((0.0, 0.1, 0.2, 0.3, 0.65, 1.0), (0.0, -0.9, 0.0, 0.0, 0.6, 0.0))
    plan = planned("0", "20", verticals=20, earlier=eddy)

    assert any("carries -" in remark for remark in plan.remarks)
    assert any("a share below 0 is expected" in remark for remark in plan.remarks)


def test_a_steep_edge_carries_a_share() -> None:
    """Where the earlier gauging found water at the edge, the edge has a share of its own."""
    plan = planned("0", "20", verticals=9, earlier=EVEN)
    shares = [edge.share_expected or 0.0 for edge in plan.edges]
    shares += [vertical.share_expected or 0.0 for vertical in plan.verticals]

    assert plan.edges[0].share_expected == pytest.approx(5.0)
    assert sum(shares) == pytest.approx(100.0)


def test_another_width_is_asked_about() -> None:
    """A section four times as wide as today's water may be another one, or in another unit."""
    wide = FlowProfile((0.0, 1.0), (0.4, 0.4), width_m=80 * 0.3048)
    same = FlowProfile((0.0, 1.0), (0.4, 0.4), width_m=18 * 0.3048)

    assert any(
        remark.startswith("The water was 80 ft wide at the earlier gauging and is 20 ft wide now")
        for remark in planned("0", "20", earlier=wide).remarks
    )
    assert not any("wide" in remark for remark in planned("0", "20", earlier=same).remarks)


@pytest.mark.parametrize(("left", "right"), [("2", "12"), ("12", "2")])
def test_a_dry_gap_is_recalled_on_the_tape_of_today(left: str, right: str) -> None:
    """Where the bed was dry, dry edges are to be read in place of the verticals planned there."""
    gap = FlowProfile(
        (0.0, 0.2, 0.3, 0.7, 0.8, 1.0), (0.0, 0.5, 0.0, 0.0, 0.5, 0.0), dry=((0.3, 0.7),)
    )
    plan = planned(left, right, verticals=9, earlier=gap)

    assert any(
        "dry from about 5 ft to 9 ft on today's tape. 3 verticals stand there" in remark
        for remark in plan.remarks
    )


@pytest.mark.parametrize(
    ("left", "right", "rule", "said"),
    [
        (
            "4.2",
            "44.2",
            "equal",
            "Rounded to the tape, verticals are 1.5 ft to 1.6 ft apart; 24 verticals would be "
            "1.6 ft apart throughout.",
        ),
        ("0", "5", "cell-centres", "25 verticals"),
        ("0", "5.2", "cell-centres", None),
        ("0.05", "5.2", "equal", None),
        ("0", "5.2", "equal", "; 25 verticals"),
        # Not 29 verticals: 30 intervals of 0.2 ft are below the published minimum.
        ("0", "6", "equal", "; 19 verticals would be 0.3 ft apart throughout."),
        ("0", "10", "equal", "; 24 verticals would be 0.4 ft apart throughout."),
    ],
)
def test_a_number_that_needs_no_rounding_is_proposed(
    left: str, right: str, rule: Rule, said: str | None
) -> None:
    """Even steps on the tape are named where a number near the one asked for gives them."""
    plan = planned(left, right, rule=rule)
    proposed = [remark for remark in plan.remarks if remark.startswith("Rounded to the tape")]
    gaps = {abs(b.tape - a.tape) for a, b in pairwise(plan.verticals)}

    if len(gaps) == 1 or said is None:
        assert proposed == []
    else:
        assert said in proposed[0]
        number = int(proposed[0].split("; ")[1].split()[0])
        again = planned(left, right, rule=rule, verticals=number).verticals
        assert len({b.tape - a.tape for a, b in pairwise(again)}) == 1


@pytest.mark.parametrize(
    ("rule", "needed", "allowed"),
    [("equal", "0.092", 7), ("cell-centres", "0.096", 8), ("skip-first-cell", "0.096", 7)],
)
def test_too_many_verticals_for_the_spacing(rule: Rule, needed: str, allowed: int) -> None:
    """A target that cannot be met says what it would take and what is possible."""
    plan = planned("3.2", "5.6", rule=rule, spacing="0.3")

    assert len(plan.verticals) == allowed
    assert plan.remarks[0] == (
        f"For 25 verticals in 2.4 ft a vertical every {needed} ft would be needed; "
        f"the minimum spacing of 0.3 ft allows {allowed}."
    )


@pytest.mark.parametrize(
    ("right", "rule", "allowed"),
    [
        ("2.6", "equal", 7),  # 26 intervals of 0.1 ft; 8 of 0.3 ft fit into 2.6 ft
        ("2.5", "cell-centres", 8),  # 25 cells of 0.1 ft; 8 of 0.3 ft fit into 2.5 ft
        ("2.5", "skip-first-cell", 7),  # 0.5 ft (0.45 rounded), 0.8 ft and so on to 2.3 ft
        ("2.5", "equal-flow", 8),  # 0.1 ft to 2.4 ft has 7 gaps of 0.3 ft
    ],
)
def test_a_vertical_every_tenth_of_a_foot_would_be_needed(
    right: str, rule: Rule, allowed: int
) -> None:
    """Every rule says in one sentence that it cannot be met, and what would be needed."""
    plan = planned("0", right, rule=rule, spacing="0.3", earlier=EVEN)

    assert len(plan.verticals) == allowed
    assert plan.remarks[0] == (
        f"For 25 verticals in {right} ft a vertical every 0.1 ft would be needed; "
        f"the minimum spacing of 0.3 ft allows {allowed}."
    )


def test_what_is_needed_never_reads_like_what_is_allowed() -> None:
    """7.4 ft in 25 intervals is 0.296 ft, which is not 0.3 ft."""
    plan = planned("0", "7.4", verticals=24, spacing="0.3")

    assert plan.remarks[0].startswith("For 24 verticals in 7.4 ft a vertical every 0.29 ft would")


def test_too_many_verticals_for_the_tape() -> None:
    """Without a minimum spacing the graduations set the limit."""
    plan = planned("3.2", "4.2")

    assert plan.remarks[0] == (
        "For 25 verticals in 1 ft a vertical every 0.038 ft would be needed; "
        "the tape, read to 0.1 ft, allows 9."
    )


@pytest.mark.parametrize(
    ("spacing", "resolution", "said"),
    [
        (None, "0.1", ["0.3 ft (0.09 m) for a small", "0.5 ft (0.15 m) for a large"]),
        ("0.2", "0.1", []),
    ],
)
def test_crowded_verticals_recall_the_published_minimum(
    spacing: str | None, resolution: str, said: list[str]
) -> None:
    """Whoever sets no minimum hears of the published ones; whoever sets one knows."""
    plan = planned("0", "4", verticals=15, spacing=spacing, resolution=resolution)
    text = " ".join(plan.remarks)

    assert all(words in text for words in said)
    assert bool(said) == ("rotating meter" in text)


def test_no_closer_steps_are_proposed_than_published() -> None:
    """Where 0.5 ft is not kept, 19 verticals at 0.5 ft are proposed and not 24 at 0.4 ft."""
    unset = " ".join(planned("0", "10", verticals=22).remarks)
    chosen = " ".join(planned("0", "5.2", rule="cell-centres", spacing="0.2").remarks)

    assert "; 19 verticals would be 0.5 ft apart throughout." in unset
    # A crew that has set 0.2 ft is not held to 0.3 ft: 26 cells of 0.2 ft, centres on the tape.
    assert "; 26 verticals would be 0.2 ft apart throughout." in chosen


def test_a_tape_in_metres_keeps_the_minimum_as_it_is_printed() -> None:
    """0.15 m is not said to be closer than the 0.15 m of the large meter."""
    plan = plan_verticals(D(0), D(3), unit="m", resolution=D("0.05"), verticals=19)

    assert {b.tape - a.tape for a, b in pairwise(plan.verticals)} == {D("0.15")}
    assert not any("rotating meter" in remark for remark in plan.remarks)


def test_between_the_two_minima_only_the_large_meter_is_named() -> None:
    """At 0.4 ft the small meter has room and the large one has not."""
    text = " ".join(planned("0", "4", verticals=9).remarks)

    assert "0.5 ft" in text
    assert "small" not in text


def test_few_verticals_and_the_ten_percent_limit() -> None:
    """Nine shares below 10 % make no whole where the edges carry nothing; ten may make one."""
    nine = planned("0", "20", verticals=9).remarks
    ten = planned("0", "20", verticals=10).remarks

    assert nine[0] == (
        "With fewer than 10 verticals, and depth 0 at both edges, at least one panel carries more "
        "than 10 % of the flow; no panel should."
    )
    assert any(remark.startswith("Equal distances are not equal shares") for remark in ten)


def test_time_in_the_water() -> None:
    """25 verticals of 40 s and 20 s, and 60 s to cross; what is assumed is said."""
    plan = planned("0", "20")

    assert plan.expected_seconds == 25 * (40 + 20) + 60
    assert Timing(exposure_seconds=60, points=2, moving_seconds=30).seconds(10) == 10 * 150 + 60
    assert plan.remarks[-1].endswith("are assumed.")


@pytest.mark.parametrize(
    ("depth", "unit", "points"),
    [("2.4", "ft", 1), ("2.5", "ft", 2), ("0.76", "m", 1), ("0.77", "m", 2), ("30", "in", 2)],
)
def test_points_a_depth_needs(depth: str, unit: str, points: int) -> None:
    """From 2.5 ft on a vertical is read at two points."""
    assert points_for_depth(D(depth), unit) == points  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("attempt", "message"),
    [
        (lambda: planned("3", "3"), "there must be a graduation of the tape between the edges"),
        (lambda: planned("3.21", "3.28"), "(got 3.21 ft and 3.28 ft on a tape read to 0.1 ft)"),
        (lambda: planned("0", "9", verticals=0), "verticals must be 1 to 500 in number (got 0)"),
        (lambda: planned("0", "9", verticals=MOST_VERTICALS + 1), "(got 501)"),
        (lambda: planned("0", "9", resolution="0"), "must be above 0"),
        (lambda: planned("0", "9", spacing="-0.3"), "must be above 0"),
        (lambda: planned("NaN", "9"), "the left edge must be a length"),
        (lambda: planned("0", "1e9"), "the right edge must be a length"),
        (lambda: planned("0", "9", resolution="1e-9"), "the tape's resolution must be a length"),
        (lambda: planned("0", "9", rule="equal-flow"), "need an earlier gauging of the site"),
        (lambda: planned("0", "9", rule="by eye"), "the rule must be one of equal, "),  # type: ignore[arg-type]
        (lambda: planned("0", "9", start="middle"), "must be left or right (got middle)"),  # type: ignore[arg-type]
        (lambda: Timing(points=0), "1 to 6 points"),
        (lambda: Timing(exposure_seconds=float("nan")), "0 to 3600 seconds"),
    ],
)
def test_what_makes_no_sense_is_refused(attempt: Callable[[], object], message: str) -> None:
    """Each refusal says what must hold and what came."""
    with pytest.raises(InputRefused) as refused:
        attempt()

    assert message in str(refused.value)


def test_no_flow_is_nothing_to_share_out() -> None:
    """Still water at the earlier visit tells nothing about where to stand."""
    still = FlowProfile((0.0, 1.0), (0.0, 0.0))

    with pytest.raises(InputRefused, match="found no flow"):
        planned("0", "9", rule="equal-flow", earlier=still)
    assert planned("0", "9", earlier=still).verticals[0].share_expected is None


RESOLUTIONS = st.sampled_from([D("0.01"), D("0.05"), D("0.1"), D("0.5"), D("1"), D("5")])


@st.composite
def requests(draw: st.DrawFn) -> dict[str, object]:
    """Edges on or off the graduations, either one larger, and all rules."""
    resolution = draw(RESOLUTIONS)
    fine = resolution / 4
    left = draw(st.integers(-200, 4000)) * fine
    width = draw(st.integers(5, 2000)) * fine
    spacing = draw(st.none() | st.integers(1, 40).map(lambda quarters: quarters * fine))
    return {
        "left": left,
        "right": left + (width if draw(st.booleans()) else -width),
        "unit": "cm",
        "resolution": resolution,
        "verticals": draw(st.integers(1, 60)),
        "rule": draw(st.sampled_from(RULES)),
        "start": draw(st.sampled_from(["left", "right"])),
        "minimum_spacing": spacing,
        "earlier": draw(st.sampled_from([EVEN, UNEVEN])),
    }


@given(requests())
def test_panels_add_up_to_the_width_exactly(request_: dict[str, object]) -> None:
    """No strip of water is left out or counted twice."""
    plan = plan_verticals(**request_)  # type: ignore[arg-type]
    panels = [edge.panel_width for edge in plan.edges]
    panels += [vertical.panel_width for vertical in plan.verticals]

    assert sum(panels) == plan.width
    assert all(width > 0 for width in panels)


@given(requests())
def test_verticals_can_be_found_on_the_tape_and_kept_apart(request_: dict[str, object]) -> None:
    """Each stands on a graduation between the edges, in order, and keeps the minimum spacing."""
    plan = plan_verticals(**request_)  # type: ignore[arg-type]
    resolution, spacing = request_["resolution"], request_["minimum_spacing"]
    assert isinstance(resolution, Decimal)
    least = max(resolution, spacing) if isinstance(spacing, Decimal) else resolution
    sign = 1 if plan.edges[1].tape > plan.edges[0].tape else -1
    stands = [sign * vertical.tape for vertical in plan.verticals]

    assert stands
    assert all((Fraction(tape) / Fraction(resolution)).denominator == 1 for tape in stands)
    assert all(b - a >= least for a, b in pairwise(stands))
    assert sign * plan.edges[0].tape < stands[0]
    assert stands[-1] < sign * plan.edges[1].tape


@given(requests())
def test_a_mirrored_tape_gives_the_mirrored_plan(request_: dict[str, object]) -> None:
    """A tape hung from the other bank changes the numbers and not the places."""
    resolution = request_["resolution"]
    assert isinstance(resolution, Decimal)
    total = 5000 * resolution
    there = plan_verticals(**request_)  # type: ignore[arg-type]
    edges = {bank: total - request_[bank] for bank in ("left", "right")}  # type: ignore[operator]
    mirrored = plan_verticals(**{**request_, **edges})  # type: ignore[arg-type]

    assert [total - s.tape for s in mirrored.verticals] == [s.tape for s in there.verticals]
    assert [s.panel_width for s in mirrored.verticals] == [s.panel_width for s in there.verticals]
    assert mirrored.remarks[-1] == there.remarks[-1]


@given(requests())
def test_a_stream_seen_from_the_other_bank_is_the_same_stream(request_: dict[str, object]) -> None:
    """With banks, start and tape all turned round, the first cell is skipped at the same place."""
    there = plan_verticals(**{**request_, "rule": "skip-first-cell", "earlier": None})  # type: ignore[arg-type]
    turned = {
        "left": request_["right"],
        "right": request_["left"],
        "start": "left" if request_["start"] == "right" else "right",
        "rule": "skip-first-cell",
        "earlier": None,
    }
    back = plan_verticals(**{**request_, **turned})  # type: ignore[arg-type]

    assert back.verticals == there.verticals
    assert [edge.tape for edge in back.edges] == [edge.tape for edge in there.edges]


@given(requests())
def test_a_target_missed_is_a_target_explained(request_: dict[str, object]) -> None:
    """Another number of verticals than asked for never comes without a word."""
    plan = plan_verticals(**request_)  # type: ignore[arg-type]
    assume(len(plan.verticals) != request_["verticals"])

    assert any(
        words in plan.remarks[0] for words in ("would be needed", "were asked for", "no room")
    )


@given(st.integers(2, 60), RESOLUTIONS)
def test_equal_spacing_is_within_one_graduation_of_even(n: int, resolution: Decimal) -> None:
    """Rounding to the tape moves each vertical by half a graduation at most."""
    width = 1000 * resolution
    plan = plan_verticals(D(0), width, unit="m", resolution=resolution, verticals=n)

    for k, vertical in enumerate(plan.verticals, start=1):
        off = Fraction(vertical.tape) - Fraction(width) * k / (n + 1)
        assert abs(off) <= Fraction(resolution) / 2


@given(requests())
def test_the_first_cell_is_left_and_whole_intervals_follow(request_: dict[str, object]) -> None:
    """One and a half intervals unread, then whole ones, then whatever is left: no more than one."""
    plan = plan_verticals(**{**request_, "rule": "skip-first-cell"})  # type: ignore[arg-type]
    assume(plan.interval is not None)
    resolution, interval = request_["resolution"], plan.interval
    assert isinstance(resolution, Decimal)
    assert isinstance(interval, Decimal)
    stands = [plan.edges[0].tape, *(s.tape for s in plan.verticals), plan.edges[1].tape]
    gaps = [abs(after - before) for before, after in pairwise(stands)]

    assert plan.edges[0].bank == request_["start"]
    # Half a graduation for an edge or an interval between two of them.
    assert abs(gaps[0] - interval * 3 / 2) <= resolution / 2
    assert all(gap == interval for gap in gaps[1:-1])
    assert 0 < gaps[-1] <= interval
    assert any("taken as too shallow for the meter" in remark for remark in plan.remarks)


@given(requests())
def test_advice_never_stands_against_the_published_minimum(request_: dict[str, object]) -> None:
    """Without a minimum set, no step is proposed that is closer than 0.3 ft (0.09 m)."""
    plan = plan_verticals(**{**request_, "minimum_spacing": None})  # type: ignore[arg-type]
    said = [remark for remark in plan.remarks if remark.startswith("Rounded to the tape")]

    for remark in said:
        number, step = remark.split("; ")[1].split(" verticals would be ")
        assert D(step.split()[0]) >= 9
        if any(other.startswith("No minimum spacing is set") for other in plan.remarks):
            assert int(number) <= len(plan.verticals)
