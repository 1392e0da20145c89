"""A folder that can be read and not written."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

NOBODY = 65534


@contextmanager
def nobody(folder: Path) -> Iterator[None]:
    """Let one use the folder who may read it and not write."""
    for file in folder.iterdir():
        file.chmod(0o444)
    folder.chmod(0o555)
    # root may write whatever a file says.
    if os.getuid() == 0:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if os.getuid() == 0:
            os.seteuid(0)
        folder.chmod(0o755)
