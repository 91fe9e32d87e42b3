"""The shop's network as it is now: this machine's address, and the certificate it is shown with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from academy.cli.addresses import (
    EVERY_ADDRESS,
    CannotServe,
    address,
    names_of,
    outside_address,
    refuse_taken,
)
from academy.keys.authority import TlsFiles, fingerprint, for_phones, keep_certificate
from academy.settings import Settings
from academy.web.trust import Trusted


@dataclass(slots=True)
class ShopNetwork:
    """What phones are told now: the address, and the certificate it is shown with.

    ``fixed`` says that the address was decided by ACADEMY_BASE_URL.
    """

    settings: Settings
    host: str
    port: int
    fixed: bool
    now: Callable[[], datetime]
    authority: str = field(default="", init=False)
    _shown: bytes = field(default=b"", init=False)

    @property
    def folder(self) -> Path:
        """Return where the keys lie."""
        return self.settings.instance / "tls"

    def refresh(self) -> bool:
        """Renew what has to be renewed; return whether the site has to be started anew.

        Raises
        ------
        OSError
            The keys cannot be read or written.
        """
        before = self.settings.base_url
        if not self.fixed and (self.host not in EVERY_ADDRESS or outside_address()):
            self.settings = replace(self.settings, base_url=address(self.host, self.port, "https"))
        files = self.files()
        self.authority, shown = fingerprint(files.authority), files.certificate.read_bytes()
        changed = shown != self._shown or before != self.settings.base_url
        self._shown = shown
        return changed

    def files(self) -> TlsFiles:
        """Return the files to serve with, renewed where that is due."""
        names = names_of(self.settings.base_url, self.host)
        return keep_certificate(self.folder, names, self.now())

    def trusted(self) -> Trusted:
        """Return what a phone has to know."""
        certificate = for_phones(self.folder / "authority.pem")
        return Trusted(self.settings.base_url, self.authority, certificate)

    def address_of_the_page(self) -> str:
        """Return the plain address of the page from which a phone comes to trust the authority."""
        return address(names_of(self.settings.base_url, self.host)[0], self.port + 1)


def refuse_no_network(settings: Settings, host: str, port: int, fixed: bool) -> None:
    """Raise CannotServe where HTTPS on the network cannot begin."""
    if not settings.secure:
        raise CannotServe(
            "ACADEMY_BASE_URL begins with http://, and --lan serves https; write https:// there,"
            " or leave it out and this machine's address is used."
        )
    if port == 65535:
        raise CannotServe("The page for new phones needs the next port too; choose a lower --port.")
    if host in EVERY_ADDRESS and not fixed and not outside_address():
        raise CannotServe(
            "This machine has no address on a network, so no phone can reach it; connect it to the"
            " shop's network, or start without --lan for this machine alone."
        )
    for needed in (port, port + 1):
        refuse_taken(host, needed)
