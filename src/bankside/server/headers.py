"""What every answer says besides its content: what the page may do, and how long a file keeps."""

from __future__ import annotations

__all__ = ["CONTENT_SECURITY_POLICY", "cache_control", "protective_headers"]

CONTENT_SECURITY_POLICY = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; "
    "img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; form-action 'none'"
)
"""The same as in the page itself, where it holds on hosts that set no headers."""


def protective_headers() -> dict[str, str]:
    """Return the headers that go with every answer."""
    return {
        # What a page cannot say of itself: that no other page may frame it.
        "Content-Security-Policy": f"{CONTENT_SECURITY_POLICY}; frame-ancestors 'none'",
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "no-referrer",
    }


def cache_control(path: str) -> str:
    """Return how long a browser may keep a file of the app, by the file's path.

    A name that carries a hash or a version never stands for other content; every other file is
    asked for again, so that an update is seen.
    """
    if path.startswith(("assets/", "engine/")):
        return "public, max-age=31536000, immutable"
    return "no-cache"
