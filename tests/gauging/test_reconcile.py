"""Filed totals held against the known rules, on records alone."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

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
from bankside.gauging.result import Result
from bankside.gauging.rounding import as_it_stands, to_figures

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


def _both(gauging: Gauging) -> tuple[Reconciliation, Result]:
    return _found(gauging), compute(gauging)


def _section(tape: Sequence[float], depth: Sequence[float], velocity: Sequence[float]) -> Gauging:
    """A section in metres of which nothing was filed."""
    verticals = tuple(
        Vertical(x, d, (PointReading(v),)) for x, d, v in zip(tape, depth, velocity, strict=True)
    )
    return Gauging(Units("m", "m/s"), (Channel(verticals),))


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
    # Products beyond what a float holds are nothing that could be explained.
    huge = _gauging(products=(None, 1.5e308, 1.5e308, None, None, None))
    assert reconcile(huge, compute(huge)) is None


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
    assert told[0] == "The filed total, 0.41 m³/s, follows none of the known rules."
    assert "0.2930 m³/s, 29 % less" in told[1]


def test_a_difference_in_words() -> None:
    """The words name the rule, our figure, the percentage and the verticals."""
    told = _told(_gauging(NEXT_TOTAL, NEXT))
    assert told[0] == 'The filed total, 0.312 m³/s, follows "distance to next vertical".'
    # (0.293 - 0.312) / 0.312 = -6.09 %; by vertical -0.006, -0.04, +0.03, -0.003.
    assert told[1].startswith("Mid-section (half-width edges) gives 0.2930 m³/s, 6.1 % less")
    # 0.040 + 0.030 of 0.079 is 89 %: more than four fifths, so no further one is named.
    assert told[1].endswith(
        "the verticals at tape 1 (-0.040 m³/s) and 2 (+0.030 m³/s) make most of the difference."
    )


def test_no_difference_in_words() -> None:
    """Where the filed total is ours, that is all there is to say."""
    assert _told(_gauging(MID_TOTAL, MID)) == (
        'The filed total, 0.293 m³/s, follows "mid-section" ("full cell at the edges" gives the '
        "same, as nothing flows at the edges).",
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
        assert found.exceptions == (2.0,)


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
    assert explain(found, result)[1] == "Mean-section gives the same, 0.2695 m³/s."


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


def test_every_rule_that_gives_the_same_is_named() -> None:
    """With even gaps four rules give one total, and the words do not pretend to know."""
    # Gaps of 1, products 0.06 and 0.12 whichever way the gaps are counted.
    even = _section((0.0, 1.0, 2.0, 3.0), (0.0, 0.3, 0.4, 0.0), (0.0, 0.2, 0.3, 0.0))
    told = explain(*_both(attrs.evolve(even, filed=Filed(0.18, "m3/s"))))
    assert told[0] == (
        'The filed total, 0.18 m³/s, follows "mid-section" ("distance to next vertical", '
        '"distance from last vertical" and "full cell at the edges" give the same; the spacing '
        "does not tell which)."
    )


def test_the_rule_that_fits_the_most_gaugings_is_said_to() -> None:
    """Where the other sheets decided which rule is named, the words say so."""
    even = _section((0.0, 1.0, 2.0, 3.0), (0.0, 0.3, 0.4, 0.0), (0.0, 0.2, 0.3, 0.0))
    season = [attrs.evolve(even, filed=Filed(0.18, "m3/s")), _gauging(NEXT_TOTAL, NEXT)]
    first, second = reconcile_all([(g, compute(g)) for g in season])
    assert first is not None and first.favoured
    assert second is not None and not second.favoured
    told = explain(first, compute(season[0]))[0]
    assert 'which; "distance to next vertical" fits the most gaugings here)' in told


@pytest.mark.parametrize(("total", "more"), [(0.29, "1 % more"), (0.3, "2.3 % less")])
def test_a_difference_within_a_coarse_last_digit_is_told_with_it(total: float, more: str) -> None:
    """0.293 rounds to 0.29 and to 0.3, which 0.290 and 0.300 read from a workbook look like."""
    assert round(MID_TOTAL, len(repr(total)) - 2) == total
    assert _told(_gauging(total))[1] == (
        f"Mid-section (half-width edges) gives 0.2930 m³/s, {more}, within the last digit of the "
        "filed total."
    )


def test_a_difference_within_a_fine_last_digit_is_none() -> None:
    """0.2934 is filed as 0.293 to three decimals: the same figure."""
    finer = _section((0.0, 1.0, 2.0, 3.0), (0.0, 0.3, 0.4, 0.0), (0.0, 0.2, 0.301, 0.0))
    # 1 x 0.3 x 0.2 + 1 x 0.4 x 0.301 = 0.1804
    assert _told(attrs.evolve(finer, filed=Filed(0.180, "m3/s")))[1].endswith("filed total.")
    assert _told(attrs.evolve(finer, filed=Filed(0.1804, "m3/s")))[1].endswith(
        "gives the same, 0.1804 m³/s."
    )


@pytest.mark.parametrize(("total", "less"), [(0.292, "0.34 % more"), (0.31, "5.5 % less")])
def test_a_difference_beyond_the_last_digit_is_told(total: float, less: str) -> None:
    """0.293 is neither 0.292 nor 0.31: (0.293 - 0.292) / 0.292, and (0.293 - 0.31) / 0.31."""
    assert _told(_gauging(total))[1].endswith(f"gives 0.2930 m³/s, {less}.")


def test_a_total_rounded_from_its_products_is_their_sum() -> None:
    """5.4 is the sum of products that add up to 5.43, and 5.43 the same within its last digit."""
    gauging = _gauging(0.3, MID)  # the products add up to 0.293
    found = _found(gauging)
    assert not found.apart
    told = _told(gauging)
    assert told[0].startswith('The filed total, 0.3 m³/s, follows "mid-section"')
    assert told[1] == (
        "Mid-section (half-width edges) gives 0.2930 m³/s, 2.3 % less, within the last digit of "
        "the filed total."
    )
    assert len(told) == 2


def test_a_slip_that_rounding_may_hide_is_no_accusation() -> None:
    """Products of two decimals may add up to 0.02 beside their total by rounding alone."""
    # 0.03 + 0.16 + 0.09 + 0.01 = 0.29 from products that are 0.293 unrounded.
    rounded = tuple(round(q, 2) for q in MID)
    told = _told(_gauging(0.28, rounded))
    assert "The filed products, as rounded, add up to 0.2900 m³/s." in told
    assert "not the sum" not in " ".join(told)
    # 0.26 is beyond half a digit of the total and of each of the four products, 0.025.
    assert _found(_gauging(0.26, rounded)).apart


def test_no_vertical_is_named_for_a_total_that_is_not_the_sum_of_its_products() -> None:
    """The products explain their own sum, not another total."""
    told = _told(_gauging(0.285, NEXT))
    assert told[1] == "Mid-section (half-width edges) gives 0.2930 m³/s, 2.8 % more."
    assert told[2] == "The filed total is not the sum of its own products, 0.3120 m³/s."


# By hand: gap × mean depth × mean velocity, on the row before the gap.
MEAN = (
    0.4 * 0.15 * 0.1,
    0.6 * 0.4 * 0.3,
    1.0 * 0.45 * 0.35,
    0.5 * 0.3 * 0.2,
    0.8 * 0.1 * 0.05,
    0.0,
)


@pytest.mark.parametrize("products", [MEAN, (None, *MEAN[:5])])
def test_mean_section_products_are_held_against_panels_of_their_own_kind(
    products: Sequence[float | None],
) -> None:
    """They lie between two verticals, whichever of the two rows they stand on."""
    gauging = _gauging(sum(MEAN), products)
    found = _found(gauging)
    assert (found.rule, found.evidence) == ("mean-section", "products")
    ends = [(p.tape, p.tape_to) for p in found.panels if p.tape_to is not None]
    assert ends == list(pairwise(TAPE))
    assert [p.difference_m3s for p in found.panels] == pytest.approx([0.0] * len(found.panels))
    # No vertical of ours stands for such a product: (0.293 - 0.2695) / 0.2695 = 8.7 %.
    assert _told(gauging)[1] == "Mid-section (half-width edges) gives 0.2930 m³/s, 8.7 % more."


def test_a_slipped_mean_section_product_is_named_by_its_stretch() -> None:
    """Beside our mean-section figure the stretch that makes the difference is named."""
    slipped = (*MEAN[:2], MEAN[2] + 0.05, *MEAN[3:])
    gauging = _gauging(sum(slipped), slipped)
    result = compute(gauging, "mean-section")
    found = reconcile(gauging, result)
    assert found is not None and found.exceptions == (1.0,)
    told = explain(found, result)
    assert told[0].startswith('The filed products follow "mean-section", except at tape 1; ')
    assert told[1].endswith("the stretch at tape 1 to 2 (-0.050 m³/s) makes the difference.")


def test_differences_below_the_last_digit_of_the_products_are_not_named() -> None:
    """What rounding makes is no vertical's difference."""
    products = tuple(round(q, 2) for q in MID)  # 0.03, 0.16, 0.09 and 0.01 for 0.013
    slipped = (*products[:3], 0.12, *products[4:])
    found = _found(_gauging(0.32, slipped))
    assert found.products_rounding_m3s == pytest.approx(0.005)
    told = _told(_gauging(0.32, slipped))
    assert told[1].endswith("the vertical at tape 2 (-0.030 m³/s) makes the difference.")


