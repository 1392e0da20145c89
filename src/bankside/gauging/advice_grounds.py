"""What advice rests on: the section as it was read, and where somebody may be sent."""

from __future__ import annotations

import attrs

from bankside.gauging.advice_design import HowRead
from bankside.gauging.advice_sides import Side
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.between_station import Station
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.wadeable import Wadeable
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.share_limits import above, limits_of
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import Assumed, flow_of

__all__ = ["Grounds", "grounds_of"]


@attrs.frozen
class Grounds:
    """What acts rest on.

    `section` is that of `gauging` as it was read, `how` how the next vertical is read, `wading`
    where each channel of the record may be waded, and `bank` from which bank, in words, where
    strong water parts the section. `heavy` are the verticals, each a channel and a tape position as
    called, whose panels carry more than the rule set allows.
    """

    gauging: Gauging
    section: BetweenSection
    how: HowRead
    wading: tuple[Wadeable, ...]
    bank: str = ""
    heavy: frozenset[tuple[int, float]] = frozenset()

    def verticals(self, place: int) -> tuple[Vertical, ...]:
        """Return those of the record in the channel of one of the section's waters."""
        return self.gauging.channels[self.section.channels[place]].verticals

    def tape(self, place: int, station: Station) -> float:
        """Return the tape position as called, of a station of the record."""
        assert station.vertical is not None
        return self.verticals(place)[station.vertical].tape

    def wades(self, place: int) -> Wadeable:
        """Return where the channel of one of the section's waters may be waded."""
        return self.wading[self.section.channels[place]]

    def open_again(self, place: int, station: Station) -> bool:
        """Return whether somebody may go to a station of a water, one not yet read as well."""
        wades = self.wades(place)
        if station.vertical is None:
            return wades.anew(station.tape_m)
        return wades.again(station.tape_m)

    def open_to_cuts(self, place: int, i: int) -> bool:
        """Return whether somebody may go half-way between a station of a water and the next."""
        low, high = self.section.waters[place][i : i + 2]
        return self.wades(place).anew((low.tape_m + high.tape_m) / 2.0)


def grounds_of(examined: Examined, side: Side) -> Grounds | None:
    """Return what advice rests on from one side; None before all edges of water are read.

    None as well where nothing flows that percents could be told of.
    """
    result = examined.result
    if result is None or not all(
        channel.across and channel.across[0].ends_water and channel.across[-1].ends_water
        for channel in examined.channels
    ):
        return None
    flow = flow_of(examined.gauging, result)
    section = section_as_read(examined.gauging, flow, Assumed()) if flow.has_percents else None
    if section is None:
        return None
    limit = limits_of(examined.rules).limit
    heavy = (
        (spot.channel, spot.tape)
        for spot in examined.spots
        if spot.share is not None and above(spot.share, limit)
    )
    return Grounds(
        gauging=examined.gauging,
        section=section,
        how=HowRead.by(examined.rules, examined.gauging.meter),
        wading=side.wading,
        bank=side.bank,
        heavy=frozenset(heavy),
    )
