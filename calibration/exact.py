"""The model between verticals of readings that have no error, so that nothing else is judged."""

from __future__ import annotations

import attrs

from bankside.gauging.between_line import Line
from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging
from bankside.gauging.uncertainty import Assumed
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import flow_of

__all__ = ["exact_lines"]


def exact_lines(gauging: Gauging) -> tuple[Line, ...]:
    """Return the lines of a gauging as if its readings were free of error; none where none flows.

    A record cannot say that its crew was perfect, so the budgets take its readings for uncertain.
    """
    section = section_as_read(gauging, flow_of(gauging, compute(gauging)), Assumed())
    if section is None:
        return ()
    return tuple(
        attrs.evolve(line, reading_variance=(0.0,) * len(line.tape_m))
        for line in section.between.lines
    )