def test_products_alone_are_called_products() -> None:
    """No total is spoken of where the sheet has none."""
    gauging = _gauging(products=NEXT)
    found = _found(gauging)
    assert not found.total_filed
    assert found.figure == pytest.approx(NEXT_TOTAL)
    told = _told(gauging)
    assert told[0] == (
        'The filed products add up to 0.312 m³/s and follow "distance to next vertical".'
    )
    assert "filed total" not in " ".join(told)


def test_a_last_product_that_is_the_sum_of_the_others_is_the_total() -> None:
    """A total written in the column of products on the last row is no product."""
    found = _found(_gauging(products=(*MID[:5], MID_TOTAL)))
    assert (found.total_filed, found.figure, found.rule) == (True, MID_TOTAL, "mid-section")
    assert found.products_m3s == pytest.approx(MID_TOTAL)
    assert [p.tape for p in found.panels] == list(TAPE[:5])
    # Where it is not their sum it stays a product, however odd.
    assert not _found(_gauging(products=(*MID[:5], 0.5))).total_filed


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (7.38, "7.38"),
        (2.0, "2"),
        (5430.0, "5430"),
        (0.0012, "0.0012"),
        (0.1 + 0.2, "0.3"),
        (1 / 3, "0.3333"),
        (123456.0, "123456"),
    ],
)
def test_filed_figures_stand_as_they_were_written(value: float, shown: str) -> None:
    """No zero is added to what was filed, and no unrounded number is written out."""
    assert as_it_stands(value) == shown
    assert f"The filed total, {shown} m³/s, " in _told(_gauging(value))[0]


