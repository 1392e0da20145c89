"""What the map of a survey shows: streams with their names, and sites as large as their water."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import attrs

__all__ = ["MapBy", "MapSite", "MapStream", "SurveyMap"]

MapBy = Literal["discharge", "unit-discharge"]
"""By what the marks of the sites are sized."""

LonLat = tuple[float, float]


@attrs.frozen
class MapStream:
    """A stream and its course from source to mouth; `trunk` where it leaves the basin."""

    name: str
    line: tuple[LonLat, ...]
    trunk: bool = False


@attrs.frozen
class MapSite:
    """A site where it lies; `value` sizes its mark, None where no one discharge stands for it.

    `words` is what stands under its label, in the unit of the map: figures without a value are
    those of duplicates that disagree.
    """

    label: str
    place: LonLat
    value: float | None
    words: str = ""


@attrs.frozen
class SurveyMap:
    """A map: what is drawn, what the marks stand for, and in which unit."""

    streams: tuple[MapStream, ...]
    sites: tuple[MapSite, ...]
    quantity: str
    unit: str

    @property
    def places(self) -> Iterator[LonLat]:
        """Every place that has to be on the map."""
        for stream in self.streams:
            yield from stream.line
        for site in self.sites:
            yield site.place
