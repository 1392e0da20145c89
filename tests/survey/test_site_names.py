"""Which site a record names: what fits one is found, what fits two or none is not guessed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.records import Position, Site
from bankside.survey.records import SurveySite
from bankside.survey.site_names import SiteIndex, folded_name

FORD = SurveySite("ford", "Alder River", "Lower ford", also=("Ford below mill",), label="AR01")
MEADOW = SurveySite("meadow", "Alder River", "Meadow")
OTHER = SurveySite("other", "Birch Brook", "Meadow", label="BB01")
INDEX = SiteIndex.of([FORD, MEADOW, OTHER])


def _labelled(label: str, **said: str) -> Site:
    return Site(position=Position(-120, 45, label=label), **said)


@pytest.mark.parametrize(
    ("said", "found"),
    [
        (Site(id="ford"), FORD),
        (Site(id="Ford"), None),
        (Site("Lower ford", "Alder River"), FORD),
        (Site("LOWER-FORD", "alder river"), FORD),
        (Site("Lower  förd", "Alder River"), FORD),
        (Site("Ford below mill", "Alder River"), FORD),
        (Site("Lower ford", "Birch Brook"), None),
        (Site("Lower ford"), FORD),
        (Site("Meadow"), None),
        (Site("Meadow", "Birch Brook"), OTHER),
        (Site("bb01"), OTHER),
        (Site("other"), OTHER),
        (_labelled("ar01"), FORD),
        (_labelled("AR01", stream="Alder River"), FORD),
        (_labelled("AR01", stream="Birch Brook"), None),
        (_labelled("AR01", stream="Alder River", name="Meadow"), MEADOW),
        (_labelled("QQ99", name="Meadow"), None),
        (Site(stream="Birch Brook"), None),
        (Site(), None),
    ],
    ids=lambda value: getattr(value, "id", None) or "",
)
def test_a_record_names_one_site_or_none(said: Site, found: SurveySite | None) -> None:
    """Its id alone, else stream and name, else the label, else a name that is there once."""
    assert INDEX.site_of(said) == found


def test_an_id_that_is_not_known_is_not_made_good_by_a_name() -> None:
    """Who gives an id means it: a slip in it is asked about and not passed over."""
    assert INDEX.site_of(Site("Lower ford", "Alder River", id="frod")) is None


def test_what_fits_two_sites_fits_none() -> None:
    """Two sites share another name: neither is taken for it, both keep their own."""
    twins = [
        SurveySite("a", "Alder River", "Bridge", also=("Old bridge",)),
        SurveySite("b", "Alder River", "New bridge", also=("Old bridge",)),
    ]
    index = SiteIndex.of(twins)

    assert index.site_of(Site("Old bridge", "Alder River")) is None
    assert index.site_of(Site("Bridge", "Alder River")) == twins[0]


@given(st.text(max_size=12))
def test_folding_twice_is_folding_once(text: str) -> None:
    """A folded name is its own folded name."""
    assert folded_name(folded_name(text)) == folded_name(text)
