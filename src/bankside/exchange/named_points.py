"""Points with names, as a receiver or a map gives them, and the gaugings and sites they belong to.

A gauging is matched by the label that its sheet noted, then by the label or the id of its site,
then by the name of its site where no other site is called so. Case, accents and marks between words
count for nothing. Nothing is guessed, and a position that is there stays.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging, Position
from bankside.survey.records import Survey, SurveySite
from bankside.survey.site_names import SiteIndex, folded_name

__all__ = ["Matched", "NamedPoint", "matched", "require_own_labels"]

# How a sheet's label is kept where no position came with it.
_LABEL = re.compile(r"(?:^|; )label: ([^;\n]+)", re.MULTILINE)


@attrs.frozen
class NamedPoint:
    """A point and what it is called; `remark` is what else was said of it, `place` where."""

    label: str
    position: Position
    remark: str = ""
    place: str = ""


@attrs.frozen
class Matched:
    """Gaugings and a survey with the positions that points gave them, and what fitted nothing."""

    gaugings: tuple[Gauging, ...]
    survey: Survey | None
    notes: tuple[str, ...] = ()


def require_own_labels(points: Sequence[NamedPoint]) -> None:
    """Refuse points of which two have one label: nobody can tell which was meant."""
    first: dict[str, NamedPoint] = {}
    faults = []
    for point in points:
        other = first.setdefault(folded_name(point.label), point)
        if other is not point:
            message = (
                f'found the label "{point.label}" again, as in {other.place}; '
                "a label of its own for each point would be right"
            )
            faults.append(Fault(message, path=point.place))
    if faults:
        raise InputRefused(faults)


def matched(
    points: Sequence[NamedPoint], gaugings: Sequence[Gauging], survey: Survey | None
) -> Matched:
    """Return gaugings and a survey's sites with the positions of the points that bear their labels.

    What else was said of a point is kept in the remarks of what it was given to. InputRefused where
    two points have one label.
    """
    require_own_labels(points)
    by_label = {folded_name(point.label): point for point in points}
    sites = survey.sites if survey is not None else ()
    index = SiteIndex.of(sites)
    used: set[str] = set()
    notes: list[str] = []
    alone = _names_alone(gaugings)
    given = []
    for number, gauging in enumerate(gaugings, 1):
        labels = list(dict.fromkeys(_labels(gauging, index.site_of(gauging.site), alone)))
        point = _found(labels, by_label, used)
        given.append(_given(gauging, point))
        notes += _note(_called(gauging, number), gauging.site.position, point, labels)
    placed = []
    for site in sites:
        point = _found([site.label or "", site.id], by_label, used)
        placed.append(_site_given(site, point))
        if site.position is not None or point is not None:
            notes += _note(f"site {site.id}", site.position, point, ())
    notes += [
        f'The point "{point.label}" is the label of no gauging and no site, and was not used.'
        for key, point in by_label.items()
        if key not in used
    ]
    known = None if survey is None else attrs.evolve(survey, sites=tuple(placed))
    return Matched(tuple(given), known, tuple(notes))


def _names_alone(gaugings: Iterable[Gauging]) -> set[str]:
    """Return the names that only one site has, whatever its stream."""
    streams: dict[str, set[str | None]] = {}
    for gauging in gaugings:
        if gauging.site.name is not None:
            streams.setdefault(folded_name(gauging.site.name), set()).add(gauging.site.stream)
    return {name for name, found in streams.items() if len(found) == 1}


def _labels(gauging: Gauging, site: SurveySite | None, alone: set[str]) -> Iterator[str]:
    """Yield what a gauging's point may be called, what its sheet noted first."""
    said = gauging.site
    if said.position is not None and said.position.label is not None:
        yield said.position.label
    yield from _LABEL.findall(gauging.remarks or "")
    if site is not None:
        yield from filter(None, (site.label, site.id))
    yield from filter(None, (said.id, gauging.id))
    if said.name is not None and folded_name(said.name) in alone:
        yield said.name


def _found(
    labels: Iterable[str], by_label: Mapping[str, NamedPoint], used: set[str]
) -> NamedPoint | None:
    for label in labels:
        key = folded_name(label)
        if key in by_label:
            used.add(key)
            return by_label[key]
    return None


def _given(gauging: Gauging, point: NamedPoint | None) -> Gauging:
    if point is None or gauging.site.position is not None:
        return gauging
    return attrs.evolve(
        gauging,
        site=attrs.evolve(gauging.site, position=point.position),
        remarks=_with(gauging.remarks, point),
    )


def _site_given(site: SurveySite, point: NamedPoint | None) -> SurveySite:
    if point is None or site.position is not None:
        return site
    return attrs.evolve(site, position=point.position, remarks=_with(site.remarks, point))


def _with(remarks: str | None, point: NamedPoint) -> str | None:
    said = f"point {point.label}: {point.remark}" if point.remark else ""
    return "; ".join(filter(None, (remarks, said))) or None


def _note(
    called: str, own: Position | None, point: NamedPoint | None, labels: Sequence[str]
) -> Iterator[str]:
    if point is None:
        if own is None:
            tried = ", ".join(f'"{label}"' for label in labels) or "no label"
            yield f"{called}: no point was found for it ({tried})."
        return
    there = (point.position.lon, point.position.lat)
    if own is not None and (own.lon, own.lat) != there:
        yield (
            f"{called}: it keeps its own position, {own.lon!r}, {own.lat!r}; the point "
            f'"{point.label}" is at {there[0]!r}, {there[1]!r}.'
        )


def _called(gauging: Gauging, number: int) -> str:
    parts = [gauging.site.stream, gauging.site.name, gauging.date and gauging.date.isoformat()]
    return ", ".join(part for part in parts if part) or gauging.id or f"gauging {number}"
