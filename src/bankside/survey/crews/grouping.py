"""By whom and with what a gauging was made: the crew, its meter, and the person who read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, Literal

from bankside.gauging.records import Gauging
from bankside.survey.site_names import folded_name
from bankside.survey.words import listed

__all__ = ["GROUPINGS", "Grouping", "group_name"]

Grouping = Literal["crew", "meter", "person"]
GROUPINGS: Final[tuple[Grouping, ...]] = ("crew", "meter", "person")

# Words in a role that say that its bearer reads the meter (common practice, no source).
_READS: Final = frozenset({"meter", "operator", "rod", "reader", "wader"})


def group_name(gauging: Gauging, by: Grouping) -> tuple[str, str] | None:
    """Return the key and the name of the group that a gauging belongs to.

    None where the record does not say it: a crew without names, a meter without kind and serial
    number, or several people of whom no role says who read. Names that differ by case, accents or
    marks alone are one, and the people of a crew are one crew in whichever order they stand.
    """
    return _NAMES[by](gauging)


def _crew(gauging: Gauging) -> tuple[str, str] | None:
    names = [" ".join(member.name.split()) for member in gauging.crew]
    if not names:
        return None
    return "|".join(sorted({folded_name(name) for name in names})), listed(names)


def _meter(gauging: Gauging) -> tuple[str, str] | None:
    meter = gauging.meter
    if meter is None or (meter.kind is None and meter.serial is None):
        return None
    serial = "no serial number" if meter.serial is None else f"no. {meter.serial}"
    name = serial if meter.kind is None else f"{meter.kind}, {serial}"
    # One serial number is one meter, whatever its kind was called.
    return folded_name(meter.serial or name), name


def _person(gauging: Gauging) -> tuple[str, str] | None:
    crew = gauging.crew
    readers = [m for m in crew if _READS & set(folded_name(m.role or "").split())]
    found = readers or (crew if len(crew) == 1 else ())
    if len(found) != 1:
        return None
    name = " ".join(found[0].name.split())
    return folded_name(name), name


_NAMES: Mapping[Grouping, Callable[[Gauging], tuple[str, str] | None]] = {
    "crew": _crew,
    "meter": _meter,
    "person": _person,
}
