"""How an earlier gauging's flow is seen from its left edge, worked by hand."""

from datetime import date
from itertools import pairwise

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.flow_profile import FlowProfile, flow_profile
from bankside.gauging.records import Channel, Gauging, PointReading, Site, Units, Vertical

# A thalweg on the right, an eddy along the left bank.
UNEVEN = FlowProfile(
    across=(0.0, 0.1, 0.3, 0.6, 0.8, 0.95, 1.0),
    flow_per_width=(0.0, -0.02, 0.03, 0.2, 0.6, 0.1, 0.0),
)


def test_middles_in_water_that_grows_evenly() -> None:
    """Flow that grows in a straight line has its middles where the squares of the place say."""
    wedge = FlowProfile((0.0, 1.0), (1.0, 3.0))
    places = wedge.middles_of_equal_shares(4)

    # Cumulated x + x²; total 2; quarters' middles at 0.25, 0.75, 1.25, 1.75.
    assert [x + x * x for x in places] == pytest.approx([0.25, 0.75, 1.25, 1.75])


def test_an_eddy_counts_by_the_amount_of_its_water() -> None:
    """Water that runs upstream gets as many verticals as the same water running downstream."""
    turned = FlowProfile(UNEVEN.across, tuple(abs(flow) for flow in UNEVEN.flow_per_width))

    assert UNEVEN.middles_of_equal_shares(20) == turned.middles_of_equal_shares(20)


def earlier_gauging(*, zero_on_right: bool = False, named: bool = True) -> Gauging:
    """A section of 8 ft, deeper on the right, read on a tape hung from either bank."""
    rows = [(0.0, 0.0, 0.0), (2.0, 0.5, -0.2), (4.0, 1.0, 1.0), (6.0, 2.0, 1.5), (8.0, 0.0, 0.0)]
    verticals = [
        Vertical(
            tape=20.0 - x if zero_on_right else 12.0 + x,
            depth=depth,
            velocity=(PointReading(value=velocity),) if depth else (),
            edge=("left" if x == 0.0 else "right") if named and not depth else None,
        )
        for x, depth, velocity in rows
    ]
    return Gauging(
        units=Units(length="ft", velocity="ft/s"),
        channels=(Channel(verticals=tuple(verticals)),),
        site=Site(stream="Alder Fork"),
        date=date(2026, 7, 14),
    )


@pytest.mark.parametrize("zero_on_right", [False, True])
def test_an_earlier_gauging_is_seen_from_its_left_edge(zero_on_right: bool) -> None:
    """The spread of flow is the same whichever bank the tape hung from."""
    gauging = earlier_gauging(zero_on_right=zero_on_right)
    profile = flow_profile(gauging, compute(gauging))

    assert profile.across == pytest.approx((0.0, 0.25, 0.5, 0.75, 1.0))
    expected = [0.0, -0.1, 1.0, 3.0, 0.0]  # ft × ft/s
    assert profile.flow_per_width == pytest.approx([q * 0.3048**2 for q in expected])
    assert profile.width_m == pytest.approx(8 * 0.3048)
    assert profile.banks_known
    assert profile.dry == ()


def test_an_earlier_gauging_without_banks_begins_on_the_left() -> None:
    """Without named edges the lowest tape position counts as the left edge, and that is told."""
    gauging = earlier_gauging(named=False)
    profile = flow_profile(gauging, compute(gauging))

    assert profile.flow_per_width[3] == pytest.approx(3.0 * 0.3048**2)
    assert not profile.banks_known


def test_the_profile_carries_the_computed_discharge() -> None:
    """Summed up over the width, the flow per width is the discharge of the mid-section method."""
    gauging = earlier_gauging()
    result = compute(gauging)
    profile = flow_profile(gauging, result)
    width = 8 * 0.3048
    strips = zip(pairwise(profile.across), pairwise(profile.flow_per_width), strict=True)

    discharge = sum((x1 - x0) * width * (q0 + q1) / 2 for (x0, x1), (q0, q1) in strips)
    assert discharge == pytest.approx(result.discharge_m3s)


