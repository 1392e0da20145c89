"""Write the ranges of the simulated streams for the package, which knows no `practice`.

`python -m calibration.ranges` writes `gauging/between_ranges.py` anew from the section types.
"""

from __future__ import annotations

from pathlib import Path

from bankside.gauging import between_ranges
from bankside.practice.section_types import SECTION_TYPES

__all__ = ["MODULE", "module_text"]

MODULE = Path(between_ranges.__file__)

_ABOUT = '''"""How wide, deep and fast the streams are that the model was fitted to and judged on.

Written by `python -m calibration.ranges` from the section types of `practice`.
"""

from __future__ import annotations

from typing import Final

__all__ = ["DEEPEST_M", "VELOCITY_MS", "WIDTH_M"]
'''

_RANGES = (
    ("WIDTH_M", "width", "From edge of water to edge of water, m."),
    ("DEEPEST_M", "depth", "Where the smooth shape is deepest, m."),
    ("VELOCITY_MS", "velocity", "The mean of the section before stones and weed, m/s."),
)


def module_text() -> str:
    """Return the module: for each figure the least and the most that any type has."""
    lines = [_ABOUT]
    for name, parameter, about in _RANGES:
        ranges = [getattr(one, parameter) for one in SECTION_TYPES.values()]
        low, high = min(one.low for one in ranges), max(one.high for one in ranges)
        lines.append(f'{name}: Final = ({low!r}, {high!r})\n"""{about}"""\n')
    return "\n".join(lines)


def main() -> None:
    """Write it."""
    MODULE.write_text(module_text(), encoding="utf-8")


if __name__ == "__main__":
    main()
