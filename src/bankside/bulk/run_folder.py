"""The folder of a run: whose it is, so that no other run is mixed into it, and whether it is whole.

`run.json` says which run a folder belongs to; a part is done when its last table is there.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Literal

from bankside.gauging.faults import Fault, InputRefused

__all__ = [
    "FORMAT",
    "LAST_TABLE",
    "RUN_FILE",
    "Kind",
    "begin_folder",
    "finished_run",
    "is_run_folder",
    "part_file",
    "parts_of",
]

Kind = Literal["compute", "check"]

FORMAT = "bankside.bulk/1"

LAST_TABLE: Mapping[str, str] = {"compute": "gaugings", "check": "checked"}
"""The table that is written last, by kind of run: with it a part is done."""

RUN_FILE = "run.json"
"""What says which run a folder belongs to."""

_FEW = 3


def part_file(folder: Path, table: str, part: int) -> Path:
    """Return where a table of a part is written."""
    return folder / table / f"part-{part:06d}.parquet"


def parts_of(gaugings: int, part: int) -> int:
    """Return how many parts so many gaugings make, at least one."""
    return max(-(-gaugings // part), 1)


def begin_folder(folder: Path, document: Mapping[str, Any]) -> None:
    """Make the folder of the run that a document describes, or see that it is of that very run.

    InputRefused, with what was found there, if it is of another run or of something else.
    """
    if _lists(folder):
        found = _document(folder)
        if found is None:
            raise _refused(folder, _listed(_lists(folder)))
        if found != document:
            raise _refused(folder, f"a run {', '.join(_differences(found, document))}")
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
        unfinished = folder / f".{RUN_FILE}"
        unfinished.write_text(json.dumps(document, indent=1), encoding="utf-8")
        unfinished.replace(folder / RUN_FILE)
    except OSError as error:
        why = error.strerror or str(error)
        message = f"cannot be made ({why}); a folder in a place open to writing would be right"
        raise InputRefused([Fault(message, file=str(folder))]) from error


def is_run_folder(folder: Path) -> bool:
    """Return whether a folder is of a bulk run."""
    return folder.is_dir() and _document(folder) is not None


def finished_run(folder: Path) -> Kind:
    """Return of which kind the run of a folder is.

    InputRefused, with what was found there, if it is of none, or of one that is not finished.
    """
    found = _document(folder) if folder.is_dir() else None
    if found is None:
        there = _listed(_lists(folder)) if folder.exists() else "nothing there"
        message = (
            f"must be a folder of bankside bulk compute or bankside bulk check (found {there})"
        )
        raise InputRefused([Fault(message, file=str(folder))])
    kind: Kind = found["kind"]
    gaugings = sum(rows for _, rows, _ in found["inputs"])
    parts = parts_of(gaugings, found["gaugings_a_part"])
    done = sum(part_file(folder, LAST_TABLE[kind], part).exists() for part in range(parts))
    if done < parts:
        message = (
            f"must be a finished run (found {done} of {parts} parts); the command that began it, "
            "given again, does the rest"
        )
        raise InputRefused([Fault(message, file=str(folder))])
    return kind


def _document(folder: Path) -> dict[str, Any] | None:
    """Return what `run.json` of a folder says, None where there is none of ours."""
    try:
        found = json.loads((folder / RUN_FILE).read_bytes())
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) and found.get("format") == FORMAT else None


def _lists(folder: Path) -> list[str]:
    """Return what is in a folder, but for what is hidden; a file is one thing, nothing is none."""
    if folder.is_dir():
        return sorted(path.name for path in folder.iterdir() if not path.name.startswith("."))
    return ["a file"] if folder.exists() else []


def _listed(names: list[str]) -> str:
    if not names:
        return "an empty folder"
    more = f" and {len(names) - _FEW} more" if len(names) > _FEW else ""
    return ", ".join(names[:_FEW]) + more


def _refused(folder: Path, found: str) -> InputRefused:
    message = (
        "must be a new folder, or that of this very run, which the same command takes up where it "
        f"was interrupted (found {found})"
    )
    return InputRefused([Fault(message, file=str(folder))])


def _differences(found: Mapping[str, Any], wanted: Mapping[str, Any]) -> Iterator[str]:
    """Yield by what a run differs from the one that is wanted, as it is there."""
    if found["kind"] != wanted["kind"]:
        yield f"of bankside bulk {found['kind']}"
        return
    other = {name for name in wanted if found.get(name) != wanted[name]}
    if "inputs" in other:
        yield from _inputs(found["inputs"], wanted["inputs"])
    if "gaugings_a_part" in other:
        yield f"with --part {found['gaugings_a_part']}"
    if "panels" in other:
        yield "with panels" if found["panels"] else "with --figures-alone"
    if "uncertainty" in other:
        yield f"with --uncertainty {found['uncertainty']}"
    if "rule_set" in other:
        yield f'by the rule set "{found["rule_set"]}"'
    elif "limits" in other:
        yield f'by other thresholds of the rule set "{found["rule_set"]}"'
    if other & {"method_version", "sources", "assumed"}:
        yield "by another version of Bankside"


def _inputs(found: list[Any], wanted: list[Any]) -> Iterator[str]:
    names = [name for name, _, _ in found]
    if [one[:2] for one in found] == [one[:2] for one in wanted]:
        yield f"of another content of {_listed(names)}"
    else:
        gaugings = sum(rows for _, rows, _ in found)
        yield f"of {_listed(names)} with {gaugings} gauging{'' if gaugings == 1 else 's'}"
