"""A survey and its gaugings as a Data Package: CSV tables and what they mean, and back.

Source: Data Package 2.0, datapackage.org. Equal input gives equal bytes, in a ZIP archive by one
version of zlib.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

import attrs

from bankside.exchange.csv_tables import csv_text, rows_of_csv
from bankside.exchange.data import ReadData, SurveyData
from bankside.exchange.forms import require_format
from bankside.exchange.layouts import FORMS
from bankside.exchange.members import read_members
from bankside.exchange.read_tables import from_tables
from bankside.exchange.result_tables import RESULT_FORMS
from bankside.exchange.table_rows import Row
from bankside.exchange.table_schema import package_descriptor
from bankside.exchange.tables import to_tables
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.json_text import parsed, written
from bankside.gauging.structure import JsonObject

__all__ = ["DESCRIPTOR", "data_package", "read_data_package"]

DESCRIPTOR = "datapackage.json"


@attrs.frozen
class _Resource:
    """A table that a descriptor names: its file, and the digest of it where one is told."""

    name: str
    file: str
    digest: str | None


def data_package(data: SurveyData) -> dict[str, bytes]:
    """Return the files of a Data Package by their names, the descriptor first."""
    tables = to_tables(data)
    files = {f"{table.form.name}.csv": csv_text(table).encode() for table in tables}
    descriptor = written(package_descriptor(data, tables, files)).encode()
    return {DESCRIPTOR: descriptor, **files}


def read_data_package(path: Path, name: str | None = None) -> ReadData:
    """Return what a Data Package holds: a folder, a ZIP archive, or the descriptor in its folder.

    `name`, the package as people know it, goes into every fault. InputRefused with every fault,
    each with the file in the package, its row and column.
    """
    try:
        is_descriptor = path.name.lower() == DESCRIPTOR
        files = read_members(path.parent if is_descriptor else path, (".json", ".csv"))
        resources = _resources(files)
        known = {one.name: one for one in resources if one.name in FORMS}
        rows = _rows(files, known)
        data = from_tables(rows, lambda table, fault: _in_file(fault, known[table].file))
    except InputRefused as error:
        raise InputRefused(
            _in_package(fault, name or path.name) for fault in error.faults
        ) from None
    return ReadData(data, tuple(_notes(files, resources)))


def _in_file(fault: Fault, file: str) -> Fault:
    return attrs.evolve(fault, file=file)


def _in_package(fault: Fault, package: str) -> Fault:
    return attrs.evolve(fault, file=package if fault.file is None else f"{package}, {fault.file}")


def _resources(files: Mapping[str, bytes]) -> list[_Resource]:
    if DESCRIPTOR not in files:
        raise InputRefused([Fault(f"found no {DESCRIPTOR}; a Data Package has one")])
    try:
        document = parsed(_text(files[DESCRIPTOR]))
        if not isinstance(document, JsonObject) or not isinstance(document.get("resources"), list):
            message = "found no list of resources; a descriptor of a Data Package has one"
            raise InputRefused([Fault(message)])
        require_format(document.get("format"))
        found: object = document["resources"]
        assert isinstance(found, list)
        return [_resource(member, number) for number, member in enumerate(found)]
    except InputRefused as error:
        raise InputRefused(_in_file(fault, DESCRIPTOR) for fault in error.faults) from None


def _resource(member: object, number: int) -> _Resource:
    """Return one resource; InputRefused where it has no name or no one file in the package."""
    told = member if isinstance(member, JsonObject) else JsonObject()
    name, path, digest = told.get("name"), told.get("path"), told.get("hash")
    if not isinstance(name, str) or not isinstance(path, str):
        message = (
            f"found {shown(name)} and {shown(path)}; a name and the path of one file are right"
        )
        raise InputRefused([Fault(message, path=f"resources[{number}]")])
    is_digest = isinstance(digest, str) and digest.startswith("sha256:")
    return _Resource(name, PurePosixPath(path).name.lower(), str(digest) if is_digest else None)


def _rows(files: Mapping[str, bytes], known: Mapping[str, _Resource]) -> dict[str, list[Row]]:
    rows: dict[str, list[Row]] = {}
    faults: list[Fault] = []
    for name, resource in known.items():
        try:
            if resource.file not in files:
                message = f"found no such file; {DESCRIPTOR} has the table {name} in it"
                raise InputRefused([Fault(message)])
            rows[name] = rows_of_csv(_text(files[resource.file]), FORMS[name])
        except InputRefused as error:
            faults += [_in_file(fault, resource.file) for fault in error.faults]
    if not known:
        names = f"surveys, gaugings and readings are some of those in a {DESCRIPTOR} of ours"
        faults.append(Fault(f"found no table that is known; {names}", file=DESCRIPTOR))
    if faults:
        raise InputRefused(faults)
    return rows


def _text(content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        message = f"found a byte (number {error.start + 1}) that is no UTF-8; UTF-8 would be right"
        raise InputRefused([Fault(message)]) from None


def _notes(files: Mapping[str, bytes], resources: list[_Resource]) -> Iterator[str]:
    """Yield what was not read, and which tables are not as the package was written with them."""
    for one in resources:
        content = files.get(one.file)
        if one.name not in FORMS and one.name not in RESULT_FORMS:
            yield f"The table {one.name} is none that is known, and was not read."
        elif one.name in FORMS and content is not None and one.digest is not None:
            now = f"sha256:{hashlib.sha256(content).hexdigest()}"
            if one.digest != now:
                yield f"{one.file} was changed since the package was written."
