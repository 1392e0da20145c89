"""Invented gaugings for documents: plain ones, and ones that press on every edge of the page."""

import datetime
import math

import attrs

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.checks.finding import Finding
from bankside.gauging.compute import EdgeRule, Method, compute
from bankside.gauging.header_records import MeterCheck, RatingPart
from bankside.gauging.records import (
    Answer,
    Channel,
    Correction,
    CrewMember,
    Gauging,
    Meter,
    PointReading,
    Position,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.note.material import NoteMaterial

FEET = Units(length="ft", velocity="ft/s")
METRES = Units(length="m", velocity="m/s")

ZONE = datetime.timezone(datetime.timedelta(hours=-7))
START = datetime.datetime(2026, 7, 14, 10, 5, tzinfo=ZONE)

HOSTILE = (
    '#import "x": * $x^2$ <script>alert(1)</script> \\ "quoted" \'single\' [*bold*] {{ 7*7 }} & '
    "_under_ `code` // no comment\n= no heading\r\n-- \u202ebackwards\u202c \x07 \ue000 🐟 "
    "山の川 שלום"
)
ENDLESS = "Llanfair" * 20


def channel(
    count: int, start: float = 1.0, *, deep: float = 0.9, banks: tuple[str, str] = ("left", "right")
) -> Channel:
    """A channel of so many verticals in the water, deepest in its middle, one point each."""
    between = [
        Vertical(
            tape=round(start + 0.5 * (i + 1), 2),
            depth=round(deep * math.sin(math.pi * (i + 1) / (count + 1)), 2),
            velocity=(
                PointReading(
                    round(0.1 + 0.6 * math.sin(math.pi * (i + 1) / (count + 1)), 2), 0.6, seconds=40
                ),
            ),
        )
        for i in range(count)
    ]
    first = Vertical(tape=start, depth=0, edge=banks[0], bank="sloping")  # type: ignore[arg-type]
    last = Vertical(
        tape=round(start + 0.5 * (count + 1), 2), depth=0, edge=banks[1], bank="sloping"
    )  # type: ignore[arg-type]
    return Channel((first, *between, last))


def plain(units: Units = METRES, count: int = 12) -> Gauging:
    """A gauging with everything in its header."""
    return Gauging(
        units=units,
        channels=(channel(count),),
        id="QB-2026-014",
        site=Site("below the ford", "Quill Brook", Position(-1.2345, 45.6012, 4.0, "QB-02")),
        date=START.date(),
        started=START,
        ended=START + datetime.timedelta(minutes=47),
        meter=Meter(
            kind="rotating element",
            serial="P-12",
            rating=(RatingPart(0.25, 0.01, 1.2), RatingPart(0.26, -0.002)),
            rotor="small",
            calibrated=datetime.date(2026, 1, 9),
            calibration_due=datetime.date(2027, 1, 9),
            checks=(
                MeterCheck("spin", "before", seconds=95),
                MeterCheck("spin", "after", seconds=88),
            ),
        ),
        crew=(CrewMember("I. Marrow", "leader"), CrewMember("T. Quayle", "rod")),
        stage=(
            StageReading(0.412, START),
            StageReading(0.41, START + datetime.timedelta(minutes=47)),
        ),
        whole_flow=True,
        quality="good",
        rule_set="common-practice",
        remarks="Light wind upstream.",
        corrections=(
            Correction(
                "depth at tape 3.5 m", "8.3", "0.83", "decimal slipped", "J. Ostrander", START
            ),
            Correction("velocity at tape 4 m", "0.07"),
        ),
    )


def bare() -> Gauging:
    """A gauging of which nothing but the readings is known: no site, date, crew or bank."""
    verticals = tuple(
        attrs.evolve(vertical, edge=None, bank=None) for vertical in channel(6).verticals
    )
    return Gauging(units=METRES, channels=(Channel(verticals),))


def named(name: str) -> Gauging:
    """A gauging in which every text is the same one."""
    usual = plain()
    first, *others = channel(4, 20.0).verticals
    return attrs.evolve(
        usual,
        id=name,
        channels=(
            attrs.evolve(usual.channels[0], name=name),
            Channel((attrs.evolve(first, remark=name), *others), name),
        ),
        site=Site(name, name, Position(-1.2345, 45.6012, 4.0, name)),
        meter=Meter(kind=name, serial=name),
        crew=(CrewMember(name, name), CrewMember(name)),
        remarks=name,
        rule_set=name,
        moved=name,
        corrections=(Correction(name, name, name, name, name, START),),
    )


def material(
    gauging: Gauging,
    method: Method = "mid-section",
    edge_rule: EdgeRule = "half-width",
    **more: object,
) -> NoteMaterial:
    """What a note of the gauging is made from, with a finding and a budget of our own."""
    rules = load_rule_set("common-practice")
    found = "At tape 3 m depth times velocity is 0.67 m²/s, from 0.6 m²/s on."
    budget = Budget(
        "iso-748",
        "ISO 748:2007, 9.3 (formula and tables from memory)",
        (
            BudgetPart("verticals", 3.0, "12 verticals: annex E (from memory, high)"),
            BudgetPart("depth", 4.0, "read with the rod"),
        ),
        5.0,
        ("The bed is not known to the table.",),
        ("pulsation of the velocity",),
    )
    given = {
        "findings": (
            Finding(
                "Water too strong to wade",
                "explain",
                found,
                "Let the leader decide.",
                channel=0,
                tapes=(3.0,),
                thresholds=(rules["wade_product_caution"],),
                answer=Answer(
                    "Water too strong to wade", found, "explain", "roped", "I. Marrow", START
                ),
            ),
            Finding("Deeper than wading work", "stop", "Deep at tape 4 m.", "Do not wade there."),
        ),
        "rules": rules,
        "budgets": (budget,),
        **more,
    }
    return NoteMaterial(gauging, compute(gauging, method, edge_rule), **given)  # type: ignore[arg-type]
