"""The rules by which verticals are spread between two edges, in our own words.

`equal`
    Equal distances with the edges as verticals: n verticals make n + 1 intervals.
`cell-centres`
    n cells of equal width with a vertical at the centre of each; nothing is read at the edges.
`skip-first-cell`
    The interval is width / n, rounded to the tape's resolution. The cell at the bank from which
    the crew starts is too shallow to read: the first vertical stands one and a half intervals out
    (between two graduations: on the one further out), the others follow at whole intervals as long
    as there is water, and the last panel takes what is left. By the half-width rule the first
    three quarters of an interval then belong to the edge, and carry nothing if it has no depth;
    so the plan asks for that depth to be sounded, and leaves the last word to the rule under which
    the crew works. (Common practice, no source.)
`equal-flow`
    Verticals closer where an earlier gauging found more water. The flow per width of that gauging
    (depth times velocity, linear between its verticals) is stretched to today's edges. Its amount
    counts, not its sign: an eddy has to be measured as well. Where it is below half of its mean it
    counts as half of its mean, so that slow margins and dead water keep some verticals and no gap
    grows beyond three times width / n, but for rounding. The n verticals stand where this weight,
    summed up from the left edge, reaches 1/2, 3/2, … (n - 1/2) n-ths of its total: each in the
    middle of an equal share. (Ours, no source.)
"""

import math
from collections.abc import Callable, Mapping, Sequence
from decimal import ROUND_FLOOR, Context
from fractions import Fraction
from typing import Final, Literal, get_args

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.flow_profile import FlowProfile
from bankside.gauging.tape_marks import Tape, length_in_words, nearest_onward

__all__ = ["MOST_VERTICALS", "RULES", "Layout", "Rule", "begins_at_the_start", "lay_out"]

Rule = Literal["equal", "cell-centres", "skip-first-cell", "equal-flow"]
RULES: Final[tuple[Rule, ...]] = get_args(Rule)

MOST_VERTICALS: Final = 500

# Rounded down, a distance that is too short for a limit never reads like the limit itself.
_TWO_FIGURES: Final = Context(prec=2, rounding=ROUND_FLOOR)


@attrs.frozen
class Layout:
    """What a rule wants: positions in graduations that may lie between two, and its interval."""

    wanted: Sequence[Fraction]
    interval: Fraction | None
    remarks: tuple[str, ...]


def begins_at_the_start(rule: Rule) -> bool:
    """Return whether the positions depend on the bank from which the crew starts."""
    return rule == "skip-first-cell"


def lay_out(
    rule: Rule, tape: Tape, verticals: int, *, from_edge: str, earlier: FlowProfile | None
) -> Layout:
    """Return where a rule wants the verticals, fewer where the tape or the spacing has no room.

    The tape begins at the edge called `from_edge`; `equal-flow` needs an earlier gauging, and the
    tape to begin at the left one. InputRefused without it, or for an unknown rule.
    """
    if rule == "equal-flow":
        return _equal_flow(tape, verticals, earlier)
    if rule == "skip-first-cell":
        return _skip_first_cell(tape, verticals, from_edge)
    if rule not in _EVEN_RULES:
        raise InputRefused([Fault(f"the rule must be one of {', '.join(RULES)} (got {rule})")])
    return _EVEN_RULES[rule](tape, verticals)


def _equal(tape: Tape, n: int) -> Layout:
    fewer = _at_least_one(n, min(math.floor(tape.width / tape.step) - 1, tape.room))
    interval = tape.width / (fewer + 1)
    wanted = [tape.start + k * interval for k in range(1, fewer + 1)]
    return Layout(wanted, interval, _fewer_remark(tape, n, fewer, tape.width / (n + 1)))


def _cell_centres(tape: Tape, n: int) -> Layout:
    fewer = _at_least_one(n, min(math.floor(tape.width / tape.step), tape.room))
    cell = tape.width / fewer
    wanted = [tape.start + (k + Fraction(1, 2)) * cell for k in range(fewer)]
    return Layout(wanted, cell, _fewer_remark(tape, n, fewer, tape.width / n))


_EVEN_RULES: Final[Mapping[str, Callable[[Tape, int], Layout]]] = {
    "equal": _equal,
    "cell-centres": _cell_centres,
}


def _skip_first_cell(tape: Tape, n: int, from_edge: str) -> Layout:
    interval = max(nearest_onward(tape.width / n), tape.step)
    first = nearest_onward(tape.start + Fraction(3 * interval, 2))
    wanted = [Fraction(i) for i in range(first, tape.last + 1, interval)]
    if not wanted:
        middle = (tape.start + tape.end) / 2
        narrow = (
            f"{tape.words(tape.width)} of water have no room for one and a half intervals of "
            f"{tape.words(Fraction(interval))}: a single vertical stands in the middle."
        )
        return Layout([middle], None, (narrow,))
    count: tuple[str, ...] = ()
    if tape.width / n < tape.step:
        count = _fewer_remark(tape, n, len(wanted), tape.width / n)
    elif len(wanted) != n:
        each = tape.words(Fraction(interval))
        count = (f"Whole intervals of {each} give {len(wanted)} verticals; {n} were asked for.",)
    unread = _unread_remarks(tape, first - tape.start, from_edge)
    return Layout(wanted, Fraction(interval), (*count, *unread))


def _unread_remarks(tape: Tape, unread: Fraction, from_edge: str) -> tuple[str, ...]:
    """Return what it means for the figure that the first cell is left unread."""
    return (
        f"Nothing is read in the first {tape.words(unread)} from the {from_edge} edge, taken as "
        "too shallow for the meter: common practice, no source. The rule under which the crew "
        "works goes before it.",
        f"By the half-width rule the first {tape.words(unread / 2)} there, about three quarters of "
        "an interval, carry nothing in the figure if the edge has depth 0. Sound the depth in "
        "this stretch all the same: is it really too shallow? A depth written down without a "
        "velocity counts with one between those of its neighbours.",
    )


def _equal_flow(tape: Tape, n: int, earlier: FlowProfile | None) -> Layout:
    if earlier is None:
        raise InputRefused([Fault("equal shares of flow need an earlier gauging of the site")])
    fewer = _at_least_one(n, tape.room)
    places = earlier.middles_of_equal_shares(fewer)
    wanted = [tape.start + Fraction(place) * tape.width for place in places]
    return Layout(wanted, None, _fewer_remark(tape, n, fewer, tape.width / n))


def _at_least_one(asked: int, allowed: int) -> int:
    return max(1, min(asked, allowed))


def _fewer_remark(tape: Tape, asked: int, given: int, needed: Fraction) -> tuple[str, ...]:
    if given >= asked:
        return ()
    length = needed * Fraction(tape.resolution)
    rough = _TWO_FIGURES.divide(length.numerator, length.denominator)
    return (
        f"For {asked} verticals in {tape.words(tape.width)} a vertical every "
        f"{length_in_words(rough, tape.unit)} would be needed; {tape.limit} allows {given}.",
    )
