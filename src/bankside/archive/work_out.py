"""What a gauging comes to by its entries: its row among all gaugings, and what is to be filed."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import attrs

from bankside.archive.filing import Filing
from bankside.archive.plain import plain
from bankside.archive.search import words_in
from bankside.gauging.faults import BanksideError, InputRefused
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.kinds import Key
from bankside.gauging.journal.record import Recorded, recorded
from bankside.gauging.journal.so_far import is_over, so_far
from bankside.gauging.journal.state import state_of
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import Site
from bankside.gauging.rule_sets.choice import rules_of
from bankside.gauging.structure import unstructured
from bankside.survey.records import Survey, SurveySite
from bankside.survey.site_names import SiteIndex
from bankside.survey.visits import Visit, visit_of

__all__ = [
    "STATES",
    "Surveys",
    "Worked",
    "fault_words",
    "state_words",
    "unworkable",
    "work_out",
]

STATES = ("under way", "to review", "sent back", "approved", "changed since approval")
"""How far a gauging has come, in the order in which it gets there."""

_OPEN = {"stop": "open_stop", "fix now": "open_fix", "explain": "open_explain"}


@attrs.frozen
class Surveys:
    """The surveys of an archive and their sites, as gaugings are held against them."""

    index: SiteIndex
    _of_site: Mapping[str, Sequence[Survey]]

    @classmethod
    def of(cls, surveys: Sequence[Survey], sites: Sequence[SurveySite]) -> Surveys:
        """Return the surveys and their sites, each site once."""
        of_site: dict[str, list[Survey]] = {}
        # Where two surveys fit, the one that starts last is meant.
        for survey in sorted(surveys, key=lambda s: (str(s.starts or ""), s.id), reverse=True):
            for site in survey.sites:
                of_site.setdefault(site.id, []).append(survey)
        return cls(SiteIndex.of(sites), of_site)

    def survey_of(self, site: SurveySite | None, day: str) -> str | None:
        """Return the id of the survey that visits a site on a day, None where there is none."""
        if site is None:
            return None
        for survey in self._of_site.get(site.id, ()):
            begun = survey.starts is None or day >= survey.starts.isoformat()
            if begun and (survey.ends is None or day <= survey.ends.isoformat()):
                return survey.id
        return None

    def where(self, said: Site, day: str) -> tuple[str | None, str | None]:
        """Return the ids of the site that a record names, and of the survey that visits it."""
        site = self.index.site_of(said)
        return None if site is None else site.id, self.survey_of(site, day)


@attrs.frozen
class Worked:
    """A gauging as it is worked out.

    `row` are the values of its row but for figures that are filed, `state` tells the entries,
    `visit` is None where there is no record, `photos` are what the journal says of each, by key,
    and `words` those by which it is found. `over` says whether its figure is to be filed.
    """

    row: Mapping[str, Any]
    state: str
    recorded: Recorded | None
    visit: Visit | None
    photos: Mapping[str, Mapping[str, Any]]
    words: frozenset[str]
    over: bool

    def row_with(self, filed: Filing | None) -> dict[str, Any]:
        """Return the values of the row with the figures that are filed, if any are.

        Neither has a range around the discharge while that is in doubt, as the note has none; and
        what was filed is in doubt where the entries give no discharge any more.
        """
        row = {**self.row, **({} if filed is None else filed.in_row)}
        if filed is not None and (self.visit is None or self.visit.result is None):
            row["in_doubt"] = 1
        if row["in_doubt"]:
            row |= dict.fromkeys(("standard_percent", "expanded_percent"))
        return row


def work_out(gauging_id: str, entries: Sequence[Entry], surveys: Surveys) -> Worked:
    """Return what a gauging comes to, whatever its entries say."""
    try:
        return _work_out(gauging_id, entries, surveys)
    except InputRefused as refused:
        return unworkable(gauging_id, str(refused), entries)
    except Exception as error:  # one gauging must not keep the others from being worked out
        return unworkable(gauging_id, fault_words(error), entries)


def fault_words(error: Exception) -> str:
    """Return why something could not be done, whatever kind of exception it is."""
    if isinstance(error, BanksideError):
        return str(error)
    try:
        said = f"{type(error).__name__}: {error}"
    except Exception:  # even telling it may fail
        said = type(error).__name__
    return f"this is a fault in Bankside, to be reported ({said})"


def unworkable(gauging_id: str, why: str, entries: Sequence[Entry] = ()) -> Worked:
    """Return a gauging that cannot be worked out, and why."""
    row = {**_empty_row(gauging_id, len(entries)), "trouble": plain(why)}
    try:
        state = state_of(entries)
    except Exception:  # what cannot be worked out may have no state either
        state = ""
    return Worked(row, state, None, None, {}, words_in([gauging_id]), False)


def _work_out(gauging_id: str, entries: Sequence[Entry], surveys: Surveys) -> Worked:
    state = state_of(entries)
    row = _empty_row(gauging_id, len(entries))
    made = recorded(fold(entries))
    over = is_over(made)
    row["over"] = int(over)
    row["conflicts"] = sum(said.conflict for said in made.said.values())
    gauging = so_far(made).gauging
    troubles = [f"{fault.path}: {fault.message}" for fault in made.faults]
    visit = None
    if gauging is not None:
        site = surveys.index.site_of(gauging.site)
        visit = visit_of(gauging, rules_of(gauging)[0], site, id_=gauging_id, finished=over)
        row |= _row(visit, surveys)
        if visit.refused:
            troubles.append(visit.refused)
    row["state"] = state_words(made, state)
    row["trouble"] = plain("; ".join(troubles)) or None
    photos = dict(_photos(made))
    row["photos"] = len(photos)
    return Worked(row, state, made, visit, photos, _words(gauging_id, row, visit), over)


def _photos(made: Recorded) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield what is said of each photo, by its key; what is no photo is among the faults."""
    for what, said in made.said.items():
        value = said.value
        if not what.startswith("photos/") or not isinstance(value, dict):
            continue
        found = {name: value.get(name) for name in ("sha256", "purpose", "type")}
        texts = {name: plain(part) for name, part in found.items() if isinstance(part, str)}
        if len(texts) == len(found) and re.fullmatch("[0-9a-f]{64}", texts["sha256"]):
            yield what.split("/")[1], texts


