"""Gaugings on their way out in an open format, and what it leaves behind."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Literal

from bankside.cli.output import write_file, write_utf8
from bankside.exchange.data import SurveyData, gauging_keys
from bankside.exchange.geojson_read import read_geojson
from bankside.exchange.named_points import NamedPoint
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import rules_of
from bankside.intake.our_json import is_json
from bankside.intake.read import read_file
from bankside.intake.source import Source, SurveyFile
from bankside.sheets.answers import Answers
from bankside.sheets.files.reading import shown_name
from bankside.survey.records import Survey
from bankside.survey.site_names import SiteIndex
from bankside.survey.visits import visit_of

__all__ = [
    "SUFFIXES",
    "OpenForm",
    "points_in",
    "survey_data",
    "survey_given",
    "write_open_format",
]

OpenForm = Literal["datapackage", "geopackage", "parquet", "geojson", "gpx", "waterml"]

SUFFIXES: Mapping[str, str] = {
    "datapackage": ".zip",
    "geopackage": ".gpkg",
    "parquet": ".zip",
    "geojson": ".geojson",
    "gpx": ".gpx",
    "waterml": ".xml",
}
"""Open format → how the name of its file ends."""

TEXTS = ("geojson", "gpx", "waterml")
_IN_A_FOLDER = ("datapackage", "parquet")
_ENDINGS = (".csv", ".parquet", ".json")


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


def survey_data(survey: Survey | None, gaugings: Sequence[Gauging]) -> SurveyData:
    """Return gaugings with the survey that lists their sites, and all that is worked out."""
    index = SiteIndex.of(survey.sites if survey is not None else ())
    visits = [
        visit_of(gauging, rules_of(gauging)[0], index.site_of(gauging.site), id_=key)
        for key, gauging in zip(gauging_keys(gaugings), gaugings, strict=True)
    ]
    return SurveyData(survey, tuple(gaugings), tuple(visits))


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


def text_in(data: SurveyData, to: OpenForm) -> tuple[bytes, tuple[str, ...]]:
    """Return a survey in an open format that is text, and what that leaves out, in sentences."""
    if to == "geojson":
        from bankside.exchange.geojson import geojson, geojson_left_out

        return geojson(data).encode("utf-8"), geojson_left_out(data)
    if to == "waterml":
        from bankside.exchange.waterml import waterml, waterml_left_out

        content = waterml(data)
        return content, waterml_left_out(data, content)
    from bankside.exchange.gpx import gpx, gpx_left_out

    return gpx(data), gpx_left_out(data)


def write_open_format(
    data: SurveyData, to: OpenForm, output: Path | None, replace: bool
) -> tuple[str, ...]:
    """Write a survey in an open format; return what it leaves out, in sentences.

    InputRefused where there is no place for it.
    """
    if to in TEXTS:
        content, left = text_in(data, to)
        if output is None:
            write_utf8(content.decode("utf-8"))
        else:
            write_file(output, replace, lambda path: path.write_bytes(content))
        return left
    _write_tables(data, to, output, replace)
    return ()


def _write_tables(data: SurveyData, to: OpenForm, output: Path | None, replace: bool) -> None:
    if output is None:
        raise InputRefused([Fault(f"--to {to} needs --output {_named(to)}")])
    if to == "geopackage":
        from bankside.exchange.geopackage import geopackage

        content = geopackage(data)
        write_file(output, replace, lambda path: path.write_bytes(content))
        return
    if to == "datapackage":
        from bankside.exchange.data_package import data_package

        files = data_package(data)
    else:
        from bankside.exchange.parquet import parquet_files

        files = parquet_files(data)
    _write_files(files, output, replace)


def _named(to: OpenForm) -> str:
    name = f"FILE{SUFFIXES[to]}"
    return f"FOLDER or --output {name}" if to in _IN_A_FOLDER else name


def _write_files(files: Mapping[str, bytes], output: Path, replace: bool) -> None:
    from bankside.exchange.members import write_folder, write_zip

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
    strange = [path.name for path in old if path.suffix.lower() not in _ENDINGS or path.is_dir()]
    if strange:
        message = f'holds "{strange[0]}" besides tables; a folder for them alone would be right'
        raise InputRefused([Fault(message, file=str(output))])
    if old and not replace:
        message = "is there already; another name would be right, or --replace to write over it"
        raise InputRefused([Fault(message, file=str(output))])
    return old