@pytest.mark.parametrize(
    ("value", "shown"), [(5.43, "5.430"), (0.0, "0"), (99.996, "100.0"), (1.2e-6, "0.000001200")]
)
def test_our_figures_have_four_figures(value: float, shown: str) -> None:
    """Trailing zeros are figures; powers of ten are not written."""
    assert to_figures(value) == shown


@pytest.mark.parametrize("coefficient", [None, 0.5])
@pytest.mark.parametrize("form", ["products", "total"])
def test_angles_left_out_of_the_filed_figures(coefficient: float | None, form: str) -> None:
    """Products of velocities as read follow their rule without the angle, and it is said."""
    bare = _gauging(MID_TOTAL, MID if form == "products" else ())
    angle = None if coefficient is not None else 60.0  # a cosine of 0.5
    turned = tuple(
        attrs.evolve(v, angle=angle, angle_coefficient=coefficient) if v.tape == 1.0 else v
        for v in bare.channels[0].verticals
    )
    gauging = attrs.evolve(bare, channels=(Channel(turned),))
    found = _found(gauging)
    assert (found.rule, found.evidence, found.angles_left_out) == ("mid-section", form, True)
    # Half of 0.16 is lost at tape 1: 0.293 - 0.08 = 0.213, 27 % less.
    told = _told(gauging)
    assert told[0].startswith(
        'The filed total, 0.293 m³/s, follows "mid-section" with the angles left out'
    )
    assert told[1].startswith(
        "Mid-section (half-width edges), with the angles applied, gives 0.2130 m³/s, 27 % less"
    )


def test_angles_that_were_applied_are_not_left_out() -> None:
    """Where the rule fits with the angle, nothing is said of it."""
    bare = _gauging(MID_TOTAL - 0.08)
    turned = tuple(
        attrs.evolve(v, angle=60.0) if v.tape == 1.0 else v for v in bare.channels[0].verticals
    )
    found = _found(attrs.evolve(bare, channels=(Channel(turned),)))
    assert (found.rule, found.angles_left_out) == ("mid-section", False)


@pytest.mark.parametrize("form", ["products", "total"])
@pytest.mark.parametrize(("unit", "size"), [("L/s", 0.001), ("ft3/s", CUBIC_FOOT)])
def test_figures_in_another_unit_than_stated(form: str, unit: str, size: float) -> None:
    """Where nothing fits in the unit stated and something does in another, both are named."""
    products = [q / size for q in NEXT] if form == "products" else []
    gauging = _gauging(NEXT_TOTAL / size, products, unit="m3/s")
    found = _found(gauging)
    assert (found.rule, found.unit, found.unit_stated) == (
        "distance to next vertical",
        unit,
        "m3/s",
    )
    assert found.evidence == form
    assert found.discharge_m3s == pytest.approx(NEXT_TOTAL, rel=1e-12)
    told = _told(gauging)
    shown = {"L/s": "L/s", "ft3/s": "ft³/s"}[unit]
    assert told[1] == f"That fits if the figures are in {shown}, not in m³/s as stated."
    assert "m³/s" not in told[0]


