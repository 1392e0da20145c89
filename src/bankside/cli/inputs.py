"""Whatever file a person hands over, as gaugings: our own JSON, or a sheet in any convention."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Annotated, Literal

import attrs
from cyclopts import Parameter

from bankside.cli.output import asked_once, print_faults
from bankside.cli.progress import tracked
from bankside.gauging.compute import EdgeRule, Method, compute
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.reconcile import Reconciliation, reconcile_all
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.intake.journals import united_sources
from bankside.intake.read import read_gaugings
from bankside.intake.source import Source
from bankside.sheets.answers import COLUMN_NAMES, UNIT_CHOICES, Answers, load_answers, unit_name
from bankside.sheets.read import SheetGauging

__all__ = ["Computed", "SheetOptions", "Source", "compute_all", "load", "placed", "require_usable"]


@Parameter(name="*", group="How to read a sheet")
@attrs.frozen
class SheetOptions:
    """Answers to the questions that a sheet can raise; each question names its option."""

    column: Annotated[tuple[str, ...], Parameter(show_default=False, consume_multiple=False)] = ()
    """Which column holds what: NAME=HEAD, or NAME=LETTER. Repeat as needed: depth="D ft"."""
    unit_of: Annotated[
        tuple[str, ...], Parameter(name="--unit", show_default=False, consume_multiple=False)
    ] = ()
    """The unit of tape, depth, velocity or discharge: NAME=UNIT. Repeat as needed: depth=cm."""
    rating: Annotated[tuple[str, ...], Parameter(show_default=False, consume_multiple=False)] = ()
    """A part of the meter's rating, velocity = SLOPE × rev/s + INTERCEPT: SLOPE,INTERCEPT or
    SLOPE,INTERCEPT,UP_TO (rev/s). Repeat as needed."""
    separator: str | None = None
    """What stands between the fields of a text file: "," ";" "|" or tab."""
    encoding: str | None = None
    """The character encoding of a text file."""
    sheet: str | None = None
    """The sheet of a workbook to read; all visible ones if nothing is said."""
    decimal: Literal["point", "comma"] | None = None
    """The decimal mark of the numbers."""
    date_order: Literal["day-first", "month-first"] | None = None
    """How dates such as 03/04/2026 are to be read."""
    century: Literal["1900", "2000"] | None = None
    """The century of years written with two figures."""
    empty_velocity: Literal["sounding", "zero"] | None = None
    """What an empty velocity beside a depth means; a sounding if nothing is said."""
    same_tape: Literal["repeated"] | None = None
    """What two rows at one tape position mean."""
    tape_restart: Literal["channels", "gaugings", "sort"] | None = None
    """What it means where the tape runs back."""
    empty_edge: Literal["sloping"] | None = None
    """What an empty depth at the end of a section means."""
    first_bank: Literal["left", "right"] | None = None
    """The bank at which the rows of a sheet begin, where its edges do not name their banks."""
    time_zone: Annotated[str | None, Parameter(allow_leading_hyphen=True)] = None
    """The offset from UTC of the times on a sheet that states none, such as -07:00."""
    answers: Annotated[Path | None, Parameter(name="--answers")] = None
    """A file of answers that was kept before."""
    keep_answers: Annotated[Path | None, Parameter(name="--keep-answers")] = None
    """Where to keep the answers given here, for the next file of the same kind."""

    def to_answers(self) -> Answers:
        """Return the answers; what is said on the command line outweighs the file of answers."""
        given = load_answers(self.answers) if self.answers is not None else Answers()
        columns = dict(given.columns)
        for name, heads in _pairs("--column", self.column, COLUMN_NAMES).items():
            columns[name] = tuple(heads)
        units = dict(given.units)
        named = _pairs("--unit", self.unit_of, UNIT_CHOICES)
        units.update({name: unit_name(found[-1]) for name, found in named.items()})
        said = {
            name: getattr(self, name)
            for name in (
                "separator",
                "encoding",
                "sheet",
                "decimal",
                "date_order",
                "century",
                "empty_velocity",
                "same_tape",
                "tape_restart",
                "empty_edge",
                "first_bank",
                "time_zone",
            )
            if getattr(self, name) is not None
        }
        if self.rating:
            said["rating"] = self.rating
        return attrs.evolve(given, columns=columns, units=units, **said)


def _pairs(option: str, texts: Iterable[str], names: Iterable[str]) -> dict[str, list[str]]:
    """Return NAME=VALUE texts as name → values; InputRefused for what is no such pair."""
    names = tuple(names)
    pairs: dict[str, list[str]] = {}
    faults = []
    for text in _parted(texts, names):
        name, equals, value = text.partition("=")
        if not equals or not value or name not in names:
            listed = ", ".join(names)
            faults.append(
                Fault(
                    f'{option}: found "{text}"; NAME=VALUE with a name from {listed} would be right'
                )
            )
        else:
            pairs.setdefault(name, []).append(value)
    if faults:
        raise InputRefused(faults)
    return pairs


def _parted(texts: Iterable[str], names: Sequence[str]) -> Iterator[str]:
    """Yield NAME=VALUE texts one by one; several may be written with commas between them."""
    starts = "|".join(map(re.escape, names))
    for text in texts:
        yield from re.split(rf",(?=(?:{starts})=)", text)


@attrs.frozen
class Computed:
    """A gauging with its result, and what explains its filed total where it carries one."""

    file: str
    item: SheetGauging
    gauging: Gauging
    result: Result
    filed: Reconciliation | None


def load(paths: Sequence[Path], answers: Answers) -> list[Source]:
    """Return the gaugings of all files; a file that is refused whole is one refused item.

    Journals of one gauging that stand in several files are united.
    """
    return united_sources([read_gaugings(path, answers) for path in tracked(paths, "reading")])


def require_usable(
    sources: Sequence[Source], usable: int, keep_going: bool, verb: str = "compute"
) -> None:
    """Refuse everything when a gauging is refused, unless a person said to keep going.

    usable: how many gaugings could be taken; verb: what for. Raises InputRefused. With `keep_going`
    the refused ones are told on stderr instead, as long as there is one that could be taken.
    """
    items = [(source, item) for source in sources for item in source.items]
    every = dict.fromkeys(fault for _, item in items for fault in item.faults)
    faults = tuple(asked_once(list(every)))
    if faults and keep_going and usable:
        print_faults(faults)
        return
    if faults:
        others = "one other gauging" if usable == 1 else f"{usable} other gaugings"
        done = {"compute": "computed", "write": "written", "check": "checked"}[verb]
        hint = f"{others} could be {done}: say --keep-going to leave the refused ones out"
        raise InputRefused((*faults, Fault(hint)) if usable else faults)
    if not usable:
        raise InputRefused(
            Fault(f"{item.label}: {item.reason}; nothing to {verb}", file=source.file)
            for source, item in items
        )


def compute_all(
    sources: Sequence[Source], method: Method, edge_rule: EdgeRule
) -> tuple[list[Source], list[Computed]]:
    """Compute every gauging; return the sources, with new faults in them, and what was computed."""
    steps = [(number, item) for number, source in enumerate(sources) for item in source.items]
    computed: list[tuple[str, SheetGauging, Gauging, Result]] = []
    checked: list[list[SheetGauging]] = [[] for _ in sources]
    for number, item in tracked(steps, "computing"):
        source, kept = sources[number], checked[number]
        kept.append(item)
        if item.gauging is None:
            continue
        try:
            result = compute(item.gauging, method, edge_rule)
        except InputRefused as refused:
            kept[-1] = _refused(
                item, tuple(placed(fault, source, item) for fault in refused.faults)
            )
        else:
            computed.append((source.file, item, item.gauging, result))
    filed = reconcile_all([(gauging, result) for _, _, gauging, result in computed])
    recounted = [
        _recounted(source, tuple(items)) for source, items in zip(sources, checked, strict=True)
    ]
    return recounted, [
        Computed(*parts, reconciled) for parts, reconciled in zip(computed, filed, strict=True)
    ]


def _refused(item: SheetGauging, faults: tuple[Fault, ...]) -> SheetGauging:
    """Return an item as refused: its rows lose their use, and its faults say why."""
    rows = tuple(
        attrs.evolve(f, fate="refused", reason="its gauging could not be computed")
        if f.fate == "used"
        else f
        for f in item.rows
    )
    return attrs.evolve(item, gauging=None, rows=rows, faults=item.faults + faults)


def _recounted(source: Source, items: tuple[SheetGauging, ...]) -> Source:
    """Return a source whose counts follow rows that were refused when computing."""
    newly = sum(i.counts["refused"] for i in items) - sum(i.counts["refused"] for i in source.items)
    counts = {
        **source.counts,
        "used": source.counts["used"] - newly,
        "refused": source.counts["refused"] + newly,
    }
    return attrs.evolve(source, items=items, counts=counts)


def placed(fault: Fault, source: Source, item: SheetGauging) -> Fault:
    """Return a fault of a record with the file, and with the row where a sheet holds its part."""
    named = attrs.evolve(fault, file=source.file)
    found = re.match(r"channels\[(\d+)\](?:\.verticals\[(\d+)\])?", fault.path or "")
    if not item.places or found is None:
        return attrs.evolve(named, path=_with_tape(fault.path, item))
    first = next(iter(item.places.values()))
    sheet, row = item.places.get((int(found[1]), int(found[2] or 0)), first)
    return attrs.evolve(named, sheet=sheet, row=row, path=None)


def _with_tape(path: str | None, item: SheetGauging) -> str | None:
    """Return a path with the tape position of its vertical, which people know it by."""
    found = re.match(r"channels\[(\d+)\]\.verticals\[(\d+)\]", path or "")
    if found is None or item.gauging is None:
        return path
    vertical = item.gauging.channels[int(found[1])].verticals[int(found[2])]
    return f"{path} (tape {vertical.tape:g})"
