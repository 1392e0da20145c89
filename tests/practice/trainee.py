"""Somebody who practises by a script: well, or with the mistakes that a test plants."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import attrs

from bankside.gauging.records import (
    Channel,
    Gauging,
    PointReading,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.practice.measuring import even_positions
from bankside.practice.session.act import Act, Session
from bankside.practice.session.document import practice_id
from bankside.practice.session.followed import Followed, follow
from bankside.practice.session.reach import make_reach
from bankside.practice.session.shown import ShownDepth, ShownEdge, ShownPoint, ShownStage

__all__ = ["Trainee", "practise", "waited"]

Change = Callable[[Vertical], Vertical]


@attrs.frozen(kw_only=True)
class Trainee:
    """Habits: the section (the better one if None), how many verticals, and what is done wrongly.

    `hold` goes into every act of holding the meter; `setting` is by which factor the rod is set
    wrongly; `deeper` is added to every depth; `change` is made to every vertical as written.
    """

    section: str | None = None
    verticals: int = 24
    seconds: int = 60
    clear: bool = False
    skew: float = 0.0
    hold: Mapping[str, Any] = attrs.field(factory=dict)
    setting: float | None = None
    deeper: float = 0.0
    angles: bool = True
    edges: bool = True
    skip_first: bool = False
    change: Change | None = None


def practise(
    stream: str, seed: int, trainee: Trainee | None = None
) -> tuple[Session, Followed, Gauging]:
    """Let somebody gauge a practice stream: the session, what it showed, and the record."""
    trainee = trainee or Trainee()
    reach = make_reach(stream, seed)
    acts = [Act("choose", section=trainee.section or reach.best)]
    acts += [Act("clear")] if trainee.clear else []
    acts += [
        *(Act("stretch", skew=trainee.skew), Act("stage")),
        *(Act("edge", side="left"), Act("edge", side="right")),
    ]
    session = Session(stream, seed, tuple(acts))
    left, right = (s for s in follow(session).shown if isinstance(s, ShownEdge))
    marks = [round(y, 2) for y in even_positions(left.tape, right.tape, trainee.verticals)]
    if trainee.skip_first:
        marks = marks[1:]
    depths = _sounded(session, marks)
    for mark in marks:
        acts.append(Act("sound", tape=mark))
        if depths[mark] < 0.03:
            continue
        for fraction in (0.2, 0.8) if depths[mark] >= 0.75 else (0.6,):
            said = {"seconds": float(trainee.seconds), **trainee.hold}
            if trainee.setting is not None:
                said["setting"] = depths[mark] * (1 - fraction) / 0.4 * trainee.setting
            acts.append(Act("hold", tape=mark, fraction=fraction, **said))
    session = attrs.evolve(session, acts=tuple(acts))
    followed = follow(session)
    return session, followed, _record(session, followed, trainee)


def _sounded(session: Session, marks: list[float]) -> dict[float, float]:
    acts = (*session.acts, *(Act("sound", tape=mark) for mark in marks))
    shown = follow(attrs.evolve(session, acts=acts)).shown
    return {one.tape: one.depth for one in shown if isinstance(one, ShownDepth)}


def _record(session: Session, followed: Followed, trainee: Trainee) -> Gauging:
    rows: dict[float, Vertical] = {}
    for one in followed.shown:
        if isinstance(one, ShownDepth):
            depth = round(one.depth + trainee.deeper, 3)
            dry = one.depth < 0.03
            rows[one.tape] = Vertical(one.tape, dry=True) if dry else Vertical(one.tape, depth)
        elif isinstance(one, ShownPoint) and one.called is not None:
            reading = PointReading(one.called, one.fraction, float(one.seconds))
            row = rows[one.tape]
            angle = one.angle_seen if trainee.angles and abs(one.angle_seen) >= 5 else None
            rows[one.tape] = attrs.evolve(row, velocity=(*row.velocity, reading), angle=angle)
    verticals = [trainee.change(row) if trainee.change else row for row in rows.values()]
    edges = [
        # What has no depth to the mark of the rod is written as sloping, whatever the bank.
        Vertical(one.tape, one.depth, edge=one.side, bank=one.bank if one.depth else "sloping")
        for one in followed.shown
        if isinstance(one, ShownEdge) and trainee.edges
    ]
    return Gauging(
        units=Units("m", "m/s"),
        channels=(Channel((*edges[:1], *verticals, *edges[1:])),),
        id=practice_id(session),
        site=Site(stream="simulated stream", name=session.stream),
        no_gauge=True,
        practice=True,
    )


def waited(seed: int, minutes: int = 30) -> tuple[Session, Gauging]:
    """Let somebody wait at the bank of the stream that rises, read the gauge, and stay out."""
    looks = (Act("choose", section="A"), Act("stage"))
    session = Session("rising stage", seed, (*looks, *looks[:1] * minutes, *looks, Act("stay out")))
    shown = follow(session).shown
    stage = tuple(StageReading(one.value) for one in shown if isinstance(one, ShownStage))
    units = Units("m", "m/s")
    record = Gauging(
        units=units, channels=(Channel(()),), id=practice_id(session), practice=True, stage=stage
    )
    return session, record
