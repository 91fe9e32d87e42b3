"""Everything that is decided outside the program, read once from the environment."""

from __future__ import annotations

import ipaddress
import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

PROJECT = Path(__file__).resolve().parent.parent


class SettingsError(ValueError):
    """A setting cannot be used; the message says which one and what is allowed."""


@dataclass(frozen=True, slots=True)
class Settings:
    """One frozen object, made once and handed to the composition root.

    ``base_url`` decides every printed address and the kind of the session
    cookie: with https it is a ``__Host-`` cookie that never leaves TLS.
    ``own_authority`` says that the shop's own authority vouches for it.
    """

    database_url: str
    secret_key: str
    content: Path
    instance: Path
    base_url: str
    photographs_url: str
    demo: bool = False
    own_authority: bool = False

    @property
    def last_good_course(self) -> Path:
        """Return where the last course without errors is kept."""
        return self.instance / "last-good-course.json"

    @property
    def secure(self) -> bool:
        """Return whether every address is https."""
        return self.base_url.startswith("https://")

    @property
    def strict_transport(self) -> bool:
        """Return whether browsers are told never to come by plain HTTP again.

        Not with the shop's own authority: a new phone comes to trust it from a
        page that is served over plain HTTP under the same name.
        """
        return self.secure and not self.own_authority


def read_settings(
    environment: Mapping[str, str] | None = None,
    *,
    base_url: str | None = None,
    demo: bool = False,
) -> Settings:
    """Return the settings of this installation.

    ACADEMY_INSTANCE, ACADEMY_CONTENT, ACADEMY_DATABASE_URL, ACADEMY_BASE_URL,
    ACADEMY_PHOTOGRAPHS_URL and ACADEMY_SECRET_KEY are read; each has a default
    inside the project folder.  The secret is made once and kept in ``instance/``.
    """
    given = os.environ if environment is None else environment
    instance = Path(given.get("ACADEMY_INSTANCE") or PROJECT / "instance").resolve()
    instance.mkdir(parents=True, exist_ok=True)
    address = given.get("ACADEMY_BASE_URL") or base_url or "http://127.0.0.1:8000"
    return Settings(
        database_url=given.get("ACADEMY_DATABASE_URL")
        or f"sqlite:///{(instance / 'academy.sqlite3').as_posix()}",
        secret_key=given.get("ACADEMY_SECRET_KEY") or _kept_secret(instance / "secret.key"),
        content=Path(given.get("ACADEMY_CONTENT") or PROJECT / "content").resolve(),
        instance=instance,
        base_url=_checked_address(address),
        photographs_url=given.get("ACADEMY_PHOTOGRAPHS_URL") or (instance / "photographs").as_uri(),
        demo=demo,
    )


def is_loopback(host: str) -> bool:
    """Return whether only this machine itself can be meant by a host name or address."""
    if host.lower() == "localhost" or host.lower().endswith(".localhost"):
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False


def _checked_address(address: str) -> str:
    if not _is_an_address(address):
        raise SettingsError(
            f"ACADEMY_BASE_URL is {address!r}; write it as https://name or http://name:port"
        )
    parts = urlsplit(address)
    return f"{parts.scheme}://{parts.netloc}"


def _is_an_address(address: str) -> bool:
    """Return whether the text is a scheme, a host and perhaps a port, and nothing more."""
    try:
        parts = urlsplit(address)
        more = parts.path.strip("/") or parts.query or parts.fragment or parts.username
        return bool(
            parts.scheme in {"http", "https"}
            and parts.hostname
            and parts.port != 0
            and not more
            and not any(character.isspace() for character in address)
        )
    except ValueError:  # brackets that do not close, a port that is no number
        return False


def _kept_secret(path: Path) -> str:
    """Return the installation's secret, making it on the first start."""
    try:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        kept = path.read_text(encoding="ascii").strip()
        if kept:
            return kept
        raise SettingsError(f"{path} is empty; delete it and a new secret is made") from None
    with os.fdopen(descriptor, "w", encoding="ascii") as handle:
        handle.write(secrets.token_hex(32))
    return path.read_text(encoding="ascii").strip()
