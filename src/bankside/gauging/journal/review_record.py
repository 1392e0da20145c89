"""What somebody of the office held of a gauging, and of which state of it."""

import datetime
from collections.abc import Iterator
from typing import ClassVar, Literal, get_args

import attrs

from bankside.gauging.checked import Checked, Rule
from bankside.gauging.faults import Fault
from bankside.gauging.fields import Choice, Instant, Number, Text, about

__all__ = ["Review", "Verdict"]

Verdict = Literal["approved", "sent back"]


def _sent_back_with_a_reason(review: "Review") -> Iterator[Fault]:
    """Who is to do something again is told why."""
    if review.verdict == "sent back" and review.reason is None:
        yield Fault(
            "reason must be given where a gauging is sent back (got nothing)", path="reason"
        )


@attrs.frozen
class Review(Checked):
    """The verdict that stands on a gauging; it holds for the entries that were looked at."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("verdict", "reason"), _sent_back_with_a_reason),)

    verdict: Verdict = attrs.field(
        metadata=about(Choice(get_args(Verdict)), "whether the gauging was approved or sent back")
    )
    by: str = attrs.field(metadata=about(Text(), "who reviewed it"))
    at: datetime.datetime = attrs.field(metadata=about(Instant(), "when it was reviewed"))
    state: str = attrs.field(
        metadata=about(Text(), "the digest of the entries that were looked at, as by `state_of`")
    )
    reason: str | None = attrs.field(
        default=None, metadata=about(Text(), "why, which must be said where it was sent back")
    )
    discharge_m3s: float | None = attrs.field(
        default=None,
        metadata=about(Number(), "the discharge that was looked at, absent where there was none"),
    )
    method_version: str | None = attrs.field(
        default=None, metadata=about(Text(), "the version of the method that gave it")
    )
