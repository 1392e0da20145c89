"""Texts that prove who somebody is: made at random, and kept by their SHA-256 alone."""

from __future__ import annotations

import hashlib
import secrets

__all__ = ["as_typed", "digest_of", "new_code", "new_token"]

# Without those that are taken for one another: 0 and O, 1, I and L.
_SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
_SIGNS_OF_A_CODE = 8


def new_token() -> str:
    """Return a token that nobody guesses, of 43 letters, figures, "-" and "_"."""
    return secrets.token_urlsafe(32)


def new_code() -> str:
    """Return a code to be read and typed: 8 letters and figures."""
    return "".join(secrets.choice(_SIGNS) for _ in range(_SIGNS_OF_A_CODE))


def as_typed(code: str) -> str:
    """Return a code without the spaces, hyphens and small letters with which it was typed."""
    return "".join(sign for sign in code.upper() if sign.isalnum())


def digest_of(text: str) -> str:
    """Return what is kept of a token or a code."""
    return hashlib.sha256(text.encode()).hexdigest()
