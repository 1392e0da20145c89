"""Forms of JSON documents, each with a name and a version that the document itself says."""

import re
from collections.abc import Callable
from typing import TypeVar

import attrs

from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.json_text import parsed, refused
from bankside.gauging.structure import JsonObject

__all__ = ["JsonForm", "read_json"]

_Read = TypeVar("_Read")


def read_json(text: str, file: str | None, read: Callable[[object], _Read]) -> _Read:
    """Return what `read` makes of a JSON text.

    `file`, a file name as people know it, goes into every fault of the InputRefused that is raised
    where the text is no JSON, or is not what `read` takes.
    """
    try:
        return read(parsed(text))
    except InputRefused as error:
        raise InputRefused(attrs.evolve(fault, file=file) for fault in error.faults) from None


@attrs.frozen
class JsonForm:
    """A form by its name, such as `bankside.survey`, and the version that is read and written.

    `plural` is the name of the form that holds several of them, if there is one; `hint` is what is
    said besides where a document of another form is found.
    """

    name: str
    version: int = 1
    plural: str | None = None
    hint: str = ""

    @property
    def format(self) -> str:
        """What a document of this form says of itself under "format"."""
        return f"{self.name}/{self.version}"

    def says(self, document: object) -> bool:
        """Return whether what a JSON text spells says that it is of this form, of any version."""
        return isinstance(document, dict) and str(document.get("format")).startswith(
            f"{self.name}/"
        )

    def newer(self, found: object) -> str | None:
        """Return a sentence where a format is a later version of this one, else None."""
        names = "|".join(re.escape(name) for name in (self.name, self.plural) if name)
        newer = re.fullmatch(rf"(?:{names})/([1-9][0-9]{{0,5}})", str(found))
        if newer is None or int(newer[1]) <= self.version:
            return None
        return (
            f'format "{found}" is newer than this version of Bankside, which reads '
            f'"{self.format}": a newer version is needed to read it'
        )

    def members(self, document: object, thing: str) -> JsonObject:
        """Return the members of a document but "format"; `thing` is what it should be, in words.

        InputRefused if it is no object, or not of this form and version.
        """
        if not isinstance(document, JsonObject):
            raise refused(f"{thing} must be a JSON object (got {shown(document)}){self._hint}")
        found = document.get("format")
        if found != self.format or "format" in document.repeated:
            wanted = (
                f'format must be "{self.format}", written once (got {shown(found)})' + self._hint
            )
            raise refused(self.newer(found) or wanted, path="format")
        members = JsonObject((key, value) for key, value in document.items() if key != "format")
        members.repeated = document.repeated
        return members

    @property
    def _hint(self) -> str:
        return f"; {self.hint}" if self.hint else ""
