"""The methods side by side: worked by hand, and what keeps one of them silent."""

import attrs
import pytest

from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging, Vertical
from bankside.gauging.uncertainty import Assumed, uncertainty_budgets, uncertainty_refusals

from .worked import SI, SIX, WORKED, between_banks, budgets, even, percents, read

# docs/method.md shows the way to each figure; all are by hand.
BY_HAND = {
    "iso-748": (
        {
            "verticals": 6.9,
            "depth": 0.7834,
            "width": 0.2611,
            "meter": 0.6856,
            "exposure": 1.5303,
            "vertical profile": 3.0536,
            "systematic": 1.0,
        },
        7.8376,
    ),
    "interpolated-variance": (
        {
            "scatter of depth": 8.1749,
            "scatter of velocity": 7.4462,
            "width": 0.2611,
            "systematic": 1.0,
        },
        11.1059,
    ),
    "components": ({"verticals": 6.6127, "flow angle": 1.0, "systematic": 0.8660}, 6.7437),
}


@pytest.mark.parametrize("key", BY_HAND)
def test_the_budgets_worked_by_hand(key: str) -> None:
    """Six verticals in unequal panels, one with two points: every part and the total."""
    parts, total = BY_HAND[key]
    budget = budgets(WORKED)[key]

    assert percents(budget) == pytest.approx(parts, abs=6e-5)
    assert budget.standard_percent == pytest.approx(total, abs=1e-4)
    assert budget.expanded_percent == 2 * budget.standard_percent


def test_the_model_comes_first() -> None:
    """The first budget is the one to be quoted; then ISO 748, scatter and components."""
    assert list(budgets(WORKED)) == ["between-verticals", *BY_HAND]
    assert uncertainty_refusals(WORKED, compute(WORKED)) == ()


def test_what_is_from_memory_says_so() -> None:
    """No printed source was at hand: each part of the published methods says so."""
    for key, budget in budgets(WORKED).items():
        if key == "between-verticals":
            continue
        assert "from memory" in budget.method
        assert [part.name for part in budget.parts if "from memory" not in part.basis] == []


def test_components_name_what_is_left_out() -> None:
    """Four terms have no source at hand: they are named, and the figure is called a lower bound."""
    budget = budgets(WORKED)["components"]

    assert [text.rsplit("(", 1)[1] for text in budget.left_out] == ["S_d)", "S_t)", "S_i)", "S_s)"]
    assert any("lower bound" in remark for remark in budget.remarks)


def test_too_few_verticals_for_scatter() -> None:
    """Five verticals leave three residuals: the method is silent and the reason counts them."""
    gauging = Gauging(SI, (even(5),))
    (reason,) = uncertainty_refusals(gauging, compute(gauging))

    assert list(budgets(gauging)) == ["between-verticals", "iso-748", "components"]
    assert "6 verticals" in reason
    assert reason.endswith("(found 3).")


@pytest.mark.parametrize(
    ("velocities", "reason"),
    [((0.0, 0.0), "the discharge is 0"), ((0.4, -0.4), "the panels cancel out")],
)
def test_no_percent_of_nothing(velocities: tuple[float, float], reason: str) -> None:
    """Without a discharge there is nothing that a percent could be of."""
    channel = between_banks(
        *(read(x, 0.5, v) for x, v in zip((1.0, 2.0), velocities, strict=True)), right=3.0
    )
    gauging = Gauging(SI, (channel,))
    result = compute(gauging)

    assert uncertainty_budgets(gauging, result) == ()
    assert uncertainty_refusals(gauging, result) == (
        f"No uncertainty can be given in percent: {reason}.",
    )


def test_two_like_channels_are_worth_the_root_of_two() -> None:
    """By hand: 10 verticals have 4.5 %; two such channels have 4.5/√2 = 3.182, not that of 20."""
    budget = budgets(Gauging(SI, (even(10), even(10, left=20.0))))

    assert percents(budget["iso-748"])["verticals"] == pytest.approx(3.182, abs=5e-4)
    # 32 · 10^-0.88 = 4.21842; over √2.
    assert percents(budget["components"])["verticals"] == pytest.approx(2.9829, abs=5e-5)
    assert any("parted by dry ground" in remark for remark in budget["iso-748"].remarks)


