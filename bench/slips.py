"""How many slips the checks catch, and how often they cry over gaugings that have none.

Slips of every kind are put, one at a time, into real transects (a state stream survey, as filed;
the file is not part of the repository), into simulated sections and into the demo sheets. A slip is
caught by a finding of severity stop, fix now or explain that the gauging without it did not have,
or by being refused. What was filed on the sheets is taken out: at the stream there is no total yet.

The figures in the checks were set by looking at the tuning half of the transects only: those whose
name has an even SHA-256 hash. The other half is the measure. A kind that is caught "at row" has a
finding about the very vertical (of a skipped one: about its neighbours; of a whole sheet: about the
sheet); "as a slip" when that finding is of a check that looks for slips, not for what they do to
the shares or the bed; "mended" are those of which a finding proposes the figure that was meant.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from pathlib import Path
from random import Random

import attrs
from simulated_sections import simulated
from slip_kinds import Slip, slips

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.sheets.read import read_sheets

ROOT = Path(__file__).parent.parent
TRANSECTS = ROOT / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"
DEMO = ROOT / "demo/sheets"
MATTERS = 0.03
"""A slip matters from this relative change of the discharge on."""
SHARE = 0.2
"""The part of all slips that is tried, by a fixed seed."""
NEAR = 2.0
"""A figure written is near the range of its neighbours up to this many times beyond it."""
CAUGHT_BY = ("stop", "fix now", "explain")
CLEAN = ("alder_fork.csv", "quill_brook.xlsx")
"""The demo sheets in which nothing has slipped."""
OF_SLIPS = {
    "Deeper than wading work",
    "Depth looks misread",
    "Depth unit wrong",
    "Faster than plausible",
    "Inches, not tenths",
    "No starting or finishing edge",
    "Not along the tape",
    "Same value again and again",
    "Same vertical twice",
    "Sign looks wrong",
    "Strange gap",
    "Tape position looks misread",
    "Velocity looks misread",
    "Velocity unit wrong",
    "Zero where it is deep",
    "Zero where water moves",
}
"""Checks that speak of a slip, not only of what it does to the shares or the bed."""
BY_RULE = {"No starting or finishing edge", "One panel carries too much"}
"""Checks whose "fix now" a published rule decides: right by that rule, however often."""
RULES = load_rule_set("common-practice")

Named = tuple[str, Gauging]


@attrs.define
class Tally:
    """What became of the slips of one kind; all but `tried` count only those that matter.

    What is refused is taken to matter.
    """

    tried: int = 0
    matter: int = 0
    refused: int = 0
    at_row: int = 0
    as_slip: int = 0
    anywhere: int = 0
    mended: int = 0
    missed_within: int = 0
    missed_near: int = 0
    missed_beyond: int = 0


def gaugings_of(path: Path) -> list[Named]:
    """Return the gaugings of a file that have a discharge, without what was filed."""
    found = []
    for sheet in read_sheets(path).gaugings:
        if sheet.gauging is None:
            continue
        gauging = attrs.evolve(sheet.gauging, filed=None)
        if discharge(gauging):
            found.append((sheet.label, gauging))
    return found


def discharge(gauging: Gauging) -> float | None:
    """Return the discharge, None where it is refused."""
    try:
        return compute(gauging).discharge_m3s
    except InputRefused:
        return None


def raised(gauging: Gauging) -> list[Finding]:
    """Return the findings that count as catching something."""
    return [f for f in check_gauging(gauging, RULES) if f.severity in CAUGHT_BY]


def known(findings: Iterable[Finding]) -> dict[tuple[str, str], set[float]]:
    """Return, by check and severity, the tape positions that were spoken of."""
    spoken: dict[tuple[str, str], set[float]] = defaultdict(set)
    for finding in findings:
        spoken[finding.check, finding.severity].update(finding.tapes)
    return spoken


def news(
    findings: Iterable[Finding], before: dict[tuple[str, str], set[float]], slip: Slip
) -> Iterator[tuple[Finding, set[float]]]:
    """Yield the findings that are new, each with the tape positions that are new to its check."""
    for finding in findings:
        told = before.get((finding.check, finding.severity))
        tapes = set(finding.tapes)
        if told is not None:
            if slip.moved is not None and slip.moved[1] in told:
                tapes.discard(slip.moved[0])
            tapes -= told
        if tapes or told is None:
            yield finding, tapes


def at_the_row(finding: Finding, tapes: set[float], slip: Slip) -> bool:
    """Return whether a new finding points where the slip is."""
    if not slip.tapes:
        return not finding.tapes or "unit" in finding.check
    if slip.kind == "an edge missing":
        here = finding.channel == slip.channel and not finding.tapes
        return "edge" in finding.check.lower() and (here or bool(tapes & set(slip.tapes)))
    return bool(tapes & set(slip.tapes))


def measure(gaugings: Sequence[Named], share: float) -> dict[str, Tally]:
    """Put a share of all slips into gaugings, those of whole sheets all, and see what becomes."""
    random = Random(20)
    tallies: dict[str, Tally] = defaultdict(Tally)
    for _, gauging in gaugings:
        true = discharge(gauging) or 0.0
        before = known(raised(gauging))
        for slip in slips(gauging):
            if slip.tapes and random.random() > share:
                continue
            tally = tallies[slip.kind]
            tally.tried += 1
            try:
                wrong = slip.change(gauging)
                after = compute(wrong).discharge_m3s
            except InputRefused:
                tally.matter += 1
                tally.refused += 1
                continue
            if abs(after - true) <= MATTERS * abs(true):
                continue
            tally.matter += 1
            judge(tally, slip, list(news(raised(wrong), before, slip)))
    return tallies


def judge(tally: Tally, slip: Slip, new: Sequence[tuple[Finding, set[float]]]) -> None:
    """Count what the new findings say about a slip that matters."""
    here = [finding for finding, tapes in new if at_the_row(finding, tapes, slip)]
    tally.at_row += bool(here)
    tally.as_slip += any(finding.check in OF_SLIPS for finding in here)
    tally.anywhere += bool(new)
    tally.mended += slip.meant is not None and any(f.instead == slip.meant for f in here)
    if not here and slip.beyond is not None:
        tally.missed_within += slip.beyond == 1
        tally.missed_near += 1 < slip.beyond <= NEAR
        tally.missed_beyond += slip.beyond > NEAR


def report(title: str, gaugings: Sequence[Named], share: float) -> None:
    """Print what is caught in a set of gaugings, and what is said about them as they are."""
    print(f"\n{title}: {len(gaugings)} gaugings")
    print(
        f"  {'kind':<34}{'tried':>7}{'>3 %':>7}{'refused':>9}{'at row':>8}{'as a slip':>11}"
        f"{'anywhere':>10}{'mended':>8}   missed: within the neighbours' range, near it, beyond"
    )
    tallies = measure(gaugings, share)
    for kind in sorted(tallies):
        print(line(kind, tallies[kind]))
    alarms(gaugings)


def line(kind: str, tally: Tally) -> str:
    """Return the figures of one kind; what is refused counts as caught where it stands."""
    caught = ""
    if tally.matter:
        parts = (
            (tally.at_row + tally.refused, 8),
            (tally.as_slip + tally.refused, 11),
            (tally.anywhere + tally.refused, 10),
            (tally.mended, 8),
        )
        caught = "".join(f"{part / tally.matter:>{width}.1%}" for part, width in parts)
    return (
        f"  {kind:<34}{tally.tried:>7}{tally.matter:>7}{tally.refused:>9}{caught:<37}"
        f"   {tally.missed_within}, {tally.missed_near}, {tally.missed_beyond}"
    )


def alarms(gaugings: Sequence[Named]) -> None:
    """Print what the checks say about gaugings as they are, per gauging."""
    counted: Counter[tuple[str, str]] = Counter()
    for _, gauging in gaugings:
        counted.update((f.check, f.severity) for f in check_gauging(gauging, RULES))
    print("  findings without any slip, per gauging:")
    for (check, severity), number in sorted(counted.items()):
        print(f"    {check:<38}{severity:<9}{number / len(gaugings):6.2f}  ({number})")
    others = sum(n for (check, s), n in counted.items() if s == "fix now" and check not in BY_RULE)
    print(f"  fix now beyond what a published rule decides: {others / len(gaugings):.2f} a gauging")


def tuning(name: str) -> bool:
    """Return whether a transect belongs to the half by which the checks were set."""
    return sha256(name.encode()).digest()[0] % 2 == 0


def main(arguments: Sequence[str]) -> int:
    """Measure and print.

    --all tries every slip, not a sample; --list names the findings about transects as they are.
    """
    share = 1.0 if "--all" in arguments else SHARE
    for name in CLEAN:
        report(f"Demo sheet {name}", gaugings_of(DEMO / name), 1.0)
    report("Simulated sections", simulated(40, seed=11), share)
    if not TRANSECTS.is_file():
        print(f"\nThe transects are not here ({TRANSECTS.name}); nothing real was measured.")
        return 0
    transects = gaugings_of(TRANSECTS)
    report("Transects, tuning half", [t for t in transects if tuning(t[0])], share)
    report("Transects, measuring half", [t for t in transects if not tuning(t[0])], share)
    if "--list" in arguments:
        for name, gauging in transects:
            for finding in check_gauging(gauging, RULES):
                if finding.severity in CAUGHT_BY:
                    print(f"{name} [{finding.severity}] {finding.check}: {finding.found}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
