"""Fit how likely each character of a section is before anything is read, to simulated streams.

Prints the table of `kernel/between_prior.py`, ready to paste. Readings are free of error here: the
table says what sections are like, not how crews read. By expectation and maximisation (Dempster,
Laird and Rubin 1977, from memory): all characters begin alike, each gauging shares itself out among
them by what its readings say, and the shares of all gaugings are the next table.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from bankside.gauging.between import CHARACTERS
from bankside.kernel.between_prior import UNEVENNESS_LENGTHS_M
from calibration.exact import exact_lines
from calibration.gaugings import FITTING, Case, cases, in_parallel

__all__ = ["evidences", "fitted_prior"]

OF_EACH = 80
"""How many gaugings of each section type and number of verticals."""

# The table stands still to its digits after so many rounds, but for characters that none needs.
ROUNDS = 60
# What every character has besides its shares, in gaugings, so that none is ruled out.
PSEUDO_COUNT = 0.5

Table = NDArray[np.float64]


def evidences(case: Case) -> list[float]:
    """Return the logarithm of how likely the readings of a gauging are, by each character."""
    lines = exact_lines(case.gauging(case.stream()))
    return [math.fsum(one.evidence(line) for line in lines) for one in CHARACTERS]


def fitted_prior(evidence: Table) -> Table:
    """Return how likely each character is, in all 1, from one row of evidence for each gauging."""
    likely = np.exp(evidence - evidence.max(axis=1, keepdims=True))
    prior = np.full(likely.shape[1], 1.0 / likely.shape[1])
    for _ in range(ROUNDS):
        shares = likely * prior
        shares /= shares.sum(axis=1, keepdims=True)
        prior = shares.sum(axis=0) + PSEUDO_COUNT
        prior /= prior.sum()
    return prior


def pasted(prior: Iterable[float]) -> str:
    """Return the table as it stands in the module: percents of two digits."""
    figures = [f"{float(f'{100.0 * one:.2g}')!r}" for one in prior]
    across = len(UNEVENNESS_LENGTHS_M)
    rows = [figures[i : i + across] for i in range(0, len(figures), across)]
    return "\n".join(f"    ({', '.join(row)})," for row in rows)


def main() -> None:
    """Fit and print the table."""
    start = perf_counter()
    fitted = list(cases(FITTING, OF_EACH, crews=("perfect",)))
    prior = fitted_prior(np.array(in_parallel(evidences, fitted)))
    print(f"{len(fitted)} gaugings, {perf_counter() - start:.0f} s; in percent:")
    print(pasted(prior))


if __name__ == "__main__":
    main()