def test_a_coarse_total_contradicts_no_unit() -> None:
    """A bare 10 may be many things: the unit stated is not doubted for it."""
    # 0.293 m³/s is 10.347 ft³/s.
    assert (_found(_gauging(10.3)).unit, _found(_gauging(10.3)).rule) == ("ft3/s", "mid-section")
    coarse = _found(_gauging(10.0))
    assert (coarse.unit, coarse.rule) == ("m3/s", None)


def test_a_unit_that_was_found_out_is_said_to_be() -> None:
    """The words do not claim a unit that the sheet does not give."""
    told = _told(_gauging(312.0, unit=None))
    assert told[0].startswith("The filed total, 312 L/s, follows")
    assert told[1] == "The sheet gives no unit of discharge; L/s fits."
    assert "The sheet gives no unit" not in " ".join(_told(_gauging(312.0, unit="L/s")))
    odd = _told(_gauging(400.0, unit=None))
    assert odd[1] == "The sheet gives no unit of discharge; L/s comes nearest to our figure."


def test_nothing_but_the_rounding_of_floats_is_nothing() -> None:
    """Flow back and forth that cancels out is 0, on the sheet and in ours."""
    # Gaps of 1: -0.12 + 0.09 + 0.03 = 0, which floats miss by 1e-17.
    gauging = _section((0.0, 1.0, 2.0, 3.0, 4.0), (0, 0.4, 0.9, 1.2, 0), (0, -0.3, 0.1, 0.025, 0))
    for products in ((), (0.0, -0.12, 0.09, 0.03, 0.0)):
        panels = tuple(FiledPanel(0, i, None, None, q) for i, q in enumerate(products))
        found, result = _both(attrs.evolve(gauging, filed=Filed(0.0, "m3/s", panels)))
        assert found.rule == "mid-section"
        assert (found.difference_m3s, found.difference_percent) == (0.0, None)
        told = explain(found, result)
        assert told[0].startswith('The filed total, 0 m³/s, follows "mid-section"')
        assert told[1:] == ("Mid-section (half-width edges) gives the same, 0 m³/s.",)


def test_still_water_is_0_by_every_rule() -> None:
    """Where nothing flows no rule is named, for none can be told."""
    still = _section((0.0, 1.0, 2.0, 3.0), (0.0, 0.3, 0.4, 0.0), (0.0, 0.0, 0.0, 0.0))
    told = explain(*_both(attrs.evolve(still, filed=Filed(0.0, "m3/s"))))
    assert told == (
        "The filed total, 0 m³/s, is what every rule gives.",
        "Mid-section (half-width edges) gives the same, 0 m³/s.",
    )


def test_a_total_that_runs_the_other_way() -> None:
    """A filed total against the stream is no percentage of ours."""
    told = _told(_gauging(-0.41))
    assert told[1].endswith("gives 0.2930 m³/s, in the opposite direction to the filed total.")


def test_water_without_a_velocity_is_told_where_the_rule_counts_it() -> None:
    """Soundings count as zero in the filed figures, but not where the rule gives no width."""
    bare = _gauging()
    verticals = list(bare.channels[0].verticals)
    verticals[3] = attrs.evolve(verticals[3], velocity=())
    verticals[5] = attrs.evolve(verticals[5], velocity=(), depth=0.1)
    panels = tuple(
        FiledPanel(0, i, None, None, q) for i, q in enumerate((*NEXT[:3], 0.0, *NEXT[4:]))
    )
    gauging = attrs.evolve(
        bare, channels=(Channel(tuple(verticals)),), filed=Filed(None, "m3/s", panels)
    )
    found = _found(gauging)
    assert found.rule == "distance to next vertical"
    assert found.unread == (2.0,)
    assert (
        "The filed figures count a velocity of zero at tape 2, where there is water and none was "
        "read."
    ) in _told(gauging)


def test_the_channel_of_a_vertical_is_named_where_there_are_several() -> None:
    """A tape position of two channels is told apart."""
    bare = _gauging()
    products = (*MID, *MID[:3], MID[3] + 0.05, *MID[4:])
    panels = tuple(FiledPanel(i // 6, i % 6, None, None, q) for i, q in enumerate(products))
    gauging = attrs.evolve(
        bare, channels=bare.channels * 2, filed=Filed(sum(products), "m3/s", panels)
    )
    assert "the vertical at tape 2 of channel 2 (-0.050 m³/s) makes" in _told(gauging)[1]
