"""People's names on one line, taken apart and written so that they come back the same."""

from __future__ import annotations

import re

__all__ = ["name_line", "names_in"]

_PARTED = re.compile(r"[,/&]")


def names_in(text: str) -> tuple[str, ...]:
    """Return the names on a line: parted by semicolons, else by commas, slashes or "&".

    Initials behind a comma belong to the surname before them ("Mora, A."). A line with a semicolon
    in it is parted there alone, so that a name may hold a comma.
    """
    if ";" in text:
        return tuple(name.strip() for name in text.split(";") if name.strip())
    names: list[str] = []
    for part in filter(None, (part.strip() for part in _PARTED.split(text))):
        if names and _is_initials(part) and not _is_initials(names[-1]):
            names[-1] = f"{names[-1]}, {part}"
        else:
            names.append(part)
    return tuple(names)


def name_line(name: str) -> str:
    """Return a name as a line that `names_in` takes for one name."""
    return f"{name};" if _PARTED.search(name) else name


def _is_initials(part: str) -> bool:
    """Return whether a part is initials ("A.", "A. B.", "A") and no name; "AM" may be a person."""
    letters = [piece for piece in re.split(r"[.\s-]+", part) if piece]
    return bool(letters) and all(len(letter) == 1 and letter.isupper() for letter in letters)
