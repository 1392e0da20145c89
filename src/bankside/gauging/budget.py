"""An uncertainty budget: the parts of the uncertainty of a discharge, and what they come to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal

import attrs

__all__ = ["Budget", "BudgetPart", "PartName"]

PartName = Literal[
    "between verticals",
    "verticals",
    "readings",
    "depth",
    "rod",
    "width",
    "meter",
    "meter's zero",
    "exposure",
    "vertical profile",
    "flow angle",
    "stage",
    "systematic",
    "scatter of depth",
    "scatter of velocity",
]

_Key = Literal["between-verticals", "iso-748", "interpolated-variance", "components"]

_SHORT_NAMES: Final[Mapping[_Key, str]] = {
    "between-verticals": "between verticals",
    "iso-748": "ISO 748",
    "interpolated-variance": "interpolated variance",
    "components": "components",
}


@attrs.frozen
class BudgetPart:
    """What one cause adds to the standard uncertainty of the discharge.

    `percent` is its contribution to the total in percent of the discharge, one standard
    uncertainty: the squares of all parts add up to the square of the budget's. `basis` says in a
    sentence where the figure comes from, "from memory" included where that is so.
    """

    name: PartName
    percent: float
    basis: str


@attrs.frozen
class Budget:
    """The uncertainty of a discharge by one method, published or ours.

    `method` names it with its publication; `key` is its short name. `standard_percent` is one
    standard uncertainty in percent of the discharge. `expanded_percent` is half the interval that
    holds the true discharge 19 times in 20: two standard uncertainties by the published methods.
    `two_thirds_percent` is that for 68 %, by default one standard uncertainty. `remarks` say what
    was assumed, `left_out` what the method has and nobody could source, so that the figure is too
    small by it.
    """

    key: _Key
    method: str
    parts: tuple[BudgetPart, ...]
    standard_percent: float
    remarks: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    expanded_percent: float = attrs.field(
        default=attrs.Factory(lambda self: 2.0 * self.standard_percent, takes_self=True)
    )
    two_thirds_percent: float = attrs.field(
        default=attrs.Factory(lambda self: self.standard_percent, takes_self=True)
    )

    @property
    def exceeds_discharge(self) -> bool:
        """Whether it is more than the discharge itself, so that no percent of that says anything.

        That is so where nearly as much water runs back as on, or next to nothing was read.
        """
        return self.expanded_percent > 100.0

    @property
    def interval_words(self) -> str:
        """What `expanded_percent` is, in words."""
        if self.key == "between-verticals":
            return "the interval of 95 % (about 19 in 20)"
        return "two standard uncertainties (about 19 in 20)"

    @property
    def short_name(self) -> str:
        """The method in two words, where its publication stands elsewhere."""
        return _SHORT_NAMES[self.key]
