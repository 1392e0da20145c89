"""How verticals are laid out, as it is asked for on the command line."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Final, Literal

import attrs
from cyclopts import Parameter, Token

from bankside.cli.inputs import Computed, Source, compute_all, load, require_usable
from bankside.gauging.advice_depths import soundings_remark
from bankside.gauging.advice_plan import USUAL_TARGET, target_remark
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.flow_profile import FlowProfile, flow_profile
from bankside.gauging.plan import Plan, plan_verticals
from bankside.gauging.plan_rules import Rule
from bankside.gauging.plan_timing import USUAL_TIMING, Timing
from bankside.gauging.records import Edge
from bankside.gauging.rule_sets.choice import rules_of
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.sheets.answers import Answers, load_answers

__all__ = [
    "NUMBER",
    "UNIT_REMARK",
    "USUAL_UNIT",
    "PlanOptions",
    "TapeUnit",
    "percent",
    "read_lengths",
    "read_soundings",
    "whole_number",
]

TapeUnit = Literal["ft", "m"]

USUAL_UNIT: Final = "ft"
UNIT_REMARK: Final = "No unit was given: lengths are taken as ft; --unit m for metres."
NUMBER: Final = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)", re.ASCII)

_USUAL_RESOLUTION: Final[dict[TapeUnit, Decimal]] = {"ft": Decimal("0.1"), "m": Decimal("0.05")}
_WHOLE_NUMBER: Final = re.compile(r"[+-]?\d{1,9}", re.ASCII)
_MOST_PERCENT: Final = 100.0
# Enough names to see what kind of file it is.
_MOST_NAMES: Final = 5


def whole_number(_: type, tokens: Sequence[Token]) -> int:
    """Return a number of things; unlike the usual reading of an int, 2.5 is not taken for 2."""
    text = tokens[0].value
    if not _WHOLE_NUMBER.fullmatch(text):
        raise ValueError(f'found "{text}"; a whole number such as 12 would be right')
    return int(text)


def percent(_: type, tokens: Sequence[Token]) -> float:
    """Return a percentage as it was typed; ValueError with what would be right."""
    text = tokens[0].value
    if not NUMBER.fullmatch(text) or not 0.0 < float(text) <= _MOST_PERCENT:
        raise ValueError(f'found "{text}"; a percentage such as 5 would be right')
    return float(text)


@Parameter(name="*")
@attrs.frozen
class PlanOptions:
    """How verticals are laid out between two edges of water; lengths as they were typed."""

    verticals: Annotated[int, Parameter(converter=whole_number)] = 25
    """How many verticals are wanted."""
    rule: Rule = "equal"
    """How they are spread. equal: at equal distances; cell-centres: at the centres of equal cells;
    skip-first-cell: one and a half intervals from the edge at which the crew starts, then at whole
    intervals; equal-flow: closer where an earlier gauging found more water."""
    start: Edge = "left"
    """The bank from which the crew starts, facing downstream. Verticals are listed and numbered
    from there. skip-first-cell leaves out the cell at that bank; the other rules stand at the same
    positions from either bank. LEFT stays the left edge of water."""
    earlier: Annotated[Path | None, Parameter(name="--from")] = None
    """An earlier gauging of the site: a sheet (CSV, XLSX, XLS, ODS) or our JSON form, with one
    gauging in it. With it a plan says which shares to expect."""
    from_channel: Annotated[int | None, Parameter(converter=whole_number)] = None
    """Which channel of the earlier gauging, counted from 1, if it has several."""
    answers: Path | None = None
    """A file of answers to the questions that the sheet of the earlier gauging raises, as
    `bankside compute --keep-answers` writes it."""
    soundings: str | None = None
    """Depths sounded before the first velocity, in place of an earlier gauging: 5 or more, each a
    tape position and a depth, "2:0.4, 4:0.9, ..."."""
    target: Annotated[float, Parameter(converter=percent)] = USUAL_TARGET
    """How sure the discharge is to be, in percent, 19 times in 20: with an earlier gauging, or with
    soundings, a plan says how many verticals are likely to do for that."""
    tape_resolution: str | None = None
    """The smallest graduation that is read: 0.1 ft or 0.05 m if nothing is said."""
    minimum_spacing: str | None = None
    """The least distance between neighbouring verticals. Published: 0.3 ft for a small rotating
    meter, 0.5 ft for a large one."""

    def given(self) -> list[str]:
        """Return the options that differ from what holds if nothing is said, as they are typed."""
        return [
            "--from" if field.name == "earlier" else "--" + field.name.replace("_", "-")
            for field in attrs.fields(PlanOptions)
            if getattr(self, field.name) != field.default
        ]

    def lengths(self) -> dict[str, str | None]:
        """Return the lengths among the options, as typed."""
        return {
            "--tape-resolution": self.tape_resolution,
            "--minimum-spacing": self.minimum_spacing,
        }

    def plan(
        self, lengths: Mapping[str, Decimal], unit: TapeUnit, timing: Timing = USUAL_TIMING
    ) -> tuple[Plan, Computed | None]:
        """Return the plan between LEFT and RIGHT of `lengths`, and the earlier gauging it uses.

        InputRefused as for `plan_verticals`, or where the earlier gauging cannot be used.
        """
        if self.soundings is not None and self.earlier is not None:
            raise InputRefused([Fault("--soundings must stand without --from (got both)")])
        before = _earlier_gauging(self.earlier, self.from_channel, self.answers)
        plan = plan_verticals(
            lengths["LEFT"],
            lengths["RIGHT"],
            unit=unit,
            resolution=lengths.get("--tape-resolution", _USUAL_RESOLUTION[unit]),
            verticals=self.verticals,
            rule=self.rule,
            start=self.start,
            minimum_spacing=lengths.get("--minimum-spacing"),
            earlier=None if before is None else _flow(before, self.from_channel),
            timing=timing,
        )
        remark = self._about_target(before, lengths, unit, timing)
        if remark is not None:
            plan = attrs.evolve(plan, remarks=(remark, *plan.remarks))
        return plan, before

    def _about_target(
        self,
        before: Computed | None,
        lengths: Mapping[str, Decimal],
        unit: TapeUnit,
        timing: Timing,
    ) -> str | None:
        if self.soundings is not None:
            return soundings_remark(
                read_soundings(self.soundings, unit),
                (float(lengths["LEFT"]), float(lengths["RIGHT"])),
                load_rule_set(BASE),
                target=self.target,
                unit=unit,
                exposure_seconds=timing.exposure_seconds,
            )
        if before is None:
            return None
        rules, _ = rules_of(before.gauging)
        return target_remark(
            before.gauging,
            before.result,
            rules,
            target=self.target,
            channel=None if self.from_channel is None else self.from_channel - 1,
            exposure_seconds=timing.exposure_seconds,
        )


def read_lengths(unit: TapeUnit, typed: Mapping[str, str | None]) -> dict[str, Decimal]:
    """Return the lengths that were given, exactly as written; InputRefused names all others."""
    faults = [
        Fault(f'{name}: found "{text}"; a length in {unit} such as 3.2 would be right')
        for name, text in typed.items()
        if text is not None and not NUMBER.fullmatch(text)
    ]
    if faults:
        raise InputRefused(faults)
    return {name: Decimal(text) for name, text in typed.items() if text is not None}


def read_soundings(text: str, unit: TapeUnit) -> tuple[tuple[float, float], ...]:
    """Return soundings, each a tape position and a depth; InputRefused names what is none."""
    pairs = [tuple(part.strip() for part in one.split(":")) for one in text.split(",")]
    faults = [
        Fault(
            f'--soundings: found "{":".join(pair)}"; a tape position and a depth in {unit}, such '
            "as 3.2:0.8, would be right"
        )
        for pair in pairs
        if len(pair) != 2 or not all(map(NUMBER.fullmatch, pair))
    ]
    if faults:
        raise InputRefused(faults)
    return tuple((float(tape), float(depth)) for tape, depth in pairs)


def _earlier_gauging(file: Path | None, channel: int | None, kept: Path | None) -> Computed | None:
    """Return the one gauging of a file with its result, or None without a file.

    Raises InputRefused as `bankside compute` does, or when there are several gaugings.
    """
    if file is None:
        faults = [
            Fault(f"{option} must go with --from")
            for option, value in (("--from-channel", channel), ("--answers", kept))
            if value is not None
        ]
        if faults:
            raise InputRefused(faults)
        return None
    sources = load([file], Answers() if kept is None else load_answers(kept))
    _require_one_gauging(sources[0])
    checked, computed = compute_all(sources, "mid-section", "half-width")
    require_usable(checked, len(computed), keep_going=False)
    return computed[0]


def _require_one_gauging(source: Source) -> None:
    """Refuse a file of several gaugings, named; what nothing was measured on is none."""
    labels = [item.label for item in source.items if item.reason is None]
    if len(labels) < 2:
        return
    more = len(labels) - _MOST_NAMES
    named = ", ".join(labels[:_MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    message = f"found {len(labels)} gaugings ({named}); a file with one gauging would be right"
    raise InputRefused([Fault(message, file=source.file)])


def _flow(earlier: Computed, channel: int | None) -> FlowProfile:
    """Return how the flow was spread; faults name the file, and the option that settles them."""
    count = len(earlier.gauging.channels)
    if channel is None and count > 1:
        message = f"found {count} channels; say which one, --from-channel 1 to {count}"
        raise InputRefused([Fault(message, file=earlier.file)])
    try:
        index = None if channel is None else channel - 1
        return flow_profile(earlier.gauging, earlier.result, index)
    except InputRefused as refused:
        placed = (attrs.evolve(fault, file=earlier.file) for fault in refused.faults)
        raise InputRefused(placed) from refused
