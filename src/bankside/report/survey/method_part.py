"""How the season was measured, written from what was actually done: every number is counted."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.records import PointReading, Vertical
from bankside.gauging.result import Result
from bankside.note.called_figures import method_words
from bankside.note.content import Part
from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import in_order, range_words
from bankside.report.survey.quality_part import meter_words
from bankside.survey.words import listed

__all__ = ["method_part"]


_NOT_PASSED: Final = frozenset({"Rotor stops too soon", "Zero is off"})
"""Checks that find that a spin or a zero is outside its limit."""


def method_part(material: SurveyMaterial) -> Part:
    """Return the paragraphs on the method: computing, reading, meters, checks, repeats."""
    told = [one for one in in_order(material) if one.visit.final_m3s is not None]
    if not told:
        return Part("Method", sentences=("No gauging gives a discharge.",))
    return Part(
        "Method",
        sentences=(
            " ".join(_computing(told)),
            " ".join(_reading(told)),
            " ".join(_circumstances(told)),
            " ".join(_checking(material, told)),
        ),
    )


def _computing(told: Sequence[Surveyed]) -> Iterator[str]:
    results = [one.visit.result for one in told if one.visit.result is not None]
    ways = Counter((method_words(result), result.method_version) for result in results)
    for (words, version), count in ways.most_common():
        yield (
            f"{_gaugings(count)} {'was' if count == 1 else 'were'} made by wading and worked out "
            f"by the {words} (version {version} of our methods)."
        )
    silent = len(told) - len(results)
    if silent:
        yield f"Of {_gaugings(silent).lower()} only the figure stands that was filed before."
    channels = sum(1 for one in told if len(one.visit.gauging.channels) > 1)
    if channels:
        yield f"In {channels} the water ran in more than one channel."
    if results:
        yield from _verticals(results)


def _gaugings(count: int) -> str:
    return "One gauging" if count == 1 else f"{count} gaugings"


def _verticals(results: Sequence[Result]) -> Iterator[str]:
    counts = [float(sum(1 for v in r.verticals if v.depth_m > 0)) for r in results]
    shares = [
        max(abs(p.share) for p in r.panels if p.share is not None)
        for r in results
        if any(p.share is not None for p in r.panels)
    ]
    yield (
        f"They rest on {sum(counts):.0f} verticals with water, {range_words(counts, '.0f')} in a "
        f"gauging ({statistics.median(counts):g} in the middle)."
    )
    if shares:
        yield (
            f"The panel that carried most had {range_words(shares, '.1f')} % of the discharge "
            f"({statistics.median(shares):.1f} % in the middle)."
        )


def _reading(told: Sequence[Surveyed]) -> Iterator[str]:
    verticals = [
        vertical
        for one in told
        for channel in one.visit.gauging.channels
        for vertical in channel.verticals
    ]
    read = [vertical for vertical in verticals if vertical.velocity]
    readings = [reading for vertical in read for reading in vertical.velocity]
    points = Counter(_points(vertical) for vertical in read)
    kinds = listed([f"{words} at {count}" for words, count in points.most_common()])
    yield f"Velocity was read at {len(read)} verticals: {kinds}."
    bare = sum(1 for v in verticals if not v.velocity and v.depth and v.edge is None)
    if bare:
        yield f"At {bare} only the depth was read."
    yield from _exposure(readings)
    steep = sum(1 for v in verticals if v.edge is not None and v.depth)
    if steep:
        yield f"Edges of water with a depth (steep or undercut): {steep}."
    angles = sum(1 for v in verticals if v.angle or v.angle_coefficient is not None)
    if angles:
        yield f"The flow ran askew and was corrected by its angle at {angles}."


def _points(vertical: Vertical) -> str:
    """Return in words at which fractions of the depth a vertical was read."""
    fractions = sorted({r.fraction for r in vertical.velocity if r.fraction is not None})
    if not fractions:
        return "the mean of the vertical"
    number = {1: "one point", 2: "two points", 3: "three points"}
    many = number.get(len(fractions), f"{len(fractions)} points")
    return f"{many} ({listed([f'{fraction:g}' for fraction in fractions])} of the depth)"


def _exposure(readings: Sequence[PointReading]) -> Iterator[str]:
    times = [reading.seconds for reading in readings if reading.seconds is not None]
    if times:
        yield (
            f"The meter was held for {range_words(times, 'g')} s ({statistics.median(times):g} s "
            f"in the middle) at {len(times)} of {len(readings)} points."
        )
    silent = len(readings) - len(times)
    if silent:
        yield f"For how long is not written down at {silent} points."


def _circumstances(told: Sequence[Surveyed]) -> Iterator[str]:
    meters = Counter(meter_words(one) for one in told)
    named = listed([f"{name} in {count}" for name, count in sorted(meters.items())])
    yield f"Meters: {named}."
    dates = {
        f"{meter_words(one)} on {meter.calibrated.isoformat()}"
        for one in told
        if (meter := one.visit.gauging.meter) is not None and meter.calibrated is not None
    }
    if dates:
        yield f"Calibrated: {listed(sorted(dates))}."
    yield _proofs(told)
    units = Counter(
        (one.visit.gauging.units.length, one.visit.gauging.units.velocity) for one in told
    )
    called = listed([f"{a} and {b} in {count}" for (a, b), count in units.most_common()])
    yield f"Figures were called in {called}."
    yield from _levels(told)


def _proofs(told: Sequence[Surveyed]) -> str:
    """Return in how many gaugings a spin or zero was written down, and in how many it failed."""
    made = [one for one in told if one.visit.gauging.meter and one.visit.gauging.meter.checks]
    said = f"A proof of the meter was written down in {len(made)} of {len(told)} gaugings"
    if not made:
        return f"{said}."
    failed = sum(1 for one in made if any(f.check in _NOT_PASSED for f in one.visit.findings))
    return f"{said}; {f'{failed} did not pass' if failed else 'all passed'}."


def _levels(told: Sequence[Surveyed]) -> Iterator[str]:
    readings = [len(one.visit.gauging.stage) for one in told]
    counts = {
        "at the start and later": sum(1 for count in readings if count > 1),
        "once": readings.count(1),
        "not at all": readings.count(0),
    }
    said = listed([f"{how} in {count}" for how, count in counts.items() if count])
    yield f"The level was read {said} of {len(told)} gaugings."


def _uncertainty(told: Sequence[Surveyed]) -> Iterator[str]:
    """Yield by which methods uncertainty was worked out, and which of them stands and why."""
    stating = [one for one in told if one.visit.budget is not None and one.note is not None]
    standing = Counter(one.visit.budget.short_name for one in stating if one.visit.budget)
    if not standing:
        return
    every = [budget for one in stating if one.note for budget in one.note.budgets]
    methods = Counter(budget.method for budget in every)
    by = listed([f"{method} ({count})" for method, count in methods.most_common()])
    yield f"Uncertainty was worked out by {by}; what is stated holds about 19 times in 20."
    bounds = {budget.short_name for budget in every if budget.left_out}
    whole = [f"{name} in {n}" for name, n in standing.most_common() if name not in bounds]
    if whole and len(methods) > 1:
        yield (
            "In the tables and in balances that between verticals stands where it can be "
            "given, as it held the true discharge of simulated streams more often than the others; "
            "else the larger figure, as "
            "tables and scatter each miss what the other sees (our choice): that by "
            f"{listed(whole)}. The notes tell each."
        )
    for name in sorted(bounds):
        alone = f"; in {standing[name]} nothing else could be stated" if standing[name] else ""
        yield f"That by {name} leaves parts out and is a lower bound{alone}."


def _checking(material: SurveyMaterial, told: Sequence[Surveyed]) -> Iterator[str]:
    rules = Counter(one.note.rules.title for one in told if one.note and one.note.rules)
    named = listed([f"{title} ({count})" for title, count in rules.most_common()])
    yield f"Checks went by the rule set {named}."
    yield from _uncertainty(told)
    yield material.examined.share.words
    days = material.examined.window_days
    off = "of its day" if not days else f"at most {days} day{'s' * (days > 1)} from it"
    yield f"Balances and comparisons hold a gauging against others {off}."
    left = len(material.surveyed) - len(told)
    if left:
        counts = "counts" if left == 1 else "count"
        yield f"{_gaugings(left)} without a discharge {counts} in none of this."