def state_words(made: Recorded, state: str) -> str:
    """Return how far a gauging has come, one of STATES; state: of its entries as they are."""
    review = made.review
    if review is not None and review.verdict == "approved" and is_over(made):
        return "approved" if review.state in (None, state) else "changed since approval"
    if review is not None and review.verdict == "sent back" and review.state in (None, state):
        return "sent back"
    return "to review" if is_over(made) else "under way"


def _empty_row(gauging_id: str, entries: int) -> dict[str, Any]:
    nothing = ("survey", "site", "said_id", "stream", "place", "label", "started", "ended", "crew")
    figures = ("discharge_m3s", "width_m", "area_m2", "mean_depth_m", "mean_velocity_ms")
    more = (
        "meter",
        "calibration_due",
        "stage",
        "stage_unit",
        "standard_percent",
        "expanded_percent",
    )
    last = ("quality", "lon", "lat", "repeats", "trouble", "record")
    counted = ("proven", "over", "in_doubt", "verticals", "conflicts", "photos", *_OPEN.values())
    return {
        "id": gauging_id,
        **dict.fromkeys((*nothing, *figures, *more, *last)),
        **dict.fromkeys(counted, 0),
        "day": "",
        "state": "under way",
        "entries": entries,
    }


def _row(visit: Visit, surveys: Surveys) -> dict[str, Any]:
    gauging, site, result = visit.gauging, visit.site, visit.result
    day = "" if visit.day is None else visit.day.isoformat()
    position = gauging.site.position
    meter = gauging.meter
    stage = mean_stage(gauging, result)
    due = None if meter is None else meter.calibration_due
    row: dict[str, Any] = {
        "survey": surveys.survey_of(site, day),
        "site": None if site is None else site.id,
        "said_id": plain(gauging.site.id),
        "stream": plain(gauging.site.stream),
        "place": plain(gauging.site.name),
        "label": None if position is None else plain(position.label),
        "day": day,
        "started": None if gauging.started is None else gauging.started.isoformat(),
        "ended": None if gauging.ended is None else gauging.ended.isoformat(),
        "crew": plain(", ".join(member.name for member in gauging.crew)) or None,
        "meter": None if meter is None else plain(meter.serial),
        "calibration_due": None if due is None else due.isoformat(),
        "proven": int(meter is not None and bool(meter.checks)),
        "verticals": sum(
            bool(vertical.velocity)
            for channel in gauging.channels
            for vertical in channel.verticals
        ),
        "stage": None if stage is None else stage.value,
        "stage_unit": None if stage is None else stage.unit,
        "quality": gauging.quality,
        "lon": None if position is None else position.lon,
        "lat": None if position is None else position.lat,
        # What is no key names no gauging of an archive.
        "repeats": gauging.repeats if Key().holds(gauging.repeats) else None,
        "record": json.dumps(unstructured(gauging)),
    }
    if result is not None:
        row |= {
            "discharge_m3s": result.discharge_m3s,
            "width_m": result.width_m,
            "area_m2": result.area_m2,
            "mean_depth_m": result.mean_depth_m,
            "mean_velocity_ms": result.mean_velocity_ms,
            "standard_percent": None if visit.budget is None else visit.budget.standard_percent,
            "expanded_percent": None if visit.budget is None else visit.budget.expanded_percent,
            "in_doubt": int(visit.in_doubt),
        }
    for finding in visit.findings:
        if finding.answer is None and finding.severity in _OPEN:
            row[_OPEN[finding.severity]] = row.get(_OPEN[finding.severity], 0) + 1
    return row


def _words(gauging_id: str, row: Mapping[str, Any], visit: Visit | None) -> frozenset[str]:
    """Return by what a gauging is found: what its record says, and the survey of its site."""
    names = ("stream", "place", "label", "site", "crew", "meter", "day", "survey")
    texts = [*(row[name] for name in names), gauging_id]
    if visit is not None:
        texts.append(visit.gauging.remarks)
        if visit.site is not None:
            texts += [visit.site.stream, visit.site.name]
    return words_in(texts)
