"""An archive of either kind as an office serves it."""

from __future__ import annotations

import pytest

from bankside.archive.archive import Archive

from .asking import Served


@pytest.fixture
def here(archive: Archive) -> Served:
    """An archive that is served to this machine, where nobody signs in."""
    return Served.here(archive)


@pytest.fixture
def served(archive: Archive) -> Served:
    """An archive that is served to whoever shows a token."""
    return Served.to_others(archive)
