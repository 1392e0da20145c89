"""The streams that there are to practise on, by name, and what each of them teaches."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import attrs

__all__ = ["PRACTICE_STREAMS", "PracticeStream"]


@attrs.frozen
class PracticeStream:
    """A named kind of reach: section types of its candidates, and how fast the level rises.

    `kind` is the type of most candidates and, calmed down, of the better one; `beside` is that of
    one more. `rise` is in metres of depth an hour, `quicken` the part of the velocity gained in an
    hour. `swells` says whether some of its seeds are in high water, in which nobody should go in:
    neither name nor words tell which. All figures are assumed.
    """

    name: str
    about: str
    kind: str
    beside: str
    rise: float = 0.0
    quicken: float = 0.0
    swells: bool = False


PRACTICE_STREAMS: Final[Mapping[str, PracticeStream]] = {
    one.name: one
    for one in (
        PracticeStream(
            "easy run",
            "An even run over gravel: to get the order of things right.",
            "run",
            "riffle",
        ),
        PracticeStream(
            "shallow flat bank",
            "Most of the flow in a part of the width, and a long "
            "shallow bank: where to put verticals.",
            "bar and thalweg",
            "riffle",
        ),
        PracticeStream(
            "cobble riffle",
            "Cobbles and broken water: choose the section, clear it first, and read often.",
            "cobble bed",
            "riffle",
        ),
        PracticeStream(
            "pocket water",
            "Boulders with dead water behind them: a better section is worth a walk.",
            "pocket water",
            "cobble bed",
        ),
        PracticeStream(
            "two channels",
            "Gravel bars between channels: all the water has to be found.",
            "braid",
            "riffle",
        ),
        PracticeStream(
            "undercut bank",
            "Deepest and fastest at a bank that cannot be seen: the edge has a depth.",
            "undercut bank",
            "pool",
        ),
        PracticeStream(
            "rising stage",
            "The level rises while it is measured: read the gauge between verticals, and leave the "
            "water when it says so. To have left is to have done it right.",
            "run",
            "cobble bed",
            rise=0.04,
            quicken=0.08,
        ),
        PracticeStream(
            "after rain",
            "The day after rain. Look along the reach, at the gauge and at what lies below, and "
            "decide before anybody goes in: on some days it can be waded, on others it cannot.",
            "run",
            "cobble bed",
            swells=True,
        ),
    )
}
"""Every practice stream by its name, from easy to hard."""
