"""Filed totals held against the known rules, on records alone."""

from collections.abc import Sequence
from datetime import date

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.compute import compute
from bankside.gauging.reconcile import Reconciliation, reconcile, reconcile_all
from bankside.gauging.reconcile_words import explain
from bankside.gauging.records import (
    Channel,
    Filed,
    FiledPanel,
    Gauging,
    PointReading,
    Units,
    Vertical,
)

CUBIC_FOOT = 0.3048**3

# Unequal gaps 0.4, 0.6, 1.0, 0.5, 0.8; depth × velocity 0, 0.06, 0.2, 0.12, 0.02, 0.
TAPE = (0.0, 0.4, 1.0, 2.0, 2.5, 3.3)
DEPTH = (0.0, 0.3, 0.5, 0.4, 0.2, 0.0)
VELOCITY = (0.0, 0.2, 0.4, 0.3, 0.1, 0.0)

# By hand, vertical by vertical.
MID = (0.0, 0.5 * 0.06, 0.8 * 0.2, 0.75 * 0.12, 0.65 * 0.02, 0.0)
NEXT = (0.0, 0.6 * 0.06, 1.0 * 0.2, 0.5 * 0.12, 0.8 * 0.02, 0.0)
LAST = (0.0, 0.4 * 0.06, 0.6 * 0.2, 1.0 * 0.12, 0.5 * 0.02, 0.0)
MID_TOTAL = 0.293
NEXT_TOTAL = 0.312
LAST_TOTAL = 0.274


def _gauging(
    total: float | None = None,
    products: Sequence[float | None] = (),
    widths: Sequence[float | None] = (),
    unit: str | None = "m3/s",
    units: Units = Units("m", "m/s"),  # noqa: B008 - frozen
) -> Gauging:
    """The section above with what a sheet carried."""
    verticals = tuple(
        Vertical(x, d, (PointReading(v),)) for x, d, v in zip(TAPE, DEPTH, VELOCITY, strict=True)
    )
    panels = tuple(
        FiledPanel(
            0,
            i,
            widths[i] if widths else None,
            None,
            products[i] if products else None,
        )
        for i in range(len(TAPE))
        if (products and products[i] is not None) or (widths and widths[i] is not None)
    )
    filed = Filed(total, unit, panels) if total is not None or panels else None  # type: ignore[arg-type]
    return Gauging(units, (Channel(verticals),), date=date(2026, 7, 14), filed=filed)


def _found(gauging: Gauging) -> Reconciliation:
    found = reconcile(gauging, compute(gauging))
    assert found is not None
    return found


def _told(gauging: Gauging) -> tuple[str, ...]:
    return explain(_found(gauging), compute(gauging))


def test_the_hand_figures() -> None:
    """The totals used below are the sums of the products used below."""
    for products, total in ((MID, MID_TOTAL), (NEXT, NEXT_TOTAL), (LAST, LAST_TOTAL)):
        assert sum(products) == pytest.approx(total, rel=1e-12)
    assert compute(_gauging()).discharge_m3s == pytest.approx(MID_TOTAL, rel=1e-12)


def test_nothing_filed_is_nothing_to_explain() -> None:
    """A record without filed figures, or with widths alone, has no total to explain."""
    bare, widths = _gauging(), _gauging(widths=(1.0,) * 6)
    assert reconcile(bare, compute(bare)) is None
    assert reconcile(widths, compute(widths)) is None


@pytest.mark.parametrize(
    ("products", "rule", "total"),
    [
        (NEXT, "distance to next vertical", NEXT_TOTAL),
        (LAST, "distance from last vertical", LAST_TOTAL),
        (MID, "mid-section", MID_TOTAL),
    ],
)
def test_products_tell_the_rule(products: Sequence[float], rule: str, total: float) -> None:
    """Products name their rule; their sum is the filed figure where no total is filed."""
    found = _found(_gauging(products=products))
    assert (found.rule, found.evidence, found.unit) == (rule, "products", "m3/s")
    assert found.discharge_m3s == pytest.approx(total, rel=1e-12)
    assert found.products_m3s == pytest.approx(total, rel=1e-12)
    assert found.rule_m3s == pytest.approx(total, rel=1e-12)
    assert found.difference_m3s == pytest.approx(MID_TOTAL - total, abs=1e-12)
    assert [p.ours_m3s for p in found.panels] == pytest.approx(MID, abs=1e-15)
    assert [p.filed_m3s for p in found.panels] == pytest.approx(products, abs=1e-15)


@pytest.mark.parametrize(("unit", "size"), [("L/s", 0.001), ("ft3/s", CUBIC_FOOT), ("m3/s", 1.0)])
@pytest.mark.parametrize("said", [True, False])
def test_a_total_in_any_unit(unit: str, size: float, said: bool) -> None:
    """A total's unit is taken as said, or found out by the figures."""
    found = _found(_gauging(NEXT_TOTAL / size, unit=unit if said else None))
    assert (found.rule, found.unit, found.evidence) == ("distance to next vertical", unit, "total")
    assert found.discharge_m3s == pytest.approx(NEXT_TOTAL, rel=1e-12)


