"""The measurement note: what one gauging came to and all that it rests on, as content."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.metadata import version
from typing import Final

from bankside.gauging.records import Gauging
from bankside.gauging.share_limits import above, limits_of
from bankside.note.called_figures import (
    decimals_read,
    gauging_title,
    method_words,
    share_legend,
    usual_origin,
)
from bankside.note.cautions import reminders
from bankside.note.content import Fact, FactGroup, NoteContent, Part, Picture
from bankside.note.facts import clock, day_of, fact, fact_groups, one_line
from bankside.note.findings import corrections_part, findings_part
from bankside.note.headline import headline
from bankside.note.material import NoteMaterial
from bankside.note.section_drawing import SectionDrawing, section_drawing, section_rows
from bankside.note.uncertainty import uncertainty_part
from bankside.note.verticals import vertical_tables, widths_apart

__all__ = ["CAUTIONS_TITLE", "MAP_KEY", "note_content", "section_key"]

CAUTIONS_TITLE: Final = "Wading can kill"
MAP_KEY: Final = "map"

_LONGEST_FOOT: Final = 90
_SIGNATURES: Final = ("Measured by", "Computed by", "Checked by")
_SIGNATURE_FIELDS: Final = ("name, signature, date",)


def note_content(material: NoteMaterial, *, afterwards: bool = False) -> NoteContent:
    """Return everything that the note says, in the order in which it is set.

    afterwards: it is read when nobody is at the stream any more; then findings are what is known of
    the measurement, and what the crew might have done about them is left out.
    """
    gauging = material.gauging
    title = one_line(gauging_title(gauging))
    site = gauging.site
    day = day_of(gauging)
    drawing = section_drawing(gauging, material.result, limits_of(material.rules))
    return NoteContent(
        title=f"{_kind(gauging)}: {title}",
        kind=f"{_kind(gauging)} by wading",
        stream=one_line(site.stream or site.name or "Stream not recorded"),
        site=one_line(site.name or "") if site.stream else "",
        date=fact("Date", None if day is None else day.isoformat()),
        headline=headline(material, drawing),
        groups=(*fact_groups(gauging), _stage(material)),
        map=_map(gauging),
        parts=tuple(_parts(material, drawing, afterwards)),
        signatures_title="Signatures",
        signatures=_SIGNATURES,
        signature_fields=_SIGNATURE_FIELDS,
        running=f"{_running(gauging, title)} · Bankside {version('bankside')}",
        day=day,
    )


def _kind(gauging: Gauging) -> str:
    return "Practice measurement" if gauging.practice else "Measurement of discharge"


def _running(gauging: Gauging, title: str) -> str:
    """Return what stands at the foot of every page; on practice, that it is practice."""
    return f"PRACTICE · {_shortened(title)}" if gauging.practice else _shortened(title)


def _shortened(title: str) -> str:
    """Return a title for the foot of every page; the first page has it whole."""
    return title if len(title) <= _LONGEST_FOOT else f"{title[: _LONGEST_FOOT - 1]}…"


def section_key(row: int) -> str:
    """Return the key of the picture of a row of channels."""
    return f"section {row + 1}"


def _stage(material: NoteMaterial) -> FactGroup:
    gauging = material.gauging
    day, unit = day_of(gauging), gauging.units.length
    facts = [
        Fact(clock(reading.at, day) or "Time not recorded", f"{reading.value:.10g} {unit}")
        for reading in gauging.stage
    ]
    if gauging.no_gauge:
        facts = [Fact("Water level", "no staff gauge at the site")]
    elif not facts:
        facts = [fact("Water level", None)]
    if material.mean_stage is not None:
        # One decimal more than was read: further ones would be made up.
        decimals = max(decimals_read(reading.value) for reading in gauging.stage) + 1
        mean = round(material.mean_stage.value, decimals)
        facts.append(Fact("Mean gauge height", f"{mean:.12g} {unit}"))
    return FactGroup("Stage", tuple(facts))


def _map(gauging: Gauging) -> Picture | None:
    position = gauging.site.position
    if position is None:
        return None
    name = position.label or gauging.site.name or "the section"
    return Picture(
        MAP_KEY,
        f"Map with {name} at latitude {position.lat:.10g} and longitude {position.lon:.10g}, a "
        "scale bar and north upwards.",
        "WGS 84; north is up",
    )


def _parts(material: NoteMaterial, drawing: SectionDrawing, afterwards: bool) -> Iterator[Part]:
    gauging, result = material.gauging, material.result
    yield Part("Section", pictures=tuple(_section_pictures(drawing)))
    yield from findings_part(
        gauging, result, material.findings, material.rules, advised=not afterwards
    )
    usual = usual_origin(result.panels)
    below = [" ".join(line.split()) for line in share_legend(result.panels, drawing.limits)]
    below += widths_apart(gauging, result)
    if usual not in ("", "measured"):
        below.append(f"Velocity, unless the notes say another: {usual}")
    yield Part(
        "Verticals", tables=vertical_tables(gauging, result, drawing.limits), below=tuple(below)
    )
    yield uncertainty_part(material.budgets, material.budget_refusals)
    if material.filed:
        yield Part("The total that was filed", sentences=material.filed, narrow=True)
    stage = () if material.mean_stage is None else material.mean_stage.remarks
    assumed = (*material.sheet_notes, *result.notes, *stage)
    none = () if assumed else ("Nothing that would have to be noted.",)
    yield Part("What was assumed", sentences=none, points=assumed, narrow=True)
    yield corrections_part(gauging.corrections, day_of(gauging))
    yield Part("Remarks", sentences=(gauging.remarks or "None were written.",), narrow=True)
    yield Part("How it was worked out", sentences=(" ".join(_how(material)),), fine=True)
    cautions = reminders(material.rules, "ft" if drawing.units.english else "m")
    yield Part(CAUTIONS_TITLE, sentences=(cautions,), fine=True)


def _how(material: NoteMaterial) -> Iterator[str]:
    result, rules = material.result, material.rules
    words = method_words(result)
    yield f"{words[0].upper()}{words[1:]}; version {result.method_version} of our methods."
    if rules is not None:
        yield f"Rule set {rules.name}: {rules.title}."
    wanted = material.gauging.rule_set
    if wanted is not None and (rules is None or wanted != rules.name):
        yield f"The record asks for the rule set {wanted}."
    if material.gauging.id is not None:
        yield f"Identifier of the gauging: {material.gauging.id}."


def _section_pictures(drawing: SectionDrawing) -> Iterator[Picture]:
    rows = section_rows(drawing)
    units = drawing.units
    for number, row in enumerate(rows):
        described: list[str] = []
        for channel in row:
            first, last = channel.verticals[0], channel.verticals[-1]
            deepest = max(channel.verticals, key=lambda vertical: vertical.depth)
            fastest = max(channel.verticals, key=lambda vertical: abs(vertical.velocity))
            described.append(
                f"{channel.title or 'Section'}: {len(channel.verticals)} verticals from tape "
                f"{first.tape:.10g} to {last.tape:.10g} {units.length}, deepest "
                f"{deepest.depth:.4g} {units.depth} at tape {deepest.tape:.10g}, fastest "
                f"{fastest.velocity:.4g} {units.velocity} at tape {fastest.tape:.10g}."
            )
        last_row = number == len(rows) - 1
        yield Picture(
            section_key(number), " ".join(described), _legend(drawing) if last_row else ""
        )


def _legend(drawing: SectionDrawing) -> str:
    """Return what the marks of the picture mean, those that occur in it."""
    verticals = [vertical for channel in drawing.channels for vertical in channel.verticals]
    shares = [panel.share or 0.0 for channel in drawing.channels for panel in channel.panels]
    words = []
    if any(vertical.fractions for vertical in verticals):
        words.append("Short bars: depths at which velocity was read.")
    if any(vertical.depth and not vertical.measured for vertical in verticals):
        words.append("Open marks, broken lines: none was read.")
    limits = drawing.limits
    if any(above(share, limits.aim) for share in shares):
        words.append(f"Hatched: shares above {limits.aim:g} %.")
    if any(above(share, limits.limit) for share in shares):
        words.append(f"Crossed: above {limits.limit:g} %.")
    return " ".join((*words, "Banks above water: a sketch."))