def test_a_plan_covers_one_channel() -> None:
    """With several channels one has to be named, and it has to be there."""
    one = earlier_gauging().channels[0]
    gauging = Gauging(units=Units(length="ft", velocity="ft/s"), channels=(one, one))
    result = compute(gauging)

    with pytest.raises(InputRefused, match="has 2 channels; say which one, 1 to 2"):
        flow_profile(gauging, result)
    with pytest.raises(InputRefused, match="has no channel 3; it has 2"):
        flow_profile(gauging, result, channel=2)
    assert len(flow_profile(gauging, result, channel=1).across) == 5


def test_the_profile_does_not_depend_on_the_method() -> None:
    """The flow at the verticals is the same, however the panels were cut."""
    gauging = earlier_gauging()
    mean_section = compute(gauging, method="mean-section")

    assert flow_profile(gauging, mean_section) == flow_profile(gauging, compute(gauging))


def section(*rows: tuple[float, float, float], right_first: bool = False) -> Gauging:
    """A gauging in metres from (tape, depth, velocity), edges named at both ends."""
    edges = {0: "left", len(rows) - 1: "right"}
    if right_first:
        edges = {0: "right", len(rows) - 1: "left"}
    verticals = tuple(
        Vertical(
            tape=tape,
            depth=depth,
            velocity=(PointReading(value=velocity),) if depth else (),
            edge=edges.get(i),  # type: ignore[arg-type]
        )
        for i, (tape, depth, velocity) in enumerate(rows)
    )
    return Gauging(units=Units(length="m", velocity="m/s"), channels=(Channel(verticals),))


def test_dry_ends_are_not_water() -> None:
    """The profile begins at the last dry vertical before the water and ends at the first after."""
    gauging = section((0, 0, 0), (1, 0, 0), (2, 0.5, 1.0), (3, 0.4, 1.0), (4, 0, 0), (6, 0, 0))
    profile = flow_profile(gauging, compute(gauging))

    assert profile.across == pytest.approx((0.0, 1 / 3, 2 / 3, 1.0))
    assert profile.flow_per_width == pytest.approx((0.0, 0.5, 0.4, 0.0))
    assert profile.width_m == pytest.approx(3.0)
    assert profile.dry == ()


@pytest.mark.parametrize(("right_first", "dry"), [(False, (0.2, 0.6)), (True, (0.4, 0.8))])
def test_a_dry_gap_keeps_its_place(right_first: bool, dry: tuple[float, float]) -> None:
    """Dry bed in the middle is told as one stretch, seen from the left edge."""
    rows = [(0, 0, 0), (1, 0.5, 1.0), (2, 0, 0), (4, 0, 0), (6, 0, 0), (8, 0.4, 1.0), (10, 0, 0)]
    gauging = section(*rows, right_first=right_first)
    profile = flow_profile(gauging, compute(gauging))

    assert len(profile.dry) == 1
    assert profile.dry[0] == pytest.approx(dry)
    assert profile.at(0.5) == 0.0


def test_a_steep_edge_carries_flow() -> None:
    """Water that stands deep at a bank keeps its wall velocity in the profile."""
    steep = Vertical(tape=4.0, depth=0.5, edge="right", bank="steep", wall_factor=0.5)
    there = section((0, 0, 0), (2, 0.5, 0.8), (4, 0, 0)).channels[0].verticals[:2]
    gauging = Gauging(units=Units(length="m", velocity="m/s"), channels=(Channel((*there, steep)),))
    profile = flow_profile(gauging, compute(gauging))

    assert profile.flow_per_width == pytest.approx((0.0, 0.4, 0.5 * 0.4))


def test_a_dry_channel_tells_nothing() -> None:
    """Where no water was found nothing can be said about its spread."""
    gauging = section((0, 0, 0), (2, 0, 0), (4, 0, 0))

    with pytest.raises(InputRefused, match="found no water"):
        flow_profile(gauging, compute(gauging))
