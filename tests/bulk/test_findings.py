"""The compiled checks find what the catalogue finds, at as many places, with the same severity."""

from __future__ import annotations

import datetime
import re
from collections import Counter

import attrs
import pytest

from bankside.bulk.checks import LIMITS, SLOTS
from bankside.bulk.figures import figures_of
from bankside.bulk.findings import findings_table, look
from bankside.gauging.checks.finding import Finding, Severity
from bankside.gauging.checks.run import ALL_CHECKS, check_gauging
from bankside.gauging.records import Channel, Filed, Gauging, StageReading, Units
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty_flow import Assumed

from .gaugings import TRANSECTS, as_given, demo, sheets, simulated

BY_NAME = {check.name: check for check in ALL_CHECKS}
COMPILED = {slot.check for slot in SLOTS}
# What one finding of the catalogue says of two verticals is one place here.
PAIRS = {"Bed not resolved"}
WHOLE = {"Two totals disagree", "Weak section"}
Told = tuple[str, Severity | None]


def _by_catalogue(gauging: Gauging, rules: RuleSet) -> Counter[Told]:
    """What `bankside check` tells of a finished gauging, as far as it is compiled."""
    found: Counter[Told] = Counter()
    for finding in check_gauging(gauging, rules):
        name = finding.check
        if name in WHOLE | PAIRS:
            found[name, _told(finding)] += 1
        elif name == "Neighbouring velocities too different":
            several = re.search(r"(\d+) pairs of", finding.found)
            found[name, _told(finding)] += 1 if several is None else int(several[1])
        elif name in COMPILED:
            found[name, _told(finding)] += len(finding.tapes)
    return found


def _told(finding: Finding) -> Severity | None:
    """The severity of a finding, None where the compiled check tells none."""
    untold = any(slot.check == finding.check and slot.severity is None for slot in SLOTS)
    return None if untold else finding.severity


def _agree(gaugings: list[Gauging], name: str = "common-practice") -> Counter[Told]:
    rules = load_rule_set(name)
    given = as_given(gaugings)
    figures = figures_of(given.columns, Assumed(), "none")
    found = look(given, figures, {name: rules.needed(name).si for name in LIMITS})
    ours: dict[str, Counter[Told]] = {}
    for row in findings_table(given, found).to_pylist():
        ours.setdefault(row["gauging"], Counter())[row["check"], row["severity"]] += row["places"]
    seen: Counter[Told] = Counter()
    for k, gauging in enumerate(gaugings):
        expected = _by_catalogue(gauging, rules)
        assert ours.get(str(k), Counter()) == expected, gauging.id
        seen += expected
    return seen


def _made_odd(gauging: Gauging, number: int) -> Gauging:
    """One of every six stays: others are strong, weak, rising, filed, or run upstream in places."""
    feet, metres, centimetres = Units("ft", "ft/s"), Units("m", "m/s"), Units("cm", "cm/s")
    start = datetime.datetime(2026, 7, 14, 10, tzinfo=datetime.UTC)
    stage = tuple(
        StageReading(at=start + datetime.timedelta(minutes=20 * n), value=1.0 + 0.2 * n)
        for n in range(3)
    )
    filed = Filed(discharge=0.1 * number, unit="m3/s")
    return (
        gauging,
        attrs.evolve(gauging, units=metres if gauging.units == feet else feet),
        attrs.evolve(gauging, units=centimetres),
        attrs.evolve(gauging, no_gauge=False, stage=stage),
        attrs.evolve(gauging, filed=filed),
        attrs.evolve(gauging, channels=tuple(_eddy(one, number) for one in gauging.channels)),
    )[number % 6]


def _eddy(channel: Channel, number: int) -> Channel:
    """The channel with every so many of its readings running upstream."""
    every = 2 + number // 6 % 20
    return attrs.evolve(
        channel,
        verticals=tuple(
            attrs.evolve(
                one, velocity=tuple(attrs.evolve(read, value=-read.value) for read in one.velocity)
            )
            if place % every == 1
            else one
            for place, one in enumerate(channel.verticals)
        ),
    )


def test_the_demo() -> None:
    """Each of its gaugings, by rule sets that differ."""
    for name in ("common-practice", "after-iso-748", "after-usgs-tm-3-a8"):
        assert len(_agree(list(demo()), name)) > 4


def test_simulated_gaugings_of_every_kind() -> None:
    """Each check, with each of its severities, finds something, and nothing but what is told."""
    gaugings = [_made_odd(one, number) for number, one in enumerate(simulated(180))]

    seen = _agree(gaugings)

    assert {(slot.check, slot.severity) for slot in SLOTS} == set(seen)


def test_the_public_transects() -> None:
    """Real transects with filed totals."""
    if not TRANSECTS.exists():
        pytest.skip("the survey's flow transects are not beside this repository")
    assert _agree(list(sheets([TRANSECTS])))["Two totals disagree", "explain"] > 0


def test_every_compiled_check_is_one_of_the_catalogue() -> None:
    """By name, with the severities that it may have."""
    for slot in SLOTS:
        assert slot.severity is None or slot.severity in BY_NAME[slot.check].severities
    assert set(LIMITS) <= {name for check in COMPILED for name in BY_NAME[check].thresholds}
