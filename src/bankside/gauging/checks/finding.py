"""What a check is, and what it has to say."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Literal

import attrs

from bankside.gauging.records import Answer, Severity
from bankside.gauging.rule_sets.rule_set import Threshold

if TYPE_CHECKING:
    from bankside.gauging.checks.examined import Examined

__all__ = ["SEVERITIES", "Check", "Finding", "Place", "Severity", "Suspect"]

SEVERITIES: tuple[Severity, ...] = ("stop", "fix now", "explain", "note")
"""From the gravest on. stop: unsafe or nonsense; fix now: while the crew is in the water; explain:
acceptable with a reason; note: to be known."""


@attrs.frozen
class Suspect:
    """Which figure of the record is thought to have slipped.

    `vertical` is its place among those of the channel, `reading` that of the velocity among those
    of the vertical.
    """

    vertical: int
    quantity: Literal["tape", "depth", "velocity"]
    reading: int | None = None


@attrs.frozen
class Place:
    """Where a vertical is to be added: in which channel, and at which tape position, as called."""

    channel: int
    tape: float


@attrs.frozen
class Finding:
    """What a check has to say about one gauging.

    `found` is one sentence with the tape positions and the figures, in the units called; `advice`
    is what to do, naming the tape position. `tapes` are the tape positions concerned, as called,
    and `channel` the channel, both empty where the gauging as a whole is meant. Where they may lie
    in several channels, `channels` are those of each, and `channel` is empty where they do so.
    `thresholds` are the values it rests on, with their sources. `instead` is the figure that was
    probably meant, in the unit called, where there is one ("did you mean 1.2?"), and `suspect` the
    figure of the record in whose place it was meant. `hangs_on` says in a sentence with which slip
    this finding goes, where it does. `comes_out` says whether it calls the crew out of the water
    though it is no stop. `places` are where the advice has verticals added, in its order; none
    while another finding calls the crew out of the water, or where one of them is, or may well be,
    too strong to wade. `answer` is the crew's, if kept.
    """

    check: str
    severity: Severity
    found: str
    advice: str
    channel: int | None = None
    tapes: tuple[float, ...] = ()
    thresholds: tuple[Threshold, ...] = ()
    instead: float | None = None
    answer: Answer | None = None
    suspect: Suspect | None = None
    hangs_on: str | None = None
    comes_out: bool = False
    places: tuple[Place, ...] = ()
    channels: tuple[int, ...] = ()


@attrs.frozen
class Check:
    """One check of the catalogue: what it is, where it comes from, and the function that looks.

    `name` is its plain name and its key in answers. `trigger` and `remedy` are sentences for the
    catalogue, `thresholds` the names of the values of the rule set that it uses, `severities` what
    it may raise, `source` where the rule comes from ("common practice, no source" if nowhere).
    `find` is pure and yields nothing where it cannot say anything yet. `wades` says whether its
    advice sends somebody into the water.
    """

    name: str
    trigger: str
    severities: tuple[Severity, ...]
    remedy: str
    source: str
    find: Callable[[Examined], Iterator[Finding]]
    thresholds: tuple[str, ...] = ()
    wades: bool = False
