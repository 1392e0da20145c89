"""The tables of a comparison of crews: a row for each group, and what all come to together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Table
from bankside.survey.crews.comparison import Compared
from bankside.survey.crews.outlying import Outlying, Standing, Tested

__all__ = ["GROUP_HEADS", "groups_table", "precision_table", "precision_words", "spread_words"]

GROUP_HEADS: Final = {"crew": "crew", "meter": "meter", "person": "who read"}
_SEVERAL: Final = {"crew": "crews", "meter": "meters", "person": "people"}
# With fewer groups the spread between them is a rough figure (ISO 5725, from memory: 8 to 15).
_ENOUGH: Final = 8
# The most that one of three can be off is (3 - 1) / sqrt(3), hardly more than the critical values.
_TOO_FEW_FOR_GRUBBS: Final = 3


def groups_table(compared: Compared) -> Table:
    """Return a row for each group: how often, its mean, how far off, h and k with their words."""
    unit = compared.quantity.unit
    return Table(
        name=f"{compared.quantity.name.capitalize()} by {GROUP_HEADS[compared.by]}",
        columns=(
            Column(GROUP_HEADS[compared.by], weight=1.0),
            Column("times", align="right"),
            Column("mean", unit, "right"),
            Column("off the mean", "%", "right"),
            Column("its repeats", unit, "right"),
            Column("h", align="right"),
            Column("k", align="right"),
            Column("stands out"),
        ),
        rows=tuple(_row(standing, compared) for standing in compared.standings),
        whole=True,
    )


def precision_table(compared: Sequence[Compared]) -> Table:
    """Return a row for each quantity: its mean, repeatability and reproducibility."""
    return Table(
        name="Repeatability and reproducibility",
        columns=(
            Column("quantity", weight=1.0),
            Column("gaugings", align="right"),
            Column("mean", align="right"),
            Column("unit"),
            Column("repeatability", "%", "right"),
            Column("between", "%", "right"),
            Column("reproducibility", "%", "right"),
        ),
        rows=tuple(_precision_row(one) for one in compared),
        whole=True,
    )


def precision_words(compared: Compared) -> str:
    """Return mean, repeatability and reproducibility in a sentence."""
    _, _, mean, unit, repeats, _, reproduced = (cell.text for cell in _precision_row(compared))
    told = [
        f"{name} {text} %" if text[0].isdigit() else f"{name} {text}"
        for name, text in (("repeatability", repeats), ("reproducibility", reproduced))
    ]
    return f"Mean {mean} {unit}; {'; '.join(told)}."


def spread_words(compared: Compared) -> tuple[str, ...]:
    """Return how rough it is, what the tests of Cochran and Grubbs say, and who was left out."""
    return (*_few(compared), *_tests(compared), *compared.left_out)


def _few(compared: Compared) -> Iterator[str]:
    count = len(compared.precision.groups)
    if 1 < count < _ENOUGH:
        free = "1 degree" if count == 2 else f"{count - 1} degrees"
        yield (
            f"From {count} {_SEVERAL[compared.by]}: take the reproducibility as a rough figure. "
            f"What they differ by has {free} of freedom; {_ENOUGH} or more are usual (ISO 5725, "
            "from memory)."
        )


def _row(standing: Standing, compared: Compared) -> tuple[Cell, ...]:
    group, mean = standing.group, compared.precision.mean
    off = "" if mean == 0.0 else f"{100.0 * (group.mean / mean - 1.0):+.1f}"
    return (
        Cell(group.name),
        Cell(str(len(group.values))),
        Cell(to_figures(group.mean, 3), "strong"),
        Cell(off),
        Cell("" if group.deviation is None else to_figures(group.deviation, 2)),
        Cell(_figure(standing.h)),
        Cell(_figure(standing.k)),
        _word(standing),
    )


def _figure(tested: Tested | None) -> str:
    return "" if tested is None else f"{tested.value:.2f}"


def _word(standing: Standing) -> Cell:
    """Return the graver of what h and k make of a group."""
    words = {tested.word: name for name, tested in _named(standing)}
    # ISO 5725-2 keeps straggler and outlier for the tests of Cochran and Grubbs (from memory).
    for word, level in (("outlier", "1 %"), ("straggler", "5 %")):
        if word in words:
            return Cell(f"above the {level} line for {words[word]}", "strong")
    return Cell("no" if standing.h or standing.k else "cannot be told", "fine")


def _named(standing: Standing) -> Iterator[tuple[str, Tested]]:
    for name, tested in (("k", standing.k), ("h", standing.h)):
        if tested is not None:
            yield name, tested


def _precision_row(compared: Compared) -> tuple[Cell, ...]:
    found = compared.precision
    return (
        Cell(compared.quantity.name),
        Cell(str(found.count)),
        Cell(to_figures(found.mean, 3), "strong"),
        Cell(compared.quantity.unit),
        *(
            _percent(value, found.mean)
            for value in (found.repeatability, found.between, found.reproducibility)
        ),
    )


def _percent(value: float | None, mean: float) -> Cell:
    if value is None or mean == 0.0:
        return Cell("cannot be told", "open")
    return Cell(f"{100.0 * value / abs(mean):.1f}")


def _tests(compared: Compared) -> Iterator[str]:
    for found, words in (
        (compared.offset, "the mean furthest from that of the others is that of"),
        (compared.spread, "the repeats that differ most are those of"),
    ):
        if found is not None:
            yield _tested_words(found, words, len(compared.precision.groups))


def _tested_words(outlying: Outlying, words: str, groups: int) -> str:
    found = outlying.found
    by_mean = words.startswith("the mean")
    name = "Grubbs' test" if by_mean else "Cochran's test"
    verdict = {
        "outlier": "an outlier, which is to be explained before anybody uses these figures",
        "straggler": "a straggler: worth a look, and no more",
        "": "within what chance allows",
    }[found.word]
    if by_mean and groups <= _TOO_FEW_FOR_GRUBBS and not found.word:
        verdict = f"among {groups} this test can find next to nothing, so look at the figures"
    return (
        f"{name}: {words} {outlying.group.name}, {found.value:.3f} beside "
        f"{found.straggler_from:.3f} (5 %) and {found.outlier_from:.3f} (1 %): {verdict}."
    )
