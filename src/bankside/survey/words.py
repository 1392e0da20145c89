"""How figures of a survey are told: in SI with feet behind them, as crews measure in either."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from bankside.gauging.rounding import to_figures
from bankside.gauging.units import cubic_metres_per_second_per, metres_per
from bankside.survey.records import SurveySite
from bankside.survey.visits import Visit

__all__ = [
    "day_words",
    "discharge_words",
    "length_words",
    "listed",
    "off_words",
    "sentence",
    "site_words",
    "visit_words",
]

# Figures to which a discharge is told: British Columbia manual, 1998, F.3 (read).
_FIGURES = 3
_FT3S = cubic_metres_per_second_per("ft3/s")
# Digits behind the point to which a difference of stages is told: a millimetre, a hundredth foot.
_MILLIMETRE, _HUNDREDTH = 3, 2


def discharge_words(m3s: float) -> str:
    """Return a discharge to three figures in both units: "0.700 m³/s (24.7 ft³/s)"."""
    return f"{to_figures(m3s, _FIGURES)} m³/s ({to_figures(m3s / _FT3S, _FIGURES)} ft³/s)"


def off_words(m3s: float) -> str:
    """Return how far a discharge may be off, to two figures in both units."""
    return f"± {to_figures(m3s, 2)} m³/s ({to_figures(m3s / _FT3S, 2)} ft³/s)"


def length_words(metres: float) -> str:
    """Return a difference of stages in both units: "0.030 m (0.10 ft)"."""
    feet = metres / metres_per("ft")
    return f"{metres:.{_MILLIMETRE}f} m ({feet:.{_HUNDREDTH}f} ft)"


def day_words(day: datetime.date | None) -> str:
    """Return a day as people read it, or that it is not known."""
    return "a day that is not written down" if day is None else day.isoformat()


def site_words(site: SurveySite) -> str:
    """Return what a site is called: its stream and its name."""
    return f"{site.stream}, {site.name}"


def listed(names: Sequence[str]) -> str:
    """Return names as a sentence lists them: "a, b and c"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def sentence(words: str) -> str:
    """Return words as a sentence begins."""
    return words[:1].upper() + words[1:]


def visit_words(visit: Visit) -> str:
    """Return what tells a visit from others to people: its day, its start, and who made it."""
    started = visit.gauging.started
    clock = "" if started is None else f" {started:%H:%M}"
    crew = [member.name for member in visit.gauging.crew]
    by = f" by {listed(crew)}" if crew else ""
    if visit.day is None:
        return f"the gauging {visit.id} without a date{by}"
    return f"the gauging of {visit.day.isoformat()}{clock}{by}"
