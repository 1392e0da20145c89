"""Results as one JSON object, for other programs: `{"gaugings": [...]}`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import attrs

from bankside.cli.inputs import Computed, Source
from bankside.cli.rules_used import rules_for
from bankside.cli.uncertainty import uncertainty_as_document
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.reconcile_words import explain

__all__ = ["as_document"]


def as_document(sources: Sequence[Source], computed: Sequence[Computed]) -> dict[str, Any]:
    """Return everything that was computed, and everything that was not, with the reasons.

    gaugings: the computed ones; not_computed: gaugings on which nothing was measured or that were
    refused; files: every file with the count of its rows by fate.
    """
    return {
        "gaugings": [_gauging(c) for c in computed],
        "not_computed": [
            {
                "file": source.file,
                "gauging": item.label,
                "reason": item.reason or "; ".join(str(f) for f in item.faults),
                "rows": item.counts,
            }
            for source in sources
            for item in source.items
            if item.gauging is None
        ],
        "files": [{"file": s.file, "rows": s.counts, "notes": list(s.notes)} for s in sources],
    }


def _gauging(computed: Computed) -> dict[str, Any]:
    gauging, result, filed = computed.gauging, computed.result, computed.filed
    site, findings = gauging.site, check_gauging(gauging, rules_for(gauging, None)[0])
    return {
        "file": computed.file,
        "site": site.name or site.stream,
        "stream": site.stream,
        "date": None if gauging.date is None else gauging.date.isoformat(),
        "units": {
            "length": gauging.units.length,
            "depth": gauging.units.depth or gauging.units.length,
            "velocity": gauging.units.velocity,
        },
        "method": result.method,
        "edge_rule": result.edge_rule,
        "method_version": result.method_version,
        "discharge_m3s": result.discharge_m3s,
        "area_m2": result.area_m2,
        "width_m": result.width_m,
        "mean_depth_m": result.mean_depth_m,
        "mean_velocity_ms": result.mean_velocity_ms,
        "wetted_perimeter_m": result.wetted_perimeter_m,
        "hydraulic_radius_m": result.hydraulic_radius_m,
        "channels": [
            {"name": channel.name, **attrs.asdict(part)}
            for channel, part in zip(gauging.channels, result.channels, strict=True)
        ],
        "panels": [attrs.asdict(panel) for panel in result.panels],
        "uncertainty": uncertainty_as_document(gauging, result, findings),
        "filed": None
        if filed is None
        else {
            "discharge_m3s": filed.discharge_m3s,
            "figure": filed.figure,
            "total_on_sheet": filed.total_filed,
            "unit": filed.unit,
            "unit_on_sheet": filed.unit_stated,
            "rule": filed.rule,
            "rule_discharge_m3s": filed.rule_m3s,
            "rules_with_the_same_figures": list(filed.also),
            "told_by": filed.evidence,
            "angles_left_out": filed.angles_left_out,
            "difference": filed.difference_m3s,
            "difference_percent": filed.difference_percent,
            "rounding_m3s": filed.rounding_m3s,
            "products_m3s": filed.products_m3s,
            "widths": list(filed.widths),
            "panels": [attrs.asdict(panel) for panel in filed.panels],
            "sentences": list(explain(filed, result)),
        },
        "rows": computed.item.counts,
        "rows_not_used": [
            {"sheet": f.sheet, "row": f.row, "fate": f.fate, "reason": f.reason}
            for f in computed.item.rows
            if f.fate != "used"
        ],
        "notes": [*computed.item.notes, *result.notes],
    }
