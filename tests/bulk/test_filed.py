"""Filed totals are held against the rules as `reconcile` does it."""

from __future__ import annotations

import random

import attrs
import numpy as np
import pytest

from bankside.bulk.figures import figures_of
from bankside.bulk.filed import explained
from bankside.gauging.compute import compute
from bankside.gauging.filed_rules import products_by_rule, stations_of_sheet
from bankside.gauging.reconcile import reconcile
from bankside.gauging.records import Filed, Gauging
from bankside.gauging.uncertainty_flow import Assumed

from .gaugings import TRANSECTS, as_given, demo, sheets, simulated

RULES = (
    "mid-section",
    "distance to next vertical",
    "distance from last vertical",
    "full cell at the edges",
    "mean-section",
)


def _agree(gaugings: list[Gauging]) -> int:
    """Hold every gauging against `reconcile`; return how many totals told a rule."""
    given = as_given(gaugings)
    figures = figures_of(given.columns, Assumed(), "none")
    assert given.filed_m3s is not None
    found = explained(
        given.columns,
        given.vertical,
        given.filed_m3s,
        given.filed_rounding_m3s,
        figures["discharge_m3s"],
        figures["amount_m3s"],
    )
    told = 0
    for k, gauging in enumerate(gaugings):
        filed = reconcile(gauging, compute(gauging))
        ours = {name: column[k].as_py() for name, column in found.items()}
        if filed is None:
            assert set(ours.values()) == {None}
            continue
        assert ours["filed_difference_m3s"] == filed.difference_m3s
        assert ours["filed_difference_percent"] == filed.difference_percent
        if filed.evidence != "products" and not filed.angles_left_out:
            rules = {rule for rule in (filed.rule, *filed.also) if rule is not None}
            assert set(filter(None, ours["filed_rules"].split("; "))) == rules
            told += bool(rules)
    return told


def test_simulated_totals_by_every_rule_up_and_down_the_tape() -> None:
    """Totals as a spreadsheet would have them, in m³/s to three digits, and some that fit none."""
    rng = random.Random(7)
    gaugings = []
    for number, gauging in enumerate(simulated(120)):
        channel = gauging.channels[0]
        if number % 2:
            turned = attrs.evolve(channel, verticals=channel.verticals[::-1])
            gauging = attrs.evolve(gauging, channels=(turned,))
        stations = stations_of_sheet(gauging, compute(gauging))
        products = products_by_rule(RULES[number % len(RULES)], stations)
        assert products is not None
        total = sum(products) * rng.choice((1.0, 1.0, 1.3))
        filed = Filed(discharge=float(f"{total:.3g}"), unit="m3/s")
        gaugings.append(attrs.evolve(gauging, filed=filed))

    assert _agree(gaugings) > 60


def test_the_demo() -> None:
    """Whatever its sheets carry, products and totals in feet among them."""
    assert np.isfinite(_agree(list(demo())))


def test_the_public_transects() -> None:
    """Every filed total of them."""
    if not TRANSECTS.exists():
        pytest.skip("the survey's flow transects are not beside this repository")
    _agree(list(sheets([TRANSECTS])))
