"""The heads of a table that is read, held against those of its form."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.exchange.forms import Column, TableForm, hint_for
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown

__all__ = ["columns_found"]


def columns_found(form: TableForm, names: Sequence[str]) -> list[Column]:
    """Return the columns of a form in the order of these heads; one that may be empty may lack.

    InputRefused with every head that is unknown, repeated or missing, at row 1.
    """
    known = {column.name: column for column in form.columns}
    faults = []
    for place, name in enumerate(names):
        if name not in known:
            message = f"found the column {shown(name)}, which this table does not have"
            faults.append(Fault(f"{message}{hint_for(name, form)}", row=1))
        elif name in names[:place]:
            faults.append(Fault(f"found the column {shown(name)} twice; once is right", row=1))
    needed = [
        column.name for column in form.columns if column.required and column.name not in names
    ]
    if needed:
        message = f"found no column {', '.join(map(shown, needed))}, which every row needs"
        faults.append(Fault(message, row=1))
    if faults:
        raise InputRefused(faults)
    return [known[name] for name in names]
