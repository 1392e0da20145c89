"""A section as the model between verticals sees it: what is known, and what each part leaves open.

All parts are variances of the discharge, worked out from the stations alone, so that a section with
one more vertical, a second point or a longer exposure is judged by the same formulas as one that
was read (`uncertainty_between` states it, `advice` asks what would be).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import cached_property

import attrs

from bankside.gauging.between import CHARACTERS, Between, between_over
from bankside.gauging.between_line import Line
from bankside.gauging.between_station import Station
from bankside.gauging.between_variances import Variances, panel_m, variances_over
from bankside.kernel.between import mixture_half_width
from bankside.kernel.between_parts import profile_deviation
from bankside.kernel.totals import amount_of, has_shares, total_of

__all__ = ["BetweenSection", "section_over"]


@attrs.frozen
class BetweenSection:
    """The stations of every stretch of water that flows, and what their readings tell.

    `waters` have their stations along the tape; `channels` are the indexes of the channels of the
    record in which they lie, and `between` has a line for each. `total` is the discharge in m³/s by
    its amount, to which all percents refer, `width_percent` what a panel's width is uncertain by,
    `own_rating` whether the meter was calibrated itself. `foretold`, where it is given, goes before
    what `between` says of the variance between verticals by each character.
    """

    channels: tuple[int, ...]
    waters: tuple[tuple[Station, ...], ...]
    between: Between
    total: float
    width_percent: float
    own_rating: bool = False
    foretold: tuple[float, ...] | None = None

    @cached_property
    def variances(self) -> Variances:
        """What each part but that between verticals leaves open."""
        return variances_over(self.waters, self.width_percent, own_rating=self.own_rating)

    @property
    def mean_velocity_ms(self) -> float:
        """The discharge by its amount over the area of all panels, m/s."""
        area = math.fsum(
            panel_m(stations, i) * one.depth_m
            for stations in self.waters
            for i, one in enumerate(stations)
        )
        return self.total / area

    @property
    def profile_square(self) -> float:
        """The mean square of how far one point departs from the mean of its vertical."""
        return self.between.mean([_profile_square(one.unevenness) for one in CHARACTERS])

    def half_width(self, probability: float, *, common: bool = True) -> float:
        """Return half the interval that holds the discharge so often, in percent of it.

        Without what is the same at all verticals (`common`), it holds what these leave open alone.
        """
        fixed = self.variances.fixed if common else self.variances.by_vertical
        return self._half_width(probability, fixed, part=1.0)

    @cached_property
    def floor(self) -> float:
        """What would be left at 95 % if verticals were everywhere, in percent."""
        return self._half_width(0.95, self.variances.common, part=0.0)

    def _half_width(self, probability: float, fixed: float, *, part: float) -> float:
        """Return half an interval: what is fixed, and so much of what hangs on the character."""
        heard = [
            (weight, fixed + part * (foretold + self._profile(k)))
            for k, (weight, foretold) in enumerate(
                zip(self.between.weights, self.foretold or self.between.variances, strict=True)
            )
            if weight > 0.0
        ]
        weights, variances = zip(*heard, strict=True)
        deviations = [math.sqrt(variance) for variance in variances]
        return 100.0 / self.total * mixture_half_width(weights, deviations, probability)

    def less_between(self, after: BetweenSection, emphasis: float) -> BetweenSection:
        """Return `after`, with so many times the loss of variance between verticals since here."""
        variances = tuple(
            max(now - emphasis * (now - then), 0.0)
            for now, then in zip(self.between.variances, after.between.variances, strict=True)
        )
        return attrs.evolve(after, foretold=variances)

    def _profile(self, character: int) -> float:
        return _profile_square(CHARACTERS[character].unevenness) * self.variances.profile

    def percent(self, variance: float) -> float:
        """Return one standard uncertainty in percent of the discharge."""
        return 100.0 * math.sqrt(variance) / self.total

    def of_the_likely(self, least: float) -> BetweenSection:
        """Return the section as those characters see it that weigh so much of the likeliest."""
        return attrs.evolve(self, between=self.between.of_the_likely(least))

    def with_stations(self, place: int, stations: Iterable[Station]) -> BetweenSection:
        """Return the section with these stations in one of its waters, added or in place."""
        by_tape = {one.tape_m: one for one in self.waters[place]}
        by_tape |= {one.tape_m: one for one in stations}
        return self.replaced(place, tuple(by_tape[tape] for tape in sorted(by_tape)))

    def replaced(self, place: int, stations: tuple[Station, ...]) -> BetweenSection:
        """Return the section with other stations along one of its waters.

        How likely each character is stays as it was, and how large unevenness is: nobody knows what
        would be read.
        """
        waters = (*self.waters[:place], stations, *self.waters[place + 1 :])
        if _flows(stations) == _flows(self.waters[place]):  # nothing between them is other
            return attrs.evolve(self, waters=waters)
        before = self.between.lines[place]
        line = attrs.evolve(_line(stations), scale_from=before.scale_from or before)
        lines = (*self.between.lines[:place], line, *self.between.lines[place + 1 :])
        return attrs.evolve(self, waters=waters, between=Between(lines, self.between.weights))

    def weighed_by(self, waters: Sequence[Sequence[Station]]) -> BetweenSection:
        """Return the section with as much known of its character as these stations alone tell."""
        weights = between_over([_line(stations) for stations in waters]).weights
        return attrs.evolve(self, between=Between(self.between.lines, weights))

    def of_channel(self, channel: int) -> BetweenSection | None:
        """Return the waters of one channel by themselves.

        None where nothing flows in it, or so much back that no percent of the rest says anything.
        """
        places = [place for place, index in enumerate(self.channels) if index == channel]
        waters = tuple(self.waters[place] for place in places)
        flows = [
            panel_m(water, i) * one.unit_discharge
            for water in waters
            for i, one in enumerate(water)
        ]
        total = total_of(flows)
        if not has_shares(total, amount_of(flows)):
            return None
        return attrs.evolve(
            self,
            channels=(channel,) * len(places),
            waters=waters,
            between=Between(
                tuple(self.between.lines[place] for place in places), self.between.weights
            ),
            total=abs(total),
        )


def section_over(
    waters: Sequence[tuple[int, Sequence[Station]]],
    total: float,
    width_percent: float,
    *,
    own_rating: bool = False,
) -> BetweenSection:
    """Return the section of these waters, each with its channel, weighed by their readings.

    ValueError where there is none, or nothing flows in one.
    """
    return BetweenSection(
        channels=tuple(channel for channel, _ in waters),
        waters=tuple(tuple(stations) for _, stations in waters),
        between=between_over([_line(stations) for _, stations in waters]),
        total=abs(total),
        width_percent=width_percent,
        own_rating=own_rating,
    )


def _flows(stations: Sequence[Station]) -> list[tuple[float, float]]:
    return [(one.tape_m, one.unit_discharge) for one in stations]


def _line(stations: Sequence[Station]) -> Line:
    return Line(
        tuple(one.tape_m for one in stations),
        tuple(one.unit_discharge for one in stations),
        tuple(one.reading_variance for one in stations),
    )


def _profile_square(unevenness: float) -> float:
    deviation = profile_deviation(unevenness)
    return deviation * deviation
