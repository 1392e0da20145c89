"""The sheets that the crews hand over, each in its own convention."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from bankside.gauging.units import metres_per
from making.courses import place_of, to_lon_lat
from making.crews import Crew
from making.reading import Called, Measured, Reading

__all__ = ["north_sheet", "one_table", "south_workbook"]


def north_sheet(one: Measured) -> str:
    """Return a gauging in feet as a CSV file with widths, products and a total of its own."""
    lines = [f"# {key}: {value}" for key, value in _north_head(one)]
    lines.append("Sta. (ft),Width (ft),Depth (ft),Vel. (ft/s),Point,Time (s),Q (cfs),Remarks")
    total = 0.0
    for place, called in enumerate(one.called):
        width, product = _product(one.called, place)
        total += product
        for number, reading in enumerate(called.readings or (None,)):
            lines.append(_north_row(called, reading, width, product, first=number == 0))
    lines.append(f"Total,,,,,,{total:.2f},")
    return "".join(f"{line}\n" for line in lines)


def _north_head(one: Measured) -> Iterator[tuple[str, str]]:
    visit, crew = one.visit, one.visit.crew
    leader, rod, recorder = crew.people if visit.number == 1 else _changed_about(crew)
    yield "stream", one.site.stream
    yield "site", one.site.name
    yield "point", one.site.id
    yield "date", f"{one.started:%Y-%m-%d}"
    yield "started", one.started.isoformat()
    yield "ended", one.ended.isoformat()
    yield "crew leader", leader
    yield "operator", rod
    yield "recorder", recorder
    yield "meter", crew.meter
    yield "meter serial", crew.serial
    yield "calibrated", f"{crew.calibrated:%Y-%m-%d}"
    yield "calibration due", f"{crew.due:%Y-%m-%d}"
    yield "zero before", "0.00"
    yield "zero after", "0.01"
    if one.stage is None:
        yield "stage", "none"
    else:
        yield "stage start", f"{one.stage[0] / metres_per('ft'):.2f}"
        yield "stage end", f"{one.stage[1] / metres_per('ft'):.2f}"
    yield "whole flow", "yes"
    if visit.quality is not None:
        yield "quality", visit.quality
    if visit.remarks is not None:
        yield "remarks", visit.remarks


def _changed_about(crew: Crew) -> tuple[str, str, str]:
    leader, rod, recorder = crew.people
    return rod, leader, recorder


def _north_row(
    called: Called, reading: Reading | None, width: float, product: float, *, first: bool
) -> str:
    bank = {"left": "LEW", "right": "REW", None: ""}[called.edge]
    remark = f"{bank} steep" if called.steep else bank
    fields = [f"{called.tape:.1f}", f"{width:.2f}", f"{called.depth:.2f}"]
    if reading is None:
        return ",".join([*fields, "", "", "", "0.000", remark])
    fields += [f"{reading.value:.2f}", f"{reading.fraction:g}", str(reading.seconds)]
    return ",".join([*fields, f"{product:.3f}" if first else "", remark])


def _product(called: Sequence[Called], place: int) -> tuple[float, float]:
    """Return width and discharge of a panel around a vertical, as spreadsheets work them out."""
    one = called[place]
    if one.edge is not None:
        return 0.0, 0.0
    width = abs(called[place + 1].tape - called[place - 1].tape) / 2
    values = [reading.value or 0.0 for reading in one.readings]
    return width, width * one.depth * sum(values) / len(values)


def south_workbook(several: Sequence[Measured], path: Path) -> None:
    """Write gaugings in metres and centimetres as a workbook, a sheet for each."""
    from xlsxwriter import Workbook

    workbook = Workbook(str(path), {"in_memory": True})
    workbook.set_properties({"created": several[0].started.replace(tzinfo=None)})
    day = workbook.add_format({"num_format": "dd/mm/yyyy"})
    for one in several:
        sheet = workbook.add_worksheet(f"{one.site.id} {one.started:%d %b}")
        for row, cells in enumerate(_south_rows(one)):
            for column, value in enumerate(cells):
                if value is None:
                    continue
                if hasattr(value, "year"):
                    sheet.write_datetime(row, column, value, day)
                else:
                    sheet.write(row, column, value)
        sheet.set_column(0, 0, 19)
    workbook.close()


def _south_rows(one: Measured) -> Iterator[list[Any]]:
    visit, crew = one.visit, one.visit.crew
    slope, intercept = crew.counts or (0.0, 0.0)
    yield ["Site:", one.site.id]
    yield ["Date:", one.started.replace(tzinfo=None, hour=0, minute=0)]
    yield ["Time zone:", "+01:00"]
    yield ["Start:", f"{one.started:%H:%M}", None, "End:", f"{one.ended:%H:%M}"]
    yield ["Crew:", ", ".join(crew.people)]
    yield ["Meter:", crew.meter, None, "Rotor:", "small"]
    yield ["Meter serial:", crew.serial]
    yield ["Meter rating (m/s):", f"V = {slope:.4f} N + {intercept:.4f}"]
    yield ["Calibrated:", f"{crew.calibrated:%Y-%m-%d}"]
    yield ["Calibration due:", f"{crew.due:%Y-%m-%d}"]
    yield ["Spin before:", 58]
    yield ["Spin after:", 56 if visit.slow == 0 else 17]
    if one.stage is not None:
        yield ["Stage start:", one.stage[0]]
        yield ["Stage end:", one.stage[1]]
    if one.site.located:
        lon, lat = to_lon_lat(place_of(one.site))
        yield ["Latitude:", lat]
        yield ["Longitude:", lon]
        yield ["Accuracy (m):", 5]
    yield ["Whole flow:", "yes"]
    yield ["Quality:", visit.quality]
    if visit.remarks is not None:
        yield ["Remarks:", visit.remarks]
    yield []
    yield ["Tape (m)", "Depth (cm)", "Point", "Revs", "Time (s)", "Bank"]
    for called in one.called:
        bank = called.edge and f"{called.edge}{' steep' if called.steep else ''}"
        if not called.readings:
            yield [called.tape, called.depth, None, None, None, bank]
        for reading in called.readings:
            row = [called.tape, called.depth, reading.fraction, reading.counts, reading.seconds]
            yield [*row, bank]


def one_table(several: Sequence[Measured]) -> str:
    """Return gaugings in metres as one table with semicolons and decimal commas."""
    buffer = io.StringIO()
    writer = csv.writer(buffer, delimiter=";", lineterminator="\n")
    crew = several[0].visit.crew
    writer.writerow(["Meter", crew.meter])
    writer.writerow(["Meter serial", crew.serial])
    writer.writerow(["Calibrated", f"{crew.calibrated:%Y-%m-%d}"])
    writer.writerow(["Calibration due", f"{crew.due:%Y-%m-%d}"])
    writer.writerow(["Crew", ", ".join(crew.people)])
    writer.writerow([])
    heads = ["Site", "Date", "Tape (m)", "Depth (m)", "0.6 D (m/s)", "Time (s)", "Bank", "Remarks"]
    writer.writerow(heads)
    for one in several:
        for number, called in enumerate(one.called):
            day = [one.site.id, f"{one.started:%Y-%m-%d}"] if number == 0 else ["", ""]
            value, seconds = "", ""
            for reading in called.readings:
                value, seconds = _comma(reading.value or 0.0), str(reading.seconds)
            remark = f"started {one.started:%H:%M}" if number == 0 else ""
            figures = [_comma(called.tape), _comma(called.depth), value, seconds]
            writer.writerow([*day, *figures, called.edge or "", remark])
    return buffer.getvalue()


def _comma(value: float) -> str:
    return f"{value:.2f}".replace(".", ",")
