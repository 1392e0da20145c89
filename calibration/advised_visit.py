"""A virtual crew that does what it is advised to, act by act, and what came of it."""

from __future__ import annotations

from collections.abc import Collection

import attrs

from bankside.gauging.advice import Act, advise
from bankside.gauging.advice_design import HowRead
from bankside.gauging.advice_plan import fewest_verticals
from bankside.gauging.checks.examined import Examined, examine
from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging, Units, Vertical
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import Assumed, flow_of
from bankside.practice.called import CalledVertical, edge_record, vertical_record
from bankside.practice.crew import Crew
from bankside.practice.measuring import wade
from bankside.practice.stream import SimulatedStream
from bankside.practice.wading import Wading

__all__ = ["Step", "Visit", "fixed", "planned"]


@attrs.frozen
class Step:
    """How a visit stood: verticals read, seconds in the water, discharge over the true one less 1.

    `stated` is half the interval of 95 % in percent, `by_verticals` that without what is the same
    at all verticals, `act` what was done to come there, `elsewhere` whether the crew was told then
    that the target is out of reach.
    """

    verticals: int
    seconds: float
    error: float
    stated: float
    by_verticals: float
    act: str = "first pass"
    elsewhere: bool = False


class Visit:
    """One visit: a first pass of verticals at equal distances, and whatever is done after it."""

    def __init__(
        self, stream: SimulatedStream, crew: Crew, seed: int, first: int, rules: RuleSet
    ) -> None:
        """Read the edges, the gaps that are seen, and the first pass."""
        self.stream, self.rules = stream, rules
        self.wading = Wading(stream, crew, seed)
        self.waded = wade(self.wading, first)
        self.read: dict[float, CalledVertical] = {one.tape: one for one in self.waded.verticals}

    def examined(self) -> Examined:
        """Return what is on the sheet, as the checks and the advice see it."""
        crew = self.wading.crew
        rows = [vertical_record(one) for one in self.read.values()]
        rows += [
            Vertical(tape=self.wading.mark(end), dry=True) for gap in self.waded.gaps for end in gap
        ]
        rows.sort(key=lambda one: one.tape)
        edges = edge_record(self.waded.left, "left"), edge_record(self.waded.right, "right")
        record = Gauging(
            units=Units(length=crew.length_unit, velocity=crew.velocity_unit),
            channels=(Channel(verticals=(edges[0], *rows, edges[1])),),
        )
        return examine(record, self.rules, finished=True)

    def advice(self, target: float | None, *, common: bool = True) -> tuple[Act, ...]:
        """Return what the crew is told to do next."""
        return advise(self.examined(), target=target, common=common)

    def step(self, act: str = "first pass", *, elsewhere: bool = False) -> Step:
        """Return how the visit stands."""
        gauging = self.examined().gauging
        result = compute(gauging)
        section = section_as_read(gauging, flow_of(gauging, result), Assumed())
        assert section is not None
        return Step(
            verticals=sum(one.depth > 0.0 for one in self.read.values()),
            seconds=self.wading.seconds_spent,
            error=result.discharge_m3s / self.stream.discharge - 1.0,
            stated=section.half_width(0.95),
            by_verticals=section.half_width(0.95, common=False),
            act=act,
            elsewhere=elsewhere,
        )

    def do(self, act: Act) -> None:
        """Do what an act says."""
        assert act.tape is not None
        metre = self.wading._metre
        if act.kind == "vertical":
            self.read[act.tape] = self.wading.vertical(act.tape * metre)
            return
        called = self.read[act.tape]
        self.wading.seconds_spent += self.wading.crew.moving
        fractions = {point.fraction for point in called.points}
        for fraction in {0.2, 0.8} if act.kind == "second point" else fractions:
            if fraction is not None:
                called = self.wading.more(called, fraction)
        self.read[act.tape] = called

    def follow(
        self,
        target: float | None,
        *,
        most: int,
        common: bool = True,
        kinds: Collection[str] = ("vertical", "second point", "longer exposure"),
    ) -> list[Step]:
        """Do what is advised until told to stop, or until `most` verticals; every state it was in.

        The crew goes on where it is told that the target is out of reach, so that it can be seen
        whether that was so; what the rule set asks for beyond the target is not read. `kinds` are
        the acts that it does.
        """
        steps: list[Step] = []
        done = "first pass"
        for _ in range(4 * most):
            acts = self.advice(target, common=common)
            elsewhere = any(act.kind == "elsewhere" for act in acts)
            steps.append(self.step(done, elsewhere=elsewhere))
            stopped = any(act.kind == "enough" for act in acts)
            todo = [act for act in acts if act.kind in kinds]
            if stopped or not todo or steps[-1].verticals >= most:
                break
            self.do(todo[0])
            done = todo[0].kind
        return steps


def fixed(stream: SimulatedStream, crew: Crew, seed: int, count: int, rules: RuleSet) -> Step:
    """Return how a visit with so many verticals at equal distances ends."""
    return Visit(stream, crew, seed, count, rules).step()


def planned(
    stream: SimulatedStream, crew: Crew, seed: int, target: float, rules: RuleSet
) -> Step | None:
    """Return how a visit ends with as many verticals as an earlier one made likely to do.

    The earlier one, of the same crew in the same water, had 20 at equal distances.
    """
    earlier = Visit(stream, crew, seed + 1, 20, rules).examined()
    assert earlier.result is not None
    flow = flow_of(earlier.gauging, earlier.result)
    section = section_as_read(earlier.gauging, flow, Assumed())
    assert section is not None
    count = fewest_verticals(section, target, HowRead.by(rules))
    return None if count is None else fixed(stream, crew, seed, count, rules)
