"""What the readers of sheets say, as a page says it: answers by their names, no options.

Every question of a reader names the option of the command line that settles it. At a desk the same
answers are buttons and fields, which bear the names that these sentences then have.
"""

from __future__ import annotations

import re

from bankside.sheets.answers import CHOICES

__all__ = ["settles", "without_options"]

_OPTION = re.compile(r"--[a-z]")
_NEXT = re.compile(r"(=[^\s,;]+) (?=--(?:column|unit) )")
_NO_LETTER = r'(?:"…"|…)'
_COLUMN_TO_CHOOSE = re.compile(rf"--column ([\w@.]+)={_NO_LETTER}")
_COLUMN = re.compile(r"--column ([\w@.]+)=(\"[^\"]*\"|[A-Z]+)")
_COLUMN_OF_NAME = re.compile(r"--column NAME=([A-Z]+)")
_UNIT = re.compile(r"--unit (\w+)=([\w/³]+)")
_CHOICE = re.compile(
    "--(" + "|".join(name.replace("_", "-") for name in CHOICES) + r") ([\w-]+)", re.ASCII
)
_BARE = re.compile(r"`?--([a-z]+(?:-[a-z]+)*)`?")


def settles(message: str) -> bool:
    """Return whether an answer about the sheet settles what is wrong: then an option is named."""
    return _OPTION.search(message) is not None


def without_options(message: str) -> str:
    """Return a sentence with each option in the words of a page: depth in ft for its `--unit`."""
    if not settles(message):
        return message
    said = _NEXT.sub(r"\1, ", message)
    said = _COLUMN_OF_NAME.sub(r"what column \1 holds", said)
    said = _COLUMN_TO_CHOOSE.sub(r"a column as “\1”", said)
    said = _COLUMN.sub(r"column \2 as “\1”", said)
    said = _UNIT.sub(r"\1 in \2", said)
    said = _CHOICE.sub(_choice, said)
    return _BARE.sub(lambda found: f"the answer “{found[1].replace('-', ' ')}”", said)


def _choice(found: re.Match[str]) -> str:
    """Return a choice as its button says it; a word that is none of its words stays outside."""
    name, word = found[1].replace("-", "_"), found[2]
    told = found[1].replace("-", " ")
    if word in CHOICES[name]:
        return f"“{told}: {word}”"
    return f"the answer “{told}” {word}"
