"""Build the app for the bank: `python web/build.py [--out FOLDER]`.

The files go to the server's own folder, from which `bankside serve` and `bankside app` take them.
Equal sources give equal bytes.
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
from pathlib import Path

from app_files import ListTrouble, list_files
from engine_files import SOURCES, EngineTrouble, pack_engine
from licences import add_licences
from npm import NodeTrouble, install, npm

OUT = SOURCES / "server" / "static"


def build(out: Path) -> str:
    """Build the app into `out`, in the place of what a former build put there; return its version.

    What stood there goes only when the new files are whole. Raises NodeTrouble, EngineTrouble or
    ListTrouble if the app cannot be built.
    """
    install()
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=".app-") as work:
        packed = Path(work) / "packed"
        made = Path(work) / "made"
        place = pack_engine(packed)
        told = {"BANKSIDE_ENGINE_PLACE": json.dumps(place._asdict())}
        npm(["run", "--silent", "build", "--", "--outDir", str(made)], told)
        npm(["run", "--silent", "build-worker", "--", "--outDir", str(made)])
        shutil.move(packed / "engine", made / "engine")
        add_licences(made)
        version = list_files(made, place)
        if out.exists():
            out.rename(Path(work) / "former")
        made.rename(out)
    return version


def main() -> int:
    """Build the app and say which; return 1, with the reason on stderr, if it cannot be built."""
    parser = argparse.ArgumentParser(description="Build the app for the bank.")
    parser.add_argument("--out", type=Path, default=OUT, help="the folder that the app goes to")
    out = parser.parse_args().out.resolve()
    if out.exists() and not (out / "files.json").is_file():
        print(f"{out} is there and holds no built app; a new name is right.", file=sys.stderr)
        return 1
    try:
        version = build(out)
    except (NodeTrouble, EngineTrouble, ListTrouble) as trouble:
        print(f"The app was not built: {trouble}", file=sys.stderr)
        return 1
    print(f"Built the app, version {version}.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
