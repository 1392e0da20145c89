"""Gaugings on their way out in an open format, and what it leaves behind."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from bankside.cli.output import write_file, write_utf8
from bankside.exchange.data import SurveyData
from bankside.exchange.geojson_read import read_geojson
from bankside.exchange.layouts import FORMS
from bankside.exchange.members import write_folder, write_zip
from bankside.exchange.named_points import NamedPoint
from bankside.exchange.result_tables import RESULT_FORMS
from bankside.exchange.write import OPEN_FORMS, OpenForm, written_as
from bankside.gauging.faults import Fault, InputRefused
from bankside.intake.open_formats import DESCRIPTOR
from bankside.intake.our_json import is_json
from bankside.intake.read import read_file
from bankside.intake.source import Source, SurveyFile
from bankside.sheets.answers import Answers
from bankside.sheets.files.reading import shown_name
from bankside.survey.records import Survey

__all__ = ["points_in", "survey_given", "write_open_format"]


def survey_given(sources: Sequence[Source], path: Path | None) -> Survey | None:
    """Return the survey in a file of its own, else the one that came with the gaugings.

    InputRefused where the file holds none, or where the gaugings came with several.
    """
    if path is not None:
        found = read_file(path, Answers())
        if isinstance(found, SurveyFile):
            return found.survey
        if isinstance(found, Source) and found.survey is not None:
            return found.survey
        faults = [f for item in getattr(found, "items", ()) for f in item.faults]
        message = "--survey: found no survey in it; one as bankside.survey/1 would be right"
        raise InputRefused(faults or [Fault(message, file=found.file)])
    known = {source.survey for source in sources if source.survey is not None}
    if len(known) > 1:
        ids = ", ".join(sorted(survey.id for survey in known))
        message = f"found gaugings of several surveys ({ids}); one by --survey FILE would be right"
        raise InputRefused([Fault(message)])
    return known.pop() if known else None


def points_in(path: Path) -> tuple[tuple[NamedPoint, ...], tuple[str, ...]]:
    """Return the named points of a GPX or GeoJSON file, and what of it was not read."""
    name = shown_name(path)
    if is_json(path):
        try:
            text = path.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError) as error:
            message = f"could not be read as text ({error}); GeoJSON in UTF-8 would be right"
            raise InputRefused([Fault(message, file=name)]) from None
        found = read_geojson(text, name)
        sites = [
            NamedPoint(site.label or site.id, site.position, place=f"site {site.id}")
            for site in found.sites
            if site.position is not None
        ]
        return (*found.points, *sites), found.notes
    from bankside.exchange.gpx_read import read_gpx

    return read_gpx(path, name)


def write_open_format(
    data: SurveyData, to: OpenForm, output: Path | None, replace: bool
) -> tuple[str, ...]:
    """Write a survey in an open format; return what it leaves out, in sentences.

    InputRefused where there is no place for it.
    """
    kind = OPEN_FORMS[to]
    if output is None and not kind.is_text:
        name = f"FILE{kind.suffix}"
        needed = f"FOLDER or --output {name}" if kind.in_parts else name
        raise InputRefused([Fault(f"--to {to} needs --output {needed}")])
    written = written_as(data, to)
    if output is not None and kind.in_parts:
        _write_files(written.files, output, replace)
        return written.left_out
    (content,) = written.files.values()
    if output is None:
        write_utf8(content.decode("utf-8"))
    else:
        write_file(output, replace, lambda path: path.write_bytes(content))
    return written.left_out


def _write_files(files: Mapping[str, bytes], output: Path, replace: bool) -> None:
    if output.suffix.lower() == ".zip":
        write_file(output, replace, lambda path: write_zip(files, path))
        return
    old = _old_files(output, replace)
    try:
        with tempfile.TemporaryDirectory(dir=output.parent, prefix=".bankside-") as folder:
            write_folder(files, Path(folder))
            output.mkdir(exist_ok=True)
            for path in old:
                path.unlink()
            for name in files:
                shutil.move(Path(folder) / name, output / name)
    except OSError as error:
        reason = error.strerror or str(error)
        message = f"cannot be written ({reason}); a folder that is open to writing is right"
        raise InputRefused([Fault(message, file=str(output))]) from error


def _old_files(output: Path, replace: bool) -> list[Path]:
    """Return the files in whose place others go; InputRefused where they are not to be replaced."""
    if not output.exists():
        return []
    if not output.is_dir():
        message = "is a file; a folder, or a name that ends in .zip, would be right"
        raise InputRefused([Fault(message, file=str(output))])
    old = sorted(output.iterdir())
    strange = [path.name for path in old if not _is_ours(path)]
    if strange:
        message = f'holds "{strange[0]}" besides tables; a folder for them alone would be right'
        raise InputRefused([Fault(message, file=str(output))])
    if old and not replace:
        message = "is there already; another name would be right, or --replace to write over it"
        raise InputRefused([Fault(message, file=str(output))])
    return old


def _is_ours(path: Path) -> bool:
    """Return whether a file is one that we write into folders: others are never taken away."""
    if path.name == DESCRIPTOR:
        return path.is_file()
    # A sheet of a crew may be called like one of our tables, but no package lies beside it.
    in_a_package = path.suffix == ".parquet" or (path.parent / DESCRIPTOR).is_file()
    is_table = path.suffix in (".csv", ".parquet") and path.stem in {*FORMS, *RESULT_FORMS}
    return path.is_file() and is_table and in_a_package