def test_feet_and_a_silent_total() -> None:
    """In feet a silent total is in cubic feet a second."""
    found = _found(_gauging(NEXT_TOTAL, unit=None, units=Units("ft", "ft/s")))
    assert (found.rule, found.unit) == ("distance to next vertical", "ft3/s")
    assert found.discharge_m3s == pytest.approx(NEXT_TOTAL * CUBIC_FOOT, rel=1e-12)


def test_a_depth_in_centimetres() -> None:
    """Products of metres, centimetres and metres a second have a unit of their own, and a rule."""
    bare = _gauging(units=Units("m", "m/s", "cm"))
    deep = tuple(attrs.evolve(v, depth=100 * (v.depth or 0.0)) for v in bare.channels[0].verticals)
    panels = tuple(FiledPanel(0, i, None, None, 100 * q) for i, q in enumerate(NEXT))
    filed = Filed(100 * NEXT_TOTAL, None, panels)
    found = _found(attrs.evolve(bare, channels=(Channel(deep),), filed=filed))
    assert found.rule == "distance to next vertical"
    assert found.discharge_m3s == pytest.approx(NEXT_TOTAL, rel=1e-9)


def test_a_total_that_follows_no_rule() -> None:
    """A total from nowhere follows no rule, and its difference is told without any reason."""
    found = _found(_gauging(0.41))
    assert (found.rule, found.also, found.evidence) == (None, (), None)
    assert found.difference_m3s == pytest.approx(MID_TOTAL - 0.41, abs=1e-12)
    told = _told(_gauging(0.41))
    assert told[0] == "The filed total, 0.4100 m³/s, follows none of the known rules."
    assert "0.2930 m³/s, 29 % less" in told[1]


def test_a_difference_in_words() -> None:
    """The words name the rule, our figure, the percentage and the verticals."""
    told = _told(_gauging(NEXT_TOTAL, NEXT))
    assert told[0] == 'The filed total, 0.3120 m³/s, follows "distance to next vertical".'
    # (0.293 - 0.312) / 0.312 = -6.09 %; by vertical -0.006, -0.04, +0.03, -0.003.
    assert told[1].startswith("Mid-section (half-width edges) gives 0.2930 m³/s, 6.1 % less")
    assert "1 (-0.040 m³/s), 2 (+0.030 m³/s)" in told[1]


def test_no_difference_in_words() -> None:
    """Where the filed total is ours, that is all there is to say."""
    assert _told(_gauging(MID_TOTAL, MID)) == (
        'The filed total, 0.2930 m³/s, follows "mid-section".',
        "Mid-section (half-width edges) gives the same, 0.2930 m³/s.",
    )


def test_a_total_of_zero_beside_flowing_water() -> None:
    """A filed total of 0 is not the same as ours where ours is not 0."""
    told = " ".join(_told(_gauging(0.0)))
    assert "gives the same" not in told
    assert "0.2930 m³/s" in told


@pytest.mark.parametrize("total", [0.0012, 0.002, 31.2, 3120.0])
def test_large_differences_are_written_as_people_write_them(total: float) -> None:
    """No power of ten and no bare point stands in the words, however far off a total is."""
    told = " ".join(_told(_gauging(total)))
    assert "e+" not in told and "e-" not in told
    assert ". m³/s" not in told and ". L/s" not in told


def test_one_exception_among_the_products() -> None:
    """One product that slipped is the exception; the rule is that of the others."""
    slipped = (*NEXT[:3], NEXT[3] * 1.5, *NEXT[4:])
    # Four rows flow, so that one slip is a quarter of them: no rule may be named for certain.
    found = _found(_gauging(sum(slipped), slipped))
    assert found.discharge_m3s == pytest.approx(NEXT_TOTAL + 0.03, rel=1e-12)
    if found.rule is not None and found.evidence == "products":
        assert [p.tape for p in found.panels if p.exception] == [2.0]


def test_a_product_left_out_is_no_exception() -> None:
    """Rows without a product say nothing for or against a rule."""
    found = _found(_gauging(NEXT_TOTAL, (None, *NEXT[1:5], None)))
    assert found.rule == "distance to next vertical"
    assert [p.tape for p in found.panels] == [0.4, 1.0, 2.0, 2.5]
    assert not any(p.exception for p in found.panels)


def test_a_total_against_its_own_products() -> None:
    """A total that contradicts its own products is told with both figures."""
    told = _told(_gauging(0.296, NEXT))
    assert "The filed total is not the sum of its own products, 0.3120 m³/s." in told
    # The total is not what that rule gives: to say that it follows the rule would mislead.
    assert told[0] != 'The filed total, 0.2960 m³/s, follows "distance to next vertical".'


def test_the_rule_of_the_season_settles_equal_spacing() -> None:
    """Where one gauging fits several rules, the rule of the other gaugings is named."""
    even = Gauging(
        Units("m", "m/s"),
        (
            Channel(
                tuple(
                    Vertical(float(x), d, (PointReading(v),))
                    for x, d, v in ((0, 0.0, 0.0), (1, 0.4, 0.3), (2, 0.5, 0.2), (3, 0.0, 0.0))
                )
            ),
        ),
        filed=Filed(0.22, "m3/s"),
    )
    alone = _found(even)
    assert alone.rule == "mid-section"
    assert {"distance to next vertical", "distance from last vertical"} <= set(alone.also)
    odd = _gauging(NEXT_TOTAL)
    together = reconcile_all([(g, compute(g)) for g in (even, odd)])
    assert [found and found.rule for found in together] == ["distance to next vertical"] * 2
    assert reconcile_all([]) == []


