"""The sites of a survey in the order in which the water meets them.

A stream is followed from its source to its mouth; where a tributary enters, the tributary comes
first, from its own source on. What is not known about the order is said and never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

import attrs

from bankside.survey.along_line import km_from_mouth
from bankside.survey.records import Stream, Survey, SurveySite
from bankside.survey.site_names import folded_name
from bankside.survey.words import listed

__all__ = ["Along", "HydrographicOrder", "OrderedSite", "along", "hydrographic_order", "mouth"]


@attrs.frozen
class Along:
    """How far something is from the mouth of its stream, and whether that is said or measured.

    `km` is None where nothing tells it. "given" is said by the survey; "line" is measured along
    the line that is drawn of the stream, to the place nearest to the position, which is `off_km`
    away from the line.
    """

    km: float | None
    by: Literal["given", "line", "nothing"]
    off_km: float = 0.0


@attrs.frozen
class OrderedSite:
    """A site in its place: how many mouths lie between it and the end of the last stream."""

    site: SurveySite
    mouths_below: int
    along: Along


@attrs.frozen
class HydrographicOrder:
    """All sites from the sources down, and sentences on what the order rests on."""

    sites: tuple[OrderedSite, ...]
    remarks: tuple[str, ...]

    def on(self, stream: str) -> tuple[OrderedSite, ...]:
        """Return the sites of one stream, from its source down."""
        return tuple(ordered for ordered in self.sites if ordered.site.stream == stream)


def along(site: SurveySite, stream: Stream | None) -> Along:
    """Return how far a site is from the mouth of its stream."""
    if site.along_km is not None:
        return Along(site.along_km, "given")
    if stream is not None and site.position is not None:
        found = km_from_mouth(stream.line, site.position)
        if found is not None:
            return Along(found[0], "line", found[1])
    return Along(None, "nothing")


def mouth(stream: Stream, receiving: Stream) -> Along:
    """Return how far the mouth of a stream is from that of the stream which it flows into."""
    if stream.joins_at_km is not None:
        return Along(stream.joins_at_km, "given")
    if stream.line:
        found = km_from_mouth(receiving.line, stream.line[-1])
        if found is not None:
            return Along(found[0], "line", found[1])
    return Along(None, "nothing")


def hydrographic_order(survey: Survey) -> HydrographicOrder:
    """Return the sites of a survey as the water meets them, the same however they are listed.

    Sites and mouths of which nothing tells where they are come last on their stream, by name.
    Streams that flow into none of the survey follow each other by name.
    """
    streams = {stream.name: stream for stream in survey.streams}
    unlisted = {site.stream for site in survey.sites} - set(streams)
    roots = [s.name for s in survey.streams if s.joins is None] + sorted(unlisted)
    ordered = [
        place
        for root in sorted(roots, key=_by_name)
        for place in _down(root, 0, survey.sites, streams)
    ]
    return HydrographicOrder(tuple(ordered), tuple(_remarks(ordered, streams)))


def _down(
    name: str, mouths: int, sites: Sequence[SurveySite], streams: Mapping[str, Stream]
) -> Iterator[OrderedSite]:
    """Yield what the water of a stream and of all that flows into it meets."""
    stream = streams.get(name)
    own = [(along(site, stream), site) for site in sites if site.stream == name]
    entering = [
        (mouth(other, streams[name]), other) for other in streams.values() if other.joins == name
    ]
    events: list[tuple[Along, SurveySite | Stream]] = [*own, *entering]
    for where, what in sorted(events, key=_from_the_source):
        if isinstance(what, SurveySite):
            yield OrderedSite(what, mouths, where)
        else:
            yield from _down(what.name, mouths + 1, sites, streams)


def _from_the_source(
    event: tuple[Along, SurveySite | Stream],
) -> tuple[bool, float, bool, tuple[str, str]]:
    """Return what comes first: what is further up, a tributary before a site at the same km."""
    where, what = event
    is_site = isinstance(what, SurveySite)
    tie = (folded_name(what.name), what.id if isinstance(what, SurveySite) else what.name)
    return (where.km is None, -(where.km or 0.0), is_site, tie)


def _by_name(name: str) -> tuple[str, str]:
    return folded_name(name), name


def _remarks(ordered: Sequence[OrderedSite], streams: Mapping[str, Stream]) -> Iterator[str]:
    measured = [o for o in ordered if o.along.by == "line"]
    if measured:
        off = max(o.along.off_km for o in measured)
        yield (
            f"{_ids([o.site for o in measured])}: the distance from the mouth is not given and is "
            "measured along the line of the stream, to the place nearest to the position, at the "
            f"most {off * 1000:.0f} m off."
        )
    alone = {name for name, many in _counts(ordered).items() if many == 1}
    lost = [o.site for o in ordered if o.along.km is None and o.site.stream not in alone]
    if lost:
        yield (
            f"{_ids(lost)}: neither a distance from the mouth nor a position on the line of the "
            "stream is given; they come last on their stream, by name, which says nothing about "
            "the order of the water, and no gain or loss is worked out for them."
        )
    for stream in streams.values():
        receiving = streams.get(stream.joins or "")
        if receiving is None:
            continue
        by = mouth(stream, receiving).by
        if by == "line":
            yield (
                f"Where {stream.name} enters {receiving.name} is not given and is measured along "
                "its line."
            )
        elif by == "nothing":
            yield (
                f"Where {stream.name} enters {receiving.name} is not given: its sites come after "
                "those of that stream. Give joins_at_km."
            )


def _counts(ordered: Sequence[OrderedSite]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for one in ordered:
        counts[one.site.stream] = counts.get(one.site.stream, 0) + 1
    return counts


def _ids(sites: Sequence[SurveySite]) -> str:
    return listed([site.id for site in sites])
