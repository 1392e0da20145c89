"""Which site of a survey a gauging was made at, by what its sheet says and by nothing else."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from typing import TypeVar

import attrs

from bankside.gauging.records import Site
from bankside.survey.records import SurveySite

__all__ = ["SiteIndex", "folded_name"]

K = TypeVar("K")


def folded_name(text: str) -> str:
    """Return a name as it is compared: without case, accents, and marks between its words."""
    plain = text
    # Letters in other clothes show their case only once they are plain, and folding may dress anew.
    for _ in range(2):
        plain = unicodedata.normalize("NFKD", plain).casefold()
    letters = (c if c.isalnum() else " " for c in plain if not unicodedata.combining(c))
    return " ".join("".join(letters).split())


@attrs.frozen
class SiteIndex:
    """The sites of a survey by everything that tells one of them.

    What tells two sites tells none: nothing is guessed.
    """

    _by_id: Mapping[str, SurveySite]
    _by_label: Mapping[str, SurveySite | None]
    _by_name: Mapping[tuple[str, str], SurveySite | None]
    _by_name_alone: Mapping[str, SurveySite | None]

    @classmethod
    def of(cls, sites: Sequence[SurveySite]) -> SiteIndex:
        """Return the index of these sites."""
        by_label: dict[str, SurveySite | None] = {}
        by_name: dict[tuple[str, str], SurveySite | None] = {}
        alone: dict[str, SurveySite | None] = {}
        for site in sites:
            for label in (site.label, site.id):
                if label is not None:
                    _enter(by_label, folded_name(label), site)
                    _enter(alone, folded_name(label), site)
            for name in (site.name, *site.also):
                _enter(by_name, (folded_name(site.stream), folded_name(name)), site)
                _enter(alone, folded_name(name), site)
        return cls({site.id: site for site in sites}, by_label, by_name, alone)

    def site_of(self, said: Site) -> SurveySite | None:
        """Return the site that a record names, None where it names none or more than one.

        It is found by its id, then by the names of stream and place, then by the label of the
        position, then, where no stream is said, by the name of the place alone, which may be a
        label or an id as well.
        """
        if said.id is not None:
            return self._by_id.get(said.id)
        if said.stream is not None and said.name is not None:
            found = self._by_name.get((folded_name(said.stream), folded_name(said.name)))
            if found is not None:
                return found
        if said.position is not None and said.position.label is not None:
            found = self._by_label.get(folded_name(said.position.label))
            if found is not None and _on(found, said.stream):
                return found
        if said.name is not None and said.stream is None:
            return self._by_name_alone.get(folded_name(said.name))
        return None


def _on(site: SurveySite, stream: str | None) -> bool:
    """Return whether a site lies on the stream that was said, if one was."""
    return stream is None or folded_name(stream) == folded_name(site.stream)


def _enter(index: dict[K, SurveySite | None], key: K, site: SurveySite) -> None:
    known = index.setdefault(key, site)
    if known is not site:
        index[key] = None
