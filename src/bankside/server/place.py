"""Where a server listens, how it is reached, and what has to hold before it starts."""

from __future__ import annotations

import ipaddress
import ssl
from pathlib import Path
from urllib.parse import urlsplit

import attrs

from bankside.server.built_app import AppTrouble

__all__ = ["Place", "office_place", "page_of"]


@attrs.frozen
class Place:
    """Where a server listens.

    `page` is the address of the page as devices open it, None where it is that of the port.
    `certificate` and `key` are files; `behind_proxy` says that a proxy speaks for those who ask.
    """

    address: str
    port: int
    page: str | None = None
    certificate: Path | None = None
    key: Path | None = None
    behind_proxy: bool = False

    @property
    def to_others(self) -> bool:
        """Whether anybody but this machine can ask."""
        return self.behind_proxy or not ipaddress.ip_address(self.address).is_loopback


def office_place(
    address: str,
    port: int,
    page: str | None = None,
    certificate: Path | None = None,
    key: Path | None = None,
    behind_proxy: bool = False,
) -> Place:
    """Return where the server of an office is to listen.

    Raises AppTrouble, with what would be right, where that would let readings and passwords travel
    for everybody to read, or where devices could not reach it.
    """
    place = Place(
        _numbers(address), port, page_of(page), certificate, key or certificate, behind_proxy
    )
    if certificate is not None and behind_proxy:
        raise AppTrouble(
            "Found --certificate and --behind-proxy; one of them is right: either this server "
            "encrypts, or the proxy in front of it."
        )
    if key is not None and certificate is None:
        raise AppTrouble("Found --key alone; --certificate with its file is right beside it.")
    if certificate is not None:
        _try_certificate(certificate, key or certificate)
    if not place.to_others:
        return place
    if certificate is None and not behind_proxy:
        raise AppTrouble(
            f"At {address} everybody could read what travels; --certificate and --key, or "
            "--behind-proxy with a proxy that encrypts, would be right (docs/deploy.md)."
        )
    if place.page is None:
        raise AppTrouble(
            "Devices have to know how to reach this server; --url with its address, such as "
            "https://bank.example.org/, would be right."
        )
    return place


def _numbers(address: str) -> str:
    """Return an address of this machine as numbers."""
    if address == "localhost":
        return "127.0.0.1"
    try:
        return str(ipaddress.ip_address(address))
    except ValueError:
        raise AppTrouble(
            f'Found the address "{address}"; numbers such as 127.0.0.1, or 0.0.0.0 for every '
            "address of this machine, are right. A name belongs into --url."
        ) from None


def page_of(url: str | None) -> str | None:
    """Return the address of the page with a slash at its end; AppTrouble if it is none."""
    if url is None:
        return None
    try:
        parts = urlsplit(url)
        sound = parts.scheme == "https" and parts.hostname and (parts.port or True)
    except ValueError:
        sound = False
    if not sound or parts.query or parts.fragment or parts.username or parts.path not in ("", "/"):
        raise AppTrouble(
            f'Found --url "{url}"; an address such as https://bank.example.org/ would be right: '
            "with https, and without a path, as phones keep the app by it."
        )
    return f"https://{parts.netloc.lower()}/"


def _try_certificate(certificate: Path, key: Path) -> None:
    try:
        # A key with a password could not be read again when the server starts by itself.
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(certificate, key, password=lambda: "")
    except (OSError, ssl.SSLError) as error:
        why = getattr(error, "strerror", None) or getattr(error, "reason", None) or error
        raise AppTrouble(
            f"The certificate {certificate} with the key {key} cannot be used ({why}); files in "
            "PEM form that belong together would be right, the key without a password."
        ) from error
