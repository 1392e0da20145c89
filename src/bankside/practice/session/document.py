"""A practice session as JSON, and back: its acts, what was written down, and what was said to it.

The form is `bankside.practice/1`. It is a form of its own, so that no reader of gaugings takes it
for one, and the record in it is marked as practice besides.
"""

import datetime
from typing import Any, Final

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.fields import Choice, Day, Many, One, Text, about
from bankside.gauging.json_form import JsonForm
from bankside.gauging.json_text import parsed, refused
from bankside.gauging.practice_mark import PRACTICE_ID
from bankside.gauging.records import Gauging, Severity
from bankside.gauging.structure import structured, unstructured
from bankside.practice.session.act import Session

__all__ = [
    "FORMAT",
    "WANTED",
    "Practice",
    "Told",
    "practice_from_bytes",
    "practice_from_document",
    "practice_id",
    "practice_to_document",
]

WANTED: Final = (
    'a practice session is right here: a JSON file that the app writes in Practice, by "Save as a '
    'file for the leader" under Debrief'
)
"""What is said where something else is found: what a session is, and where it comes from."""

_FORM: Final = JsonForm("bankside.practice", hint=WANTED)

FORMAT: Final = _FORM.format


@attrs.frozen
class Told(Checked):
    """A finding that was shown while there was time to do something about it."""

    check: str = attrs.field(metadata=about(Text(), "the name of the check"))
    found: str = attrs.field(metadata=about(Text(), "what it found, word for word"))
    severity: Severity = attrs.field(
        metadata=about(
            Choice(("stop", "fix now", "explain", "note")), "how grave it was found to be"
        )
    )


@attrs.frozen
class Practice(Checked):
    """A session with its record: `record` is absent as long as nothing was written down."""

    session: Session = attrs.field(metadata=about(One(Session), "where, and what was done"))
    person: str | None = attrs.field(default=None, metadata=about(Text(), "who practised"))
    record: Gauging | None = attrs.field(
        default=None, metadata=about(One(Gauging), "what was written down, marked as practice")
    )
    told: tuple[Told, ...] = attrs.field(
        default=(), metadata=about(Many(Told), "findings that were shown on the way")
    )
    day: datetime.date | None = attrs.field(
        default=None, metadata=about(Day(), "the day on which it was")
    )


def practice_id(session: Session, number: int = 1) -> str:
    """Return an id for the record of a session, and for further tries at the same stream."""
    name = session.stream.replace(" ", "-")
    return f"{PRACTICE_ID}{name}-{session.seed}-{number}"


def practice_to_document(practice: Practice) -> dict[str, Any]:
    """Return a practice session as JSON takes it; what is absent has no key."""
    members = unstructured(practice)
    return {"format": FORMAT, **members}


def practice_from_bytes(content: bytes) -> Practice:
    """Return the practice session that a file holds; InputRefused with every fault in it."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused(f"found no text in UTF-8; {WANTED}") from None
    return practice_from_document(parsed(text))


def practice_from_document(document: object) -> Practice:
    """Return the practice session that a JSON object holds; InputRefused with every fault in it.

    Its record must be marked as practice: one of real water is refused here as practice is
    elsewhere.
    """
    practice = structured(_FORM.members(document, "a practice session"), Practice)
    if practice.record is not None and not practice.record.practice:
        raise refused(
            "found a gauging of real water in a practice session; one marked as practice is right",
            path="record.practice",
        )
    return practice
