"""Formulas for the widths of panels, with the words that say what each does."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.kernel.section import is_bank

__all__ = ["between_width", "panel_width"]


def between_width(tape: Sequence[str], i: int) -> tuple[str, str]:
    """Return the distance from vertical `i` to the next (mean-section)."""
    return f"{tape[i + 1]}-{tape[i]}", "width: to the next vertical"


def panel_width(
    tape: Sequence[str], depth: list[float], i: int, triangular: bool
) -> tuple[str, str]:
    """Return the width of the panel around vertical `i` (mid-section), by either edge rule.

    `tape` are the references to the tapes in metres, `depth` the depths in metres.
    """
    if triangular and (found := _triangular(tape, depth, i)) is not None:
        return found
    last = len(tape) - 1
    formula = f"({tape[min(i + 1, last)]}-{tape[max(i - 1, 0)]})/2"
    if i in (0, last):
        return formula, "width: half way to the one neighbour"
    return formula, "width: half way to both neighbours"


def _triangular(tape: Sequence[str], depth: list[float], i: int) -> tuple[str, str] | None:
    """Return the width of a bank, or of a vertical beside one; None for every other vertical."""
    if is_bank(depth, i):
        return "0", "width: a bank has no panel by the triangular rule"
    if i in (0, len(tape) - 1) or not depth[i] > 0:
        return None
    banks = is_bank(depth, i - 1), is_bank(depth, i + 1)
    before, after = f"({tape[i]}-{tape[i - 1]})", f"({tape[i + 1]}-{tape[i]})"
    if banks == (True, True):
        half = f"({tape[i + 1]}-{tape[i - 1]})/2"
        return (
            f"{half}+{after}^2/(8*{before})+{before}^2/(8*{after})",
            "width: half the distance between two banks, and what the triangular rule adds for "
            "each, W2²/(8 W1)",
        )
    if True not in banks:
        return None
    to_bank, to_next = (before, after) if banks[0] else (after, before)
    return (
        f"({to_bank}+{to_next}/2)^2/(2*{to_bank})",
        "width: (W1 + W2/2)²/(2 W1), W1 to the bank and W2 to the other neighbour",
    )
