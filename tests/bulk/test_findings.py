"""The compiled checks find what the catalogue finds, at as many places, with the same severity."""

from __future__ import annotations

from collections import Counter

import attrs
import pytest

from bankside.bulk.checks import LIMITS, SLOTS
from bankside.bulk.figures import figures_of
from bankside.bulk.findings import findings_table, look
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.records import Filed, Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.uncertainty_flow import Assumed

from .gaugings import TRANSECTS, as_given, demo, sheets, simulated

RULES = load_rule_set("common-practice")
BY_NAME = {check.name: check for check in ALL_CHECKS}
COMPILED = {slot.check for slot in SLOTS}
# What one finding of the catalogue says of two verticals is one place here.
PAIRS = {"Bed not resolved"}


def _by_catalogue(gauging: Gauging) -> Counter[tuple[str, str | None]]:
    examined = examine(gauging, RULES, finished=True)
    found: Counter[tuple[str, str | None]] = Counter()
    for name in COMPILED:
        told = any(slot.check == name and slot.severity is None for slot in SLOTS)
        for finding in BY_NAME[name].find(examined):
            if name == "Neighbouring velocities too different":
                said = finding.found.split()[0]
                places = int(said) if said.isdigit() else 1
            else:
                whole = name in PAIRS or name in ("Two totals disagree", "Weak section")
                places = 1 if whole else len(finding.tapes)
            found[name, None if told else finding.severity] += places
    return found


def _agree(gaugings: list[Gauging]) -> Counter[str]:
    given = as_given(gaugings)
    figures = figures_of(given.columns, Assumed(), "none")
    found = look(given, figures, {name: RULES.si(name) for name in LIMITS})
    ours: dict[str, Counter[tuple[str, str | None]]] = {}
    for row in findings_table(given, found).to_pylist():
        ours.setdefault(row["gauging"], Counter())[row["check"], row["severity"]] += row["places"]
    seen: Counter[str] = Counter()
    for k, gauging in enumerate(gaugings):
        expected = _by_catalogue(gauging)
        assert ours.get(str(k), Counter()) == expected, gauging.id
        seen.update(name for name, _ in expected)
    return seen


def test_the_demo_and_simulated_gaugings() -> None:
    """Each of the checks finds something in them, and no other thing than the catalogue does."""
    simulated_ones = list(simulated(250))
    rng = range(len(simulated_ones))
    filed = [
        attrs.evolve(one, filed=Filed(discharge=0.1 * k, unit="m3/s")) if k % 3 == 0 else one
        for k, one in zip(rng, simulated_ones, strict=True)
    ]

    seen = _agree([*demo(), *filed])

    assert set(seen) >= COMPILED - {"Weak section"}


def test_the_public_transects() -> None:
    """Real transects with filed totals."""
    if not TRANSECTS.exists():
        pytest.skip("the survey's flow transects are not beside this repository")
    assert _agree(list(sheets([TRANSECTS])))["Two totals disagree"] > 0


def test_every_compiled_check_is_one_of_the_catalogue() -> None:
    """By name, with the severities that it may have."""
    for slot in SLOTS:
        assert slot.severity is None or slot.severity in BY_NAME[slot.check].severities
    assert set(LIMITS) <= {name for check in COMPILED for name in BY_NAME[check].thresholds}
