"""A version of the method that there is not yet, which gives a tenth more."""

from __future__ import annotations

from typing import Any

import attrs
import pytest

from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result

VERSION = "2026-12-newer"
MORE = 1.1


def use_newer_method(monkeypatch: pytest.MonkeyPatch, more: float = MORE) -> None:
    """Let gaugings be worked out by a newer version from here on."""

    def newer(gauging: Gauging, *given: Any) -> Result:
        result = compute(gauging, *given)
        discharge = result.discharge_m3s * more
        return attrs.evolve(result, method_version=VERSION, discharge_m3s=discharge)

    monkeypatch.setattr("bankside.survey.visits.compute", newer)
    monkeypatch.setattr("bankside.archive.verify_gauging.METHOD_VERSION", VERSION)
