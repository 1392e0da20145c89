"""What to do next in the water, as the command line tells it, also of a finished sheet."""

from __future__ import annotations

import attrs

from bankside.gauging.advice import advise
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["NextActs", "next_acts"]

_NOTHING = (
    "Nothing can be said yet: both edges of water and some verticals between them are needed, and "
    "nobody is sent in while a finding calls the crew out or doubts a figure."
)


@attrs.frozen
class NextActs:
    """The acts that lower the interval most for their time, best first, and the target in percent.

    Each act has its kind, the tape position where there is one, its seconds and what is then left.
    """

    target: float
    acts: tuple[dict[str, object], ...]

    def lines(self) -> list[str]:
        """Return the acts as people read them."""
        return [str(act["words"]) for act in self.acts] or [_NOTHING]


def next_acts(
    gauging: Gauging,
    rules: RuleSet,
    findings: tuple[Finding, ...],
    target: float,
    *,
    finished: bool,
) -> NextActs:
    """Return what `advise` says of a gauging as it was read."""
    examined = examine(gauging, rules, finished=finished)
    acts = advise(examined, findings, target=target)
    return NextActs(
        target,
        tuple(
            {
                "kind": act.kind,
                "channel": act.channel,
                "tape": act.tape,
                "seconds": act.seconds,
                "percent": act.percent,
                "words": act.words,
            }
            for act in acts
        ),
    )
