"""The documents built as a site."""

import os
import subprocess
import sys
from pathlib import Path

from tests.docs.pages import ROOT


def build_site(folder: Path) -> str:
    """Build the site into a folder as `make docs` does; return what was said, fail where it fails.

    Strictly: a page that is in no list, a link or an anchor that leads nowhere, fails it.
    """
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(folder)],
        cwd=ROOT,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stderr
