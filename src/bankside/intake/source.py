"""One file that was handed over, and the gaugings in it."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.faults import Fault
from bankside.gauging.practice_mark import PRACTICE_REFUSED
from bankside.gauging.records import Gauging
from bankside.sheets.read import SheetGauging, count_fates
from bankside.sheets.sheet_row import RowFate
from bankside.survey.records import Survey

__all__ = ["Source", "SurveyFile", "item_of_record", "refused_source", "source_of_records"]


@attrs.frozen
class Source:
    """One file: its gaugings, the count of its rows by fate, and the survey that it holds too."""

    file: str
    items: tuple[SheetGauging, ...]
    counts: dict[str, int]
    notes: tuple[str, ...] = ()
    survey: Survey | None = None


@attrs.frozen
class SurveyFile:
    """A survey and the file in which it stands."""

    file: str
    survey: Survey
    notes: tuple[str, ...] = ()


def item_of_record(gauging: Gauging, label: str, notes: Sequence[str] = ()) -> SheetGauging:
    """Return the gauging of a record, with a fate for each vertical, as it has no rows.

    Practice is refused.
    """
    if gauging.practice:
        return SheetGauging(label, None, notes=tuple(notes), faults=(Fault(PRACTICE_REFUSED),))
    verticals = [v for channel in gauging.channels for v in channel.verticals]
    rows = tuple(
        RowFate(None, n + 1, "used", f"vertical at tape {v.tape:g}")
        for n, v in enumerate(verticals)
    )
    return SheetGauging(label, gauging, rows, tuple(notes))


def source_of_records(
    file: str,
    gaugings: Sequence[Gauging],
    notes: Sequence[str] = (),
    survey: Survey | None = None,
) -> Source:
    """Return a file that holds records, each called by its site."""
    items = tuple(
        item_of_record(gauging, gauging.site.name or gauging.site.stream or f"gauging {number}")
        for number, gauging in enumerate(gaugings, 1)
    )
    counts = count_fates(fate for item in items for fate in item.rows)
    return Source(file, items, counts, tuple(notes), survey)


def refused_source(file: str, label: str, faults: Sequence[Fault]) -> Source:
    """Return a file that holds one refused gauging."""
    return Source(file, (SheetGauging(label, None, faults=tuple(faults)),), count_fates(()))