def test_the_order_of_the_tape_does_not_matter_to_the_rule() -> None:
    """A tape read from the far bank has its next vertical below it: the rule is the same."""
    forward = _gauging()
    back = tuple(reversed(forward.channels[0].verticals))
    # On this sheet the next vertical is the one towards the tape's zero: LAST, read backwards.
    panels = tuple(FiledPanel(0, i, None, None, q) for i, q in enumerate(reversed(LAST)))
    gauging = attrs.evolve(
        forward, channels=(Channel(back),), filed=Filed(LAST_TOTAL, "m3/s", panels)
    )
    assert _found(gauging).rule == "distance to next vertical"


def test_channels_are_explained_each_by_itself() -> None:
    """The rule is applied within each channel; no product reaches over into the next."""
    bare = _gauging()
    panels = tuple(FiledPanel(c, i, None, None, q) for c in (0, 1) for i, q in enumerate(NEXT))
    gauging = attrs.evolve(
        bare, channels=bare.channels * 2, filed=Filed(2 * NEXT_TOTAL, "m3/s", panels)
    )
    found = _found(gauging)
    assert found.rule == "distance to next vertical"
    assert found.difference_m3s == pytest.approx(2 * (MID_TOTAL - NEXT_TOTAL), abs=1e-12)
    assert [p.channel for p in found.panels] == [0] * 6 + [1] * 6


def test_a_mean_section_result_is_held_against_the_filed_total() -> None:
    """Our mean-section figure is compared by the total; its panels lie between verticals."""
    # By hand: gap × mean depth × mean velocity.
    mean = (
        0.4 * 0.15 * 0.1 + 0.6 * 0.4 * 0.3 + 1.0 * 0.45 * 0.35 + 0.5 * 0.3 * 0.2 + 0.8 * 0.1 * 0.05
    )
    gauging = _gauging(mean)
    result = compute(gauging, "mean-section")
    found = reconcile(gauging, result)
    assert found is not None
    assert found.rule == "mean-section"
    assert found.difference_m3s == pytest.approx(0.0, abs=1e-12)
    assert found.panels == ()
    assert explain(found, result)[1] == "Mean-section gives the same here, 0.2695 m³/s."


def test_triangular_edges_are_named_in_words() -> None:
    """The words name the edge rule of our own figure."""
    gauging = _gauging(MID_TOTAL)
    result = compute(gauging, "mid-section", "triangular")
    found = reconcile(gauging, result)
    assert found is not None
    # Beside the banks: 0.06 × 0.6²/(8 × 0.4) and 0.02 × 0.5²/(8 × 0.8) more.
    assert found.difference_m3s == pytest.approx(0.06 * 0.36 / 3.2 + 0.02 * 0.25 / 6.4, abs=1e-12)
    assert explain(found, result)[1].startswith("Mid-section (triangular edges) gives 0.3005 m³/s")


@pytest.mark.parametrize(
    ("widths", "meaning"),
    [
        ((0.2, 0.5, 0.8, 0.75, 0.65, 0.4), "panel width"),
        ((0.4, 0.6, 1.0, 0.5, 0.8, None), "distance to the next vertical"),
        ((None, 0.4, 0.6, 1.0, 0.5, 0.8), "distance from the last vertical"),
        ((0.4, 0.5, 0.8, 0.75, 0.65, 0.8), "panel width with a full cell at the edges"),
    ],
)
def test_what_widths_mean(widths: Sequence[float | None], meaning: str) -> None:
    """The tape tells what a width column means, whatever the total."""
    assert _found(_gauging(MID_TOTAL, widths=widths)).widths == (meaning,)


def test_widths_of_no_meaning() -> None:
    """Widths that fit the tape in no way mean nothing."""
    assert _found(_gauging(MID_TOTAL, widths=(0.1, 0.9, 0.3, 0.2, 0.9, 0.1))).widths == ()


@given(st.floats(0.01, 100.0))
def test_scaling_the_section_scales_the_explanation(factor: float) -> None:
    """Depths and filed figures all times one factor: the same rule, the difference times it."""
    bare = _gauging()
    verticals = tuple(
        attrs.evolve(v, depth=factor * (v.depth or 0.0)) for v in bare.channels[0].verticals
    )
    panels = tuple(FiledPanel(0, i, None, None, factor * q) for i, q in enumerate(NEXT))
    filed = Filed(factor * NEXT_TOTAL, "m3/s", panels)
    found = _found(attrs.evolve(bare, channels=(Channel(verticals),), filed=filed))
    assert found.rule == "distance to next vertical"
    assert found.difference_m3s == pytest.approx(factor * (MID_TOTAL - NEXT_TOTAL), rel=1e-9)