def test_an_island_is_two_channels() -> None:
    """One channel with an island and two channels have the same budgets."""
    left, right = SIX, even(7, left=10.0)
    one = Gauging(SI, (Channel((*_unmarked(left), *_unmarked(right))),))
    two = Gauging(SI, (left, right))

    for found, expected in zip(budgets(one).values(), budgets(two).values(), strict=True):
        assert percents(found) == pytest.approx(percents(expected), rel=1e-12)


def _unmarked(channel: Channel) -> list[Vertical]:
    return [attrs.evolve(vertical, edge=None) for vertical in channel.verticals]


def test_a_stone_parts_no_water() -> None:
    """A single dry vertical between wet ones leaves the number of verticals whole."""
    verticals = [read(float(x), 0.5, 0.6) for x in range(1, 22)]
    verticals[10] = Vertical(11.0, dry=True)
    budget = budgets(Gauging(SI, (between_banks(*verticals, right=22.0),)))

    assert percents(budget["iso-748"])["verticals"] == 2.5
    # Water on either side is even, and the stone is no residual.
    assert percents(budget["interpolated-variance"])["scatter of depth"] == pytest.approx(0.0)


def test_water_that_runs_back_is_counted_by_its_amount() -> None:
    """By hand: 9 panels of 0.3 and one of -0.3 m³/s; 4.5 % of 3.0 are 5.625 % of 2.4."""
    channel = even(10)
    back = [attrs.evolve(channel.verticals[5], velocity=read(0, 1, -0.6).velocity)]
    verticals = (*channel.verticals[:5], *back, *channel.verticals[6:])
    found = budgets(Gauging(SI, (Channel(verticals),)))["iso-748"]

    assert percents(found)["verticals"] == pytest.approx(5.625)
    # Ten panels of 0.3 with 1.5 % each, over 2.4.
    assert percents(found)["depth"] == pytest.approx(0.3 * 1.5 * 10**0.5 / 2.4)
    assert percents(found)["systematic"] == 1.0
    assert any("runs back at tape 5 m" in remark for remark in found.remarks)


def test_what_is_assumed_can_be_given() -> None:
    """Other figures for width, depth and what is common go into the parts as they are."""
    assumed = Assumed(width_percent=1.0, depth_percent=3.0, systematic_percent=2.0)
    _, iso, scatter, _ = uncertainty_budgets(WORKED, compute(WORKED), assumed)

    parts, _ = BY_HAND["iso-748"]
    for budget in (iso, scatter):
        assert percents(budget)["systematic"] == 2.0
        assert percents(budget)["width"] == pytest.approx(2 * parts["width"], abs=2e-4)
    assert percents(iso)["depth"] == pytest.approx(2 * parts["depth"], abs=2e-4)
    assert next(part for part in iso.parts if part.name == "depth").basis.startswith("3 %")


def test_other_panels_have_the_percents_of_mid_section() -> None:
    """A discharge by mean-section has the budgets of mid-section, and says so."""
    for budget in uncertainty_budgets(WORKED, compute(WORKED, "mean-section")):
        if budget.key in BY_HAND:
            parts, total = BY_HAND[budget.key]
            assert percents(budget) == pytest.approx(parts, abs=6e-5)
            assert budget.standard_percent == pytest.approx(total, abs=1e-4)
        assert any("made for mid-section" in remark for remark in budget.remarks)


def test_triangular_edges_have_their_own_shares() -> None:
    """By hand: the first and last panel are 1.125 m wide, so q is 0.09 twice and Q 1.845 m³/s."""
    _, iso, *_ = uncertainty_budgets(WORKED, compute(WORKED, edge_rule="triangular"))

    squares = 2 * 0.09**2 + 0.24**2 + 0.675**2 + 0.6**2 + 0.15**2
    assert percents(iso)["depth"] == pytest.approx(1.5 * squares**0.5 / 1.845, rel=1e-9)
