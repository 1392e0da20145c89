"""A discharge in doubt leaves the house with no range around it: its findings say why."""

import json

import attrs

from bankside.exchange.data import SurveyData
from bankside.exchange.geojson import geojson
from bankside.exchange.result_tables import result_tables
from bankside.exchange.waterml import waterml

from .building import SECOND, with_visits

SURE = with_visits(SurveyData(gaugings=(SECOND,)))
IN_DOUBT = attrs.evolve(SURE, visits=(attrs.evolve(SURE.visits[0], in_doubt=True),))


def test_result_tables_tell_no_range() -> None:
    """Neither the figure nor whose it is; the discharge stays."""
    told, silent = (result_tables(data.visits, ["g"])[0].rows[0] for data in (SURE, IN_DOUBT))

    assert told["uncertainty_percent"] is not None and told["uncertainty_method"] is not None
    assert silent == {**told, "uncertainty_percent": None, "uncertainty_method": None}


def test_geojson_tells_no_range() -> None:
    """A map of it shows a point with its discharge."""
    told, silent = (
        json.loads(geojson(data))["features"][-1]["properties"] for data in (SURE, IN_DOUBT)
    )

    assert silent["discharge_m3s"] == told["discharge_m3s"]
    assert "uncertainty_percent" in told
    assert "uncertainty_percent" not in silent


def test_waterml_tells_no_range() -> None:
    """The quality of the quantity is left out."""
    assert b"<swe:quality>" in waterml(SURE)
    assert b"<swe:quality>" not in waterml(IN_DOUBT)
