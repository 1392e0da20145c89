"""Names of files in an archive that lead out of it; nothing is unpacked by them, nor read."""

from __future__ import annotations

import re
import stat
import zipfile

__all__ = ["leads_outside"]

_DRIVE = re.compile(r"[A-Za-z]:")


def leads_outside(member: zipfile.ZipInfo) -> bool:
    """Return whether a member is a link, or has a name that no file inside a folder has."""
    name = member.orig_filename.replace("\\", "/")
    is_link = stat.S_ISLNK(member.external_attr >> 16)
    return (
        is_link
        or name.startswith("/")
        or _DRIVE.match(name) is not None
        or "\0" in name
        or ".." in name.split("/")
    )
