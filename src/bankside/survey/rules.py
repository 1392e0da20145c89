"""What must hold between the fields of a survey's records: contradictions, nothing implausible."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, TypeVar

from bankside.gauging.faults import Fault

if TYPE_CHECKING:
    from bankside.survey.records import Balance, Stream, Survey

T = TypeVar("T")


def does_not_join_itself(stream: Stream) -> Iterator[Fault]:
    """A stream flows into another one."""
    if stream.joins == stream.name:
        yield Fault(f'joins must be another stream (got "{stream.name}" itself)', path="joins")


def mouth_has_a_stream(stream: Stream) -> Iterator[Fault]:
    """How far up a mouth lies says something only of the stream that it flows into."""
    if stream.joins_at_km is not None and stream.joins is None:
        yield Fault(
            f"joins must be given with joins_at_km (got {stream.joins_at_km:g} km and no stream)",
            path="joins",
        )


def line_has_two_points(stream: Stream) -> Iterator[Fault]:
    """A line has two ends."""
    if len(stream.line) == 1:
        yield Fault("line must have two points or more, or none (got 1)", path="line")


def balance_names_a_site_once(balance: Balance) -> Iterator[Fault]:
    """Water is counted once, and comes from somewhere."""
    if not balance.above:
        yield Fault("above must name one site or more (got none)", path="above")
    for id_ in _repeated((*balance.above, *balance.taken_out, balance.below)):
        yield Fault(f'a balance must name a site once (got "{id_}" twice)', path="above")


def ends_after_its_start(survey: Survey) -> Iterator[Fault]:
    """A survey does not end before it starts."""
    if survey.starts is not None and survey.ends is not None and survey.ends < survey.starts:
        yield Fault(
            f"ends must not be before starts (got {survey.ends} and {survey.starts})", path="ends"
        )


def streams_have_one_name_each(survey: Survey) -> Iterator[Fault]:
    """Streams are told apart by their names."""
    for name in _repeated(stream.name for _, stream in _sound(survey.streams)):
        yield Fault(f'streams must have names of their own (got "{name}" twice)', path="streams")


def streams_flow_somewhere(survey: Survey) -> Iterator[Fault]:
    """Every stream flows into one of the survey, and none back into itself."""
    joins = {stream.name: stream.joins for _, stream in _sound(survey.streams)}
    for index, stream in _sound(survey.streams):
        if stream.joins is None:
            continue
        if stream.joins not in joins:
            yield Fault(
                f'joins must be a stream of the survey (got "{stream.joins}")',
                path=f"streams[{index}].joins",
            )
        elif _comes_back(stream.name, joins):
            yield Fault(
                f'a stream must not flow back into itself (got "{stream.name}")',
                path=f"streams[{index}].joins",
            )


def sites_have_one_id_each(survey: Survey) -> Iterator[Fault]:
    """Sites are told apart by their ids."""
    for id_ in _repeated(site.id for _, site in _sound(survey.sites)):
        yield Fault(f'sites must have ids of their own (got "{id_}" twice)', path="sites")


def sites_lie_on_streams(survey: Survey) -> Iterator[Fault]:
    """A site lies on a stream of the survey, where the survey lists its streams."""
    names = {stream.name for _, stream in _sound(survey.streams)}
    for index, site in _sound(survey.sites):
        if names and site.stream not in names:
            yield Fault(
                f'stream must be one of the survey (got "{site.stream}")',
                path=f"sites[{index}].stream",
            )


def balances_name_sites(survey: Survey) -> Iterator[Fault]:
    """A balance is between sites of the survey."""
    known = {site.id for _, site in _sound(survey.sites)}
    for index, balance in _sound(survey.balances):
        for id_ in (*balance.above, *balance.taken_out, balance.below):
            if id_ not in known:
                yield Fault(
                    f'a balance must name sites of the survey (got "{id_}")',
                    path=f"balances[{index}]",
                )


def _comes_back(name: str, joins: dict[str, str | None]) -> bool:
    """Return whether the way down a stream comes back to it."""
    passed = {name}
    at = joins.get(name)
    while at is not None:
        if at in passed:
            return at == name
        passed.add(at)
        at = joins.get(at)
    return False


def _sound(records: Iterable[T | None]) -> Iterator[tuple[int, T]]:
    """Yield the records, each with its index; one that was not sound by itself is None."""
    for index, record in enumerate(records):
        if record is not None:
            yield index, record


def _repeated(names: Iterable[str]) -> Iterator[str]:
    for name, count in Counter(names).items():
        if count > 1:
            yield name
