"""A note and the picture of its section as plain values, for a page that sets and draws them.

Nothing is worked out here that the note does not say: a page shows the same texts as the documents,
signs that cannot be shown as their numbers. Equal notes give equal values in equal order.
"""

from __future__ import annotations

import datetime
import math
from typing import Any

import attrs

from bankside.note.called_figures import share_mark
from bankside.note.compose import section_key
from bankside.note.content import NoteContent
from bankside.note.section_drawing import DrawnChannel, SectionDrawing, section_rows, tape_words
from bankside.note.signs import in_every_document, with_signs

__all__ = ["content_as_json", "drawing_as_json"]


def content_as_json(content: NoteContent) -> dict[str, Any]:
    """Return a note as JSON takes it: the fields of `NoteContent`, the day as ISO 8601 or null.

    A picture stands there by its key: that of a row of `drawing_as_json`, or that of the map.
    """
    return _as_json(content)


def drawing_as_json(drawing: SectionDrawing) -> dict[str, Any]:
    """Return the picture of a section as JSON takes it; lengths and velocities in units called.

    `units` are the words over the axes, `limits` of a panel's share in percent, and `rows` the
    pictures of the note by their keys, each with the words under its tape and its channels from
    left to right. A channel has `banks` and `unmeasured` at its lowest and at its highest tape
    position; one that is `mirrored` is drawn with its tape from right to left. Of a panel `mark`
    says whether its share is above the aim ("*") or above the limit ("**"). ValueError if a figure
    is no finite number.
    """
    units = drawing.units
    return {
        "units": {
            "length": units.length,
            "depth": units.depth,
            "velocity": units.velocity,
        },
        "limits": _as_json(drawing.limits),
        "rows": [
            {
                "key": section_key(number),
                "tape": tape_words(row, units.length),
                "channels": [_channel(channel, drawing) for channel in row],
            }
            for number, row in enumerate(section_rows(drawing))
        ],
    }


def _channel(channel: DrawnChannel, drawing: SectionDrawing) -> dict[str, Any]:
    plain = _as_json(channel)
    return {
        "title": plain["title"],
        "banks": list(channel.banks),
        "mirrored": channel.mirrored,
        "unmeasured": plain["unmeasured"],
        "verticals": plain["verticals"],
        "panels": [
            {**values, "mark": share_mark(panel.share, drawing.limits)}
            for values, panel in zip(plain["panels"], channel.panels, strict=True)
        ],
    }


def _as_json(record: attrs.AttrsInstance) -> dict[str, Any]:
    """Return a record as dicts, lists, texts and numbers."""
    values = attrs.asdict(record, value_serializer=_plain)
    return dict(with_signs(values, in_every_document))


def _plain(record: object, field: object, value: Any) -> Any:
    del record, field
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, float) and not math.isfinite(value):
        raise ValueError(f"a figure of a note must be a finite number (got {value})")
    return value
