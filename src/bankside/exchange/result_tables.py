"""Tables of what is worked out from gaugings, in SI: for people and their programs, never read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bankside.exchange.forms import Column, ColumnKind, Reference, Table, TableForm, Value
from bankside.survey.visits import Visit

__all__ = ["RESULT_FORMS", "result_tables"]

_OF_A_GAUGING = Reference(("gauging",), "gaugings", ("gauging",))
_VERTICAL = ("gauging", "channel", "vertical")


def _columns(*columns: tuple[str, ColumnKind, str | None, str]) -> tuple[Column, ...]:
    keys = {"gauging", "panel", "channel", "vertical", "note", "finding"}
    return tuple(
        Column(name, kind, meaning, unit=unit, required=name in keys)
        for name, kind, unit, meaning in columns
    )


_RESULTS = TableForm(
    "results",
    "The discharge of each gauging, worked out from its readings.",
    _columns(
        ("gauging", "text", None, "to which row of gaugings it belongs"),
        ("survey_site", "text", None, "the site of the survey that the gauging names"),
        ("discharge_m3s", "number", "m3/s", "the discharge"),
        ("archived_m3s", "number", "m3/s", "the discharge that the archive has on file"),
        ("state", "text", None, "what became of the gauging in the archive, such as approved"),
        (
            "uncertainty_percent",
            "number",
            "%",
            "half the interval that holds it about 19 times in 20, none while in doubt",
        ),
        ("uncertainty_method", "text", None, "by which publication the uncertainty is stated"),
        ("area_m2", "number", "m2", "area of the section"),
        ("width_m", "number", "m", "width of the water"),
        ("mean_depth_m", "number", "m", "area by width"),
        ("mean_velocity_ms", "number", "m/s", "discharge by area"),
        ("wetted_perimeter_m", "number", "m", "length of the wetted bed"),
        ("hydraulic_radius_m", "number", "m", "area by wetted perimeter"),
        ("method", "text", None, "the rule of the panels"),
        ("edge_rule", "text", None, "how wide the panel beside an edge of water is"),
        ("method_version", "text", None, "which version of the method the figures are by"),
        ("refused", "text", None, "why there is no discharge, where there is none"),
    ),
    ("gauging",),
    (_OF_A_GAUGING, Reference(("survey_site",), "sites", ("id",))),
    worked_out=True,
)
_PANELS = TableForm(
    "result_panels",
    "What each panel of a gauging carries, worked out from its readings.",
    _columns(
        ("gauging", "text", None, "to which row of gaugings it belongs"),
        ("panel", "integer", None, "its place in their order, counted from 0"),
        ("channel", "integer", None, "its channel, counted from 0"),
        ("vertical", "integer", None, "its vertical, counted from 0"),
        ("width_m", "number", "m", "width of the panel"),
        ("depth_m", "number", "m", "its depth"),
        ("velocity_ms", "number", "m/s", "its velocity"),
        ("area_m2", "number", "m2", "its area"),
        ("discharge_m3s", "number", "m3/s", "its discharge"),
        ("share", "number", "%", "its part of the whole discharge"),
        ("velocity_from", "text", None, "how its velocity came about"),
    ),
    ("gauging", "panel"),
    (_OF_A_GAUGING, Reference(_VERTICAL, "verticals", _VERTICAL)),
    worked_out=True,
)
_NOTES = TableForm(
    "result_notes",
    "Every assumption that a discharge rests on.",
    _columns(
        ("gauging", "text", None, "to which row of gaugings it belongs"),
        ("note", "integer", None, "its place in their order, counted from 0"),
        ("text", "text", None, "the assumption, in a sentence"),
    ),
    ("gauging", "note"),
    (_OF_A_GAUGING,),
    worked_out=True,
)
_FINDINGS = TableForm(
    "findings",
    "What the checks find doubtful about each gauging.",
    _columns(
        ("gauging", "text", None, "to which row of gaugings it belongs"),
        ("finding", "integer", None, "its place in their order, counted from 0"),
        ("check", "text", None, "the name of the check"),
        ("severity", "text", None, "how grave it is: stop, fix now, explain or note"),
        ("found", "text", None, "what was found"),
        ("advice", "text", None, "what to do about it"),
        ("answered", "boolean", None, "whether the record says why it is accepted"),
    ),
    ("gauging", "finding"),
    (_OF_A_GAUGING,),
    worked_out=True,
)

RESULT_FORMS = {form.name: form for form in (_RESULTS, _PANELS, _NOTES, _FINDINGS)}
"""The form of every table of what is worked out, by its name."""


def result_tables(visits: Sequence[Visit], keys: Sequence[str]) -> tuple[Table, ...]:
    """Return what is worked out from gaugings as tables; `keys` tell the gaugings apart.

    No visits make tables without rows.
    """
    told = list(zip(keys, visits, strict=True)) if visits else []
    rows = {
        _RESULTS: [_result(key, visit) for key, visit in told],
        _PANELS: [row for key, visit in told for row in _panels(key, visit)],
        _NOTES: [row for key, visit in told for row in _notes(key, visit)],
        _FINDINGS: [row for key, visit in told for row in _findings(key, visit)],
    }
    return tuple(Table(form, tuple(found)) for form, found in rows.items())


def _result(key: str, visit: Visit) -> dict[str, Value]:
    budget = visit.told_budget
    own: dict[str, Value] = {
        "gauging": key,
        "survey_site": None if visit.site is None else visit.site.id,
        "uncertainty_percent": None if budget is None else budget.expanded_percent,
        "uncertainty_method": None if budget is None else budget.method,
        "archived_m3s": visit.filed_m3s,
        "state": visit.state or None,
        "refused": visit.refused or None,
    }
    return {
        column.name: own[column.name] if column.name in own else _figure(visit.result, column.name)
        for column in _RESULTS.columns
    }


def _panels(key: str, visit: Visit) -> Iterator[dict[str, Value]]:
    for number, panel in enumerate(visit.result.panels if visit.result is not None else ()):
        figures = {c.name: _figure(panel, c.name) for c in _PANELS.columns[2:]}
        yield {"gauging": key, "panel": number, **figures}


def _notes(key: str, visit: Visit) -> Iterator[dict[str, Value]]:
    for number, note in enumerate(visit.result.notes if visit.result is not None else ()):
        yield {"gauging": key, "note": number, "text": note}


def _findings(key: str, visit: Visit) -> Iterator[dict[str, Value]]:
    for number, finding in enumerate(visit.findings):
        yield {
            "gauging": key,
            "finding": number,
            "check": finding.check,
            "severity": finding.severity,
            "found": finding.found,
            "advice": finding.advice,
            "answered": finding.answer is not None,
        }


def _figure(record: object, name: str) -> Value:
    value: Value = getattr(record, name, None)
    return value
