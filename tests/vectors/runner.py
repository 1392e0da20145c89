"""Run vectors: the same calls, gaugings and journals wherever Python runs, held to the same bits.

Imports Bankside and the standard library alone and reads no files, so that a browser can load it as
text. What a vector holds is what CPython gave once: it tells one runtime from another, and proves
no formula. Those are held to published figures elsewhere. What journals come to was worked out by
hand.
"""

import importlib
import json
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.entry import entries_from_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.values import comparable
from bankside.gauging.records import Gauging
from bankside.gauging.uncertainty import uncertainty_budgets
from bankside.gauging.wire import from_json

KERNEL_FORMAT = "bankside.vectors.kernel/1"
GAUGINGS_FORMAT = "bankside.vectors.gaugings/1"

TOTALS = ("discharge_m3s", "area_m2", "width_m", "mean_velocity_ms", "wetted_perimeter_m")
"""The figures of a result that a vector holds."""

Find = Callable[[str], Callable[..., Any]]
"""From the name of a function of the kernel, such as section.panel_width, to what runs it."""


class Run(NamedTuple):
    """How many figures were compared, and a sentence on each that differs."""

    compared: int
    differences: list[str]


def run(text: str) -> Run:
    """Run the vectors of a file with this Python, whichever of the three kinds they are."""
    vectors = json.loads(text)
    if "cases" in vectors:
        return run_folds(vectors)
    if vectors["format"] == KERNEL_FORMAT:
        return run_kernel(vectors)
    if vectors["format"] == GAUGINGS_FORMAT:
        return run_gaugings(vectors)
    raise ValueError(f"no vectors known here: {vectors['format']}")


def run_to_text(text: str) -> str:
    """Run the vectors of a file and return the outcome as JSON text, for a browser."""
    return json.dumps(run(text)._asdict(), allow_nan=False)


def plain(name: str) -> Callable[..., Any]:
    """Return a function of the kernel as this Python interprets it."""
    module, function = name.split(".")
    found: Callable[..., Any] = getattr(
        importlib.import_module(f"bankside.kernel.{module}"), function
    )
    return found


def run_kernel(
    vectors: Any, find: Find = plain, sequence: Callable[[list[float]], Any] = list
) -> Run:
    """Run the calls of the kernel; `find` and `sequence` say how another runtime takes them."""
    differences: list[str] = []
    for call in vectors["calls"]:
        name = call["function"]
        arguments = [sequence(a) if isinstance(a, list) else a for a in call["arguments"]]
        found = _outcome(find(name), arguments)
        wanted = {key: call[key] for key in ("result", "raises", "message") if key in call}
        if not _agree(found, wanted, vectors["ulps"].get(name, 0)):
            shown = json.dumps(call["arguments"])
            differences.append(f"{name}{shown}: {wanted} wanted, {found} found")
    return Run(len(vectors["calls"]), differences)


def run_gaugings(vectors: Any) -> Run:
    """Work out the gaugings by every method that the file has figures for."""
    differences: list[str] = []
    compared = 0
    for vector in vectors["gaugings"]:
        gauging = from_json(json.dumps(vector["gauging"]))
        for name, wanted, found in _pairs(vector["figures"], figures(gauging)):
            compared += 1
            ulps = max(vector["ulps"], vectors["ulps"].get(name, 0))
            if not _close(found, wanted, ulps):
                differences.append(f"{vector['name']}, {name}: {wanted} wanted, {found} found")
    return Run(compared, differences)


def run_folds(vectors: Any) -> Run:
    """Fold the journals; order, values, histories, heads and conflicts must be those given."""
    differences = [
        f"{case['name']}: {wanted} wanted, {found} found"
        for case in vectors["cases"]
        for wanted, found in [_folds(case)]
        if wanted != found
    ]
    return Run(len(vectors["cases"]), differences)


def figures(gauging: Gauging) -> dict[str, Any]:
    """Return the figures of a gauging that a vector holds, by method and of the uncertainty."""
    ways = (
        ("mid-section", "half-width"),
        ("mid-section", "triangular"),
        ("mean-section", "half-width"),
    )
    found: dict[str, Any] = {}
    for method, edge_rule in ways:
        result = compute(gauging, method, edge_rule)  # type: ignore[arg-type]
        found[f"{method}, {edge_rule}"] = {name: written(getattr(result, name)) for name in TOTALS}
    found["uncertainty"] = {
        budget.key: written(budget.standard_percent)
        for budget in uncertainty_budgets(gauging, compute(gauging))
    }
    return found


def written(value: Any) -> Any:
    """Return a result as vectors hold it: a float with all its bits, anything else as it is."""
    if isinstance(value, bool) or value is None:
        return value
    return float(value).hex()


def _folds(case: Any) -> tuple[Any, Any]:
    """What a journal is to come to and what it comes to, None where it is refused."""
    wanted: Any = None
    if "said" in case:
        said = {
            what: {**one, "value": comparable(one["value"])} for what, one in case["said"].items()
        }
        wanted = (case["order"], said)
    try:
        folded = fold(entries_from_json(case["entries"]))
    except InputRefused:
        return wanted, None
    found = {
        what: {
            "value": comparable(one.value),
            "history": [entry.id for entry in one.history],
            "heads": [entry.id for entry in one.heads],
            "conflict": one.conflict,
        }
        for what, one in folded.items()
    }
    return wanted, ([entry.id for entry in folded.entries], found)


def _pairs(wanted: dict[str, Any], found: dict[str, Any]) -> Iterator[tuple[str, Any, Any]]:
    for way in sorted({*wanted, *found}):
        there, here = wanted.get(way, {}), found.get(way, {})
        for name in sorted({*there, *here}):
            yield f"{way}: {name}", there.get(name, "nothing"), here.get(name, "nothing")


def _outcome(function: Callable[..., Any], arguments: Sequence[Any]) -> dict[str, Any]:
    try:
        return {"result": written(function(*arguments))}
    except (ValueError, IndexError) as error:
        return {"raises": type(error).__name__, "message": str(error)}


def _agree(found: dict[str, Any], wanted: dict[str, Any], ulps: int) -> bool:
    """Whether two outcomes are the same to the bit, or as close as the budget allows."""
    if found == wanted:
        return True
    if found.keys() != wanted.keys():
        return False
    return all(_close(found[key], wanted[key], ulps) for key in wanted)


def _close(found: Any, wanted: Any, ulps: int) -> bool:
    if not (_is_float(found) and _is_float(wanted)):
        return bool(found == wanted)
    if ulps == 0:
        return bool(found == wanted)
    value = float.fromhex(wanted)
    return abs(float.fromhex(found) - value) <= ulps * math.ulp(value)


def _is_float(value: Any) -> bool:
    return isinstance(value, str) and "0x" in value
