"""The uncertainty of a discharge by components, as far as they can be sourced."""

from __future__ import annotations

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.notes import Note, sentences
from bankside.gauging.records import Gauging
from bankside.gauging.uncertainty_flow import Assumed, Flow, verticals_part
from bankside.kernel.uncertainty import (
    EACH_SYSTEMATIC,
    HORIZONTAL_ANGLE,
    components_uncertainty,
    root_sum_of_squares,
    verticals_component,
)

__all__ = ["components_budget"]


def components_budget(gauging: Gauging, flow: Flow, _: Assumed) -> Budget:
    """Return the budget by Sauer and Meyer 1992 (from memory), without its unsourced terms."""
    parts = (
        verticals_part(
            flow,
            verticals_component,
            "S_v = 32 N^-0.88, Sauer and Meyer 1992 (from memory, high)",
        ),
        BudgetPart(
            "flow angle",
            HORIZONTAL_ANGLE,
            "S_h, about 1 %: Sauer and Meyer 1992 (from memory, medium; so is that it stands for "
            "the angle of the flow)",
        ),
        BudgetPart(
            "systematic",
            root_sum_of_squares([EACH_SYSTEMATIC] * 3),
            "S_sb, S_sd and S_sv, about 0.5 % each for width, depth and velocity: Sauer and Meyer "
            "1992 (from memory, medium)",
        ),
    )
    notes = [
        *flow.notes,
        Note("The figure is a lower bound: four parts of the method are left out."),
        Note("The method is made for cup meters on a vertical axis (from memory, high)."),
    ]
    return Budget(
        key="components",
        method="Components: Sauer and Meyer 1992, USGS Open-File Report 92-144 (from memory)",
        parts=parts,
        standard_percent=components_uncertainty(parts[0].percent),
        remarks=sentences(notes, gauging.units),
        left_out=(
            "depth (S_d)",
            "pulsation of the velocity (S_t)",
            "instrument (S_i)",
            "vertical distribution of the velocity (S_s)",
        ),
    )
