import math
from collections.abc import Iterator
from typing import Any

import attrs
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bankside.gauging.compute import EdgeRule, Method, compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, Units, Vertical
from bankside.gauging.result import Result

from .strategies import complete_gaugings, gaugings

WAYS: list[tuple[Method, EdgeRule]] = [
    ("mid-section", "half-width"),
    ("mid-section", "triangular"),
    ("mean-section", "half-width"),
]
ANY_WAY = st.sampled_from(WAYS)


def _with_verticals(gauging: Gauging, change: Any) -> Gauging:
    return attrs.evolve(
        gauging,
        channels=tuple(Channel(tuple(change(c.verticals)), c.name) for c in gauging.channels),
    )


def _without_order(result: Result) -> Result:
    """The result without what only says where among the calls a vertical was."""
    return attrs.evolve(
        result,
        panels=tuple(attrs.evolve(panel, vertical=0) for panel in result.panels),
        verticals=tuple(attrs.evolve(vertical, vertical=0) for vertical in result.verticals),
        notes=tuple(note for note in result.notes if "turns back" not in note),
    )


@given(complete_gaugings(), ANY_WAY, st.randoms(use_true_random=False))
def test_the_order_of_calls_changes_nothing(
    gauging: Gauging, way: tuple[Method, EdgeRule], random: Any
) -> None:
    """Verticals called in any order give the identical result, to the last bit."""
    shuffled = _with_verticals(gauging, lambda verticals: random.sample(verticals, len(verticals)))

    assert _without_order(compute(shuffled, *way)) == _without_order(compute(gauging, *way))


@given(complete_gaugings(), ANY_WAY)
def test_the_bank_where_the_tape_starts_changes_no_discharge(
    gauging: Gauging, way: tuple[Method, EdgeRule]
) -> None:
    """A tape from the other bank mirrors the section and leaves its discharge and area."""
    mirrored = _with_verticals(
        gauging, lambda verticals: [attrs.evolve(v, tape=50 - v.tape) for v in verticals]
    )
    one, other = compute(gauging, *way), compute(mirrored, *way)

    size = sum(abs(panel.discharge_m3s) for panel in one.panels)
    assert other.discharge_m3s == pytest.approx(one.discharge_m3s, rel=1e-9, abs=1e-9 * size)
    assert other.area_m2 == pytest.approx(one.area_m2, rel=1e-9)
    assert other.wetted_perimeter_m == pytest.approx(one.wetted_perimeter_m, rel=1e-9)


@given(complete_gaugings(), ANY_WAY)
def test_feet_are_metres_times_their_size(gauging: Gauging, way: tuple[Method, EdgeRule]) -> None:
    """The same figures called in feet give 0.3048³ times the discharge, 0.3048² the area."""
    metres = compute(attrs.evolve(gauging, units=Units("m", "m/s")), *way)
    feet = compute(attrs.evolve(gauging, units=Units("ft", "ft/s")), *way)

    size = sum(abs(panel.discharge_m3s) for panel in feet.panels)
    assert feet.discharge_m3s == pytest.approx(
        metres.discharge_m3s * 0.3048**3, rel=1e-9, abs=1e-9 * size
    )
    assert feet.area_m2 == pytest.approx(metres.area_m2 * 0.3048**2, rel=1e-9)


@given(complete_gaugings(), ANY_WAY)
def test_panels_add_up_to_their_total(gauging: Gauging, way: tuple[Method, EdgeRule]) -> None:
    """The panels of a channel added from left to right are its discharge, to the last bit.

    Only what rounding leaves of panels that cancel, 1e-12 of their amounts or less, is put to 0.
    """
    result = compute(gauging, *way)

    total = amount = 0.0
    for index, channel in enumerate(result.channels):
        added = own = 0.0
        for panel in result.panels:
            if panel.channel == index:
                added += panel.discharge_m3s
                own += abs(panel.discharge_m3s)
        assert channel.discharge_m3s == (added if abs(added) > 1e-12 * own else 0.0)
        total += channel.discharge_m3s
        amount += own
    if abs(total) > 1.001e-12 * amount:
        assert total == result.discharge_m3s
    else:
        assert result.discharge_m3s in (0.0, total)


@given(complete_gaugings())
def test_half_width_panels_fill_the_section(gauging: Gauging) -> None:
    """With half-width edges the panels' areas are the section's area, whatever the spacing."""
    result = compute(gauging)

    assert sum(panel.area_m2 for panel in result.panels) == pytest.approx(result.area_m2, rel=1e-9)


@given(complete_gaugings())
def test_shares_are_percent_of_the_total(gauging: Gauging) -> None:
    """Shares are those of the discharges; there are none where the panels cancel, and it is said.

    They cancel when a thousandth of their amounts or less is left.
    """
    result = compute(gauging)
    amount = math.fsum(abs(panel.discharge_m3s) for panel in result.panels)
    part = abs(result.discharge_m3s) / amount if amount else 0.0
    assume(abs(part - 1e-3) > 1e-12)

    assert any("panels cancel" in note for note in result.notes) == (amount > 0 and part < 1e-3)
    for panel in result.panels:
        if part < 1e-3:
            assert panel.share is None
        else:
            assert panel.share == panel.discharge_m3s / result.discharge_m3s * 100


@given(complete_gaugings(), ANY_WAY)
def test_the_mean_velocity_lies_among_those_of_the_verticals(
    gauging: Gauging, way: tuple[Method, EdgeRule]
) -> None:
    """Whatever the panels, the mean over them is no faster and no slower than any of them."""
    result = compute(gauging, *way)

    velocities = [panel.velocity_ms for panel in result.panels if panel.area_m2 > 0]
    assert result.mean_velocity_ms is not None
    assert min(velocities) - 1e-9 <= result.mean_velocity_ms <= max(velocities) + 1e-9


@given(complete_gaugings())
def test_every_velocity_that_was_not_read_is_noted(gauging: Gauging) -> None:
    """A sounding and a steep edge are named in the notes by their tape positions."""
    result = compute(gauging)

    for vertical in result.verticals:
        if vertical.velocity_from in ("interpolated", "wall factor"):
            assert any(f"{vertical.tape:.10g}" in note for note in result.notes)


def _figures(value: Any) -> Iterator[float]:
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, float):
        yield value
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _figures(inner)


@given(gaugings(), ANY_WAY)
def test_any_gauging_is_computed_or_refused(gauging: Gauging, way: tuple[Method, EdgeRule]) -> None:
    """No record gives a figure that is not finite, or another error than a refusal."""
    try:
        result = compute(gauging, *way)
    except InputRefused as refusal:
        assert all(fault.path is not None for fault in refusal.faults)
    else:
        assert all(math.isfinite(figure) for figure in _figures(attrs.asdict(result)))


def test_a_gauging_is_not_changed_by_computing() -> None:
    """Called values stay as they were called: the record holds no results."""
    gauging = Gauging(Units("ft", "ft/s"), (Channel((Vertical(1, 0), Vertical(0, 0))),))
    before = repr(gauging)
    compute(gauging)

    assert repr(gauging) == before
