"""A gauging as JSON text, and back: the form in which a record is kept and passed on.

Reading is strict. Unknown and repeated keys are refused, nothing is coerced (a text is never taken
for a number), and everything that is wrong is said at once, each fault with its path. The form is
published as a JSON Schema, `docs/schema/gauging-1.schema.json`.
"""

from collections.abc import Sequence
from typing import Any

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.json_form import JsonForm, read_json
from bankside.gauging.json_text import refused, written
from bankside.gauging.records import Gauging
from bankside.gauging.structure import JsonObject, structured, unstructured

__all__ = [
    "FORMAT",
    "SEVERAL_FORMAT",
    "from_document",
    "from_json",
    "several_from_document",
    "several_from_json",
    "several_to_json",
    "to_document",
    "to_json",
]

_SEVERAL = JsonForm("bankside.gaugings")
_FORM = JsonForm("bankside.gauging", plural=_SEVERAL.name)

FORMAT = _FORM.format
SEVERAL_FORMAT = _SEVERAL.format


def to_document(gauging: Gauging) -> dict[str, Any]:
    """Return the members of the JSON object that holds a gauging; what is absent has no key."""
    return {"format": FORMAT, **unstructured(gauging)}


def to_json(gauging: Gauging) -> str:
    """Return a gauging as JSON text: keys in a fixed order, and none for what is absent."""
    return written(to_document(gauging))


def from_json(text: str, file: str | None = None) -> Gauging:
    """Return the gauging that a JSON text holds.

    `file`, a file name as people know it, goes into every fault. InputRefused with every fault
    that is in the text if it is not a gauging of this version of the format.
    """
    return read_json(text, file, from_document)


def several_to_json(gaugings: Sequence[Gauging]) -> str:
    """Return gaugings as JSON text: one by itself, several as the members of one object."""
    if len(gaugings) == 1:
        return to_json(gaugings[0])
    members = [to_document(gauging) for gauging in gaugings]
    document = {"format": SEVERAL_FORMAT, "gaugings": members}
    return written(document)


def several_from_json(text: str, file: str | None = None) -> tuple[Gauging, ...]:
    """Return the gaugings in a JSON text that holds one gauging or several.

    InputRefused with every fault in every gauging, as from `from_json`.
    """
    return read_json(text, file, several_from_document)


def several_from_document(document: object) -> tuple[Gauging, ...]:
    """Return the gaugings in what a JSON text spells, as `several_from_json` does."""
    if not isinstance(document, JsonObject) or document.get("format") != SEVERAL_FORMAT:
        return (from_document(document),)
    return _several(document)


def _several(document: JsonObject) -> tuple[Gauging, ...]:
    members = document.get("gaugings")
    unknown = [key for key in document if key not in ("format", "gaugings")]
    if not isinstance(members, list) or unknown or document.repeated:
        raise refused(
            f'an object of format "{SEVERAL_FORMAT}" must hold a list "gaugings" and nothing else'
        )
    gaugings: list[Gauging] = []
    faults: list[Fault] = []
    for index, member in enumerate(members):
        try:
            gaugings.append(from_document(member))
        except InputRefused as error:
            faults += [fault.inside(index).inside("gaugings") for fault in error.faults]
    if faults:
        raise InputRefused(faults)
    return tuple(gaugings)


def from_document(document: object) -> Gauging:
    """Return the gauging in what a JSON text spells, as `from_json` does."""
    return structured(_FORM.members(document, "a gauging"), Gauging)
