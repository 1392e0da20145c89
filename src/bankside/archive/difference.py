"""What verifying can find."""

from __future__ import annotations

from typing import Literal

import attrs

__all__ = ["Difference", "Kind"]

Kind = Literal["damaged", "method", "behind", "missing"]


@attrs.frozen
class Difference:
    """Something that verifying found.

    `kind` is "damaged" where the archive is not as it was written, "method" where a filed figure
    rests on another version of the method than this one, "behind" where something has still to be
    worked out, and "missing" where a file is named that never came.
    """

    kind: Kind
    what: str
    words: str
