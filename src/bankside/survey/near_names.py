"""Which sites a record may have meant that names none of them: told, and never taken for it."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence

from bankside.gauging.records import Site
from bankside.survey.records import SurveySite
from bankside.survey.site_names import folded_name

__all__ = ["sites_like"]

# Ours, no source: from this likeness on (1 for the same letters) a name looks like a slip.
_LIKE = 0.8


def sites_like(said: Site, sites: Sequence[SurveySite]) -> tuple[SurveySite, ...]:
    """Return the sites whose name, label or id is the same or nearly that which a record gives.

    The likest first. A name on another stream counts, and so does one that fits several sites.
    """
    ranked = [(likeness, site) for site in sites if (likeness := _likeness(said, site)) >= _LIKE]
    ranked.sort(key=lambda one: (-one[0], one[1].id))
    return tuple(site for _, site in ranked)


def _likeness(said: Site, site: SurveySite) -> float:
    """Return how like the likest of the names of a site is to one that was said, from 0 to 1."""
    names = [folded_name(name) for name in (site.name, *site.also, site.label, site.id) if name]
    whole = [f"{folded_name(site.stream)} {name}" for name in names]
    return max(
        (
            difflib.SequenceMatcher(None, one, name, autojunk=False).ratio()
            for one in _said(said)
            for name in (*names, *whole)
        ),
        default=0.0,
    )


def _said(said: Site) -> Iterator[str]:
    """Yield every name that a record gives for its site."""
    label = None if said.position is None else said.position.label
    for name in (said.id, said.name, label):
        if name is not None and folded_name(name):
            yield folded_name(name)
