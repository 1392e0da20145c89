"""What the report of a survey is made from: files that are handed over, or an archive."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import attrs

from bankside.archive.listing import survey_counts, without_site
from bankside.archive.survey_visits import survey_visits
from bankside.cli.archive_looking import looked_at
from bankside.cli.inputs import Source, load, require_usable
from bankside.cli.open_formats import points_in
from bankside.exchange.named_points import matched
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.intake.read import read_file
from bankside.intake.source import SurveyFile
from bankside.report.survey.material import (
    Handed,
    LeftOut,
    SurveyMaterial,
    gather_survey,
    material_of,
)
from bankside.sheets.answers import Answers
from bankside.survey.chosen_rules import rules_of_survey
from bankside.survey.examined import examine_survey
from bankside.survey.records import Survey
from bankside.survey.site_names import SiteIndex

__all__ = ["from_archive", "from_files", "survey_in"]


def from_files(
    survey: Survey,
    files: Sequence[Path],
    positions: Path | None,
    answers: Answers,
    rules: RuleSet | None,
    days: int | None,
    keep_going: bool,
) -> SurveyMaterial:
    """Return a survey with the gaugings in these files."""
    sources = load(_some(files), answers)
    handed = _handed(sources, keep_going)
    if positions is not None:
        survey, placed = _placed(survey, [one.gauging for one in handed], positions)
        pairs = zip(handed, placed, strict=True)
        handed = [attrs.evolve(one, gauging=gauging) for one, gauging in pairs]
    return gather_survey(survey, handed, rules=rules, left_out=_left_out(sources), window_days=days)


def from_archive(
    place: str,
    survey: str,
    files: Sequence[Path],
    positions: Path | None,
    rules: RuleSet | None,
    days: int | None,
) -> SurveyMaterial:
    """Return a survey of an archive with its gaugings; InputRefused where there is none."""
    if files:
        message = "found files beside --archive; the gaugings of the archive alone are right"
        raise InputRefused([Fault(message, file=str(files[0]))])
    with looked_at(place) as archive, archive.reading() as connection:
        found = survey_visits(connection, survey)
        lost = len(without_site(connection))
        known = ", ".join(one.id for one in survey_counts(connection)) or "none"
    if found is None:
        message = f'--survey: found "{survey}"; one of the archive would be right ({known})'
        raise InputRefused([Fault(message)])
    listed, visits = found.survey, found.visits
    if positions is not None:
        listed, gaugings = _placed(listed, [visit.gauging for visit in visits], positions)
        index = SiteIndex.of(listed.sites)
        visits = tuple(
            attrs.evolve(visit, gauging=gauging, site=index.site_of(gauging.site))
            for visit, gauging in zip(visits, gaugings, strict=True)
        )
    used = rules or rules_of_survey(listed) or load_rule_set(BASE)
    examined = examine_survey(listed, visits, used, days)
    left_out = [LeftOut(place, f"gauging {id_}", (why,)) for id_, why in found.left_out]
    if lost:
        count = "one gauging" if lost == 1 else f"{lost} gaugings"
        left_out.append(LeftOut(place, count, ("at no known site, so of no survey",)))
    return material_of(examined, examined.visits, found.rules, left_out=left_out)


def _some(files: Sequence[Path]) -> Sequence[Path]:
    if not files:
        message = "found no files; sheets and journals, or --archive, would be right"
        raise InputRefused([Fault(message)])
    return files


def survey_in(path: Path) -> Survey:
    """Return the survey in a file; InputRefused if there is none."""
    wanted = 'a file of the format "bankside.survey/1" would be right'
    if not path.exists():
        message = f"--survey: found no such file; {wanted}, or --archive with the id of a survey"
        raise InputRefused([Fault(message, file=str(path))])
    found = read_file(path, Answers())
    if isinstance(found, SurveyFile):
        return found.survey
    faults = [f for item in getattr(found, "items", ()) for f in item.faults]
    raise InputRefused(faults or [Fault(f"found no survey; {wanted}", file=found.file)])


def _handed(sources: Sequence[Source], keep_going: bool) -> list[Handed]:
    """Return the gaugings of all files; InputRefused where some are refused, as a run goes."""
    handed = [
        Handed(item.gauging, source.file, item.notes, item.finished)
        for source in sources
        for item in source.items
        if item.gauging is not None
    ]
    require_usable(sources, len(handed), keep_going, "write")
    return handed


def _left_out(sources: Sequence[Source]) -> list[LeftOut]:
    """Return what gives no gauging, with the reasons; the report names it."""
    return [
        LeftOut(source.file, item.label, tuple(map(str, item.faults)) or (item.reason or "",))
        for source in sources
        for item in source.items
        if item.gauging is None
    ]


def _placed(
    survey: Survey, gaugings: Sequence[Gauging], positions: Path
) -> tuple[Survey, Sequence[Gauging]]:
    """Return a survey and gaugings with the positions of a receiver; notes go to stderr."""
    points, said = points_in(positions)
    placed = matched(points, gaugings, survey)
    for sentence in (*said, *placed.notes):
        print(sentence, file=sys.stderr)
    return placed.survey or survey, placed.gaugings
