"""Surveys made up by Hypothesis, with every field of their records filled in or not."""

from typing import Any

from hypothesis import strategies as st

from bankside.survey.records import Balance, Stream, Survey, SurveySite

from ..gauging.strategies import ABOVE_ZERO, NOT_NEGATIVE, POSITIONS, TEXTS

KEYS = st.text("abcdefgh0123-_", min_size=1, max_size=6)


def _maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


@st.composite
def surveys(draw: st.DrawFn, texts: st.SearchStrategy[str] = TEXTS) -> Survey:
    """A survey of streams that flow into one another, with sites and balances between them.

    `texts` is what its free texts are made of.
    """
    names = draw(st.lists(TEXTS, unique=True, max_size=3))
    ids = draw(st.lists(KEYS, unique=True, max_size=4))
    days = sorted(draw(st.lists(st.dates(), min_size=2, max_size=2)))
    return Survey(
        id=draw(KEYS),
        name=draw(texts),
        basin=draw(_maybe(texts)),
        organisation=draw(_maybe(texts)),
        starts=draw(_maybe(st.just(days[0]))),
        ends=draw(_maybe(st.just(days[1]))),
        rule_set=draw(_maybe(texts)),
        duplicates_percent=draw(_maybe(st.floats(0, 100))),
        streams=tuple(_stream(draw, name, names[:n]) for n, name in enumerate(names)),
        sites=tuple(_site(draw, id_, names, texts) for id_ in ids),
        balances=(_balance(draw, ids, texts),) if len(ids) > 2 else (),
        remarks=draw(_maybe(texts)),
    )


def _stream(draw: st.DrawFn, name: str, below: list[str]) -> Stream:
    joins = draw(_maybe(st.sampled_from(below))) if below else None
    line = draw(st.lists(POSITIONS, max_size=3).filter(lambda points: len(points) != 1))
    km = draw(_maybe(NOT_NEGATIVE)) if joins is not None else None
    return Stream(name, joins, km, tuple(line))


def _site(
    draw: st.DrawFn, id_: str, streams: list[str], texts: st.SearchStrategy[str]
) -> SurveySite:
    return SurveySite(
        id_,
        draw(st.sampled_from(streams) if streams else texts),
        draw(texts),
        also=tuple(draw(st.lists(texts, unique=True, max_size=2))),
        label=draw(_maybe(texts)),
        position=draw(_maybe(POSITIONS)),
        along_km=draw(_maybe(NOT_NEGATIVE)),
        drainage_area_km2=draw(_maybe(ABOVE_ZERO)),
        visits_planned=draw(_maybe(NOT_NEGATIVE)),
        remarks=draw(_maybe(texts)),
    )


def _balance(draw: st.DrawFn, ids: list[str], texts: st.SearchStrategy[str]) -> Balance:
    first, second, *rest = draw(st.permutations(ids))
    return Balance(draw(texts), (first,), second, tuple(rest[:1]))
