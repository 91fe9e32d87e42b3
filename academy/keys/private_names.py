"""Which names a shop's own authority may vouch for: those that mean nothing outside one network.

Written into its certificate as name constraints (RFC 5280, section 4.2.1.10).
"""

from __future__ import annotations

import ipaddress
from collections.abc import Sequence

from cryptography import x509

# RFC 1918, 3927, 6598, 1122, 4193 and 4291.
PRIVATE_NETWORKS = (
    "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10",
    "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128",
)  # fmt: skip
# RFC 6762, 6761 and 8375.
PRIVATE_DOMAINS = ("local", "localhost", "home.arpa")


def general_name(name: str) -> x509.GeneralName:
    """Return an address or a host name as a certificate holds it."""
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def constraints_for(names: Sequence[str]) -> x509.NameConstraints:
    """Permit private networks, and those names beyond them that the shop goes by today."""
    private: list[x509.GeneralName] = [
        *map(x509.DNSName, PRIVATE_DOMAINS),
        *(x509.IPAddress(ipaddress.ip_network(network)) for network in PRIVATE_NETWORKS),
    ]
    beyond = [name for name in names if not _permitted(general_name(name), private)]
    return x509.NameConstraints([*private, *map(_alone, beyond)], None)


def may_vouch(authority: x509.Certificate, names: Sequence[str]) -> bool:
    """Return whether an authority's constraints let it vouch for every name."""
    try:
        found = authority.extensions.get_extension_for_class(x509.NameConstraints)
    except x509.ExtensionNotFound:
        return False
    permitted = found.value.permitted_subtrees or []
    return all(_permitted(general_name(name), permitted) for name in names)


def _permitted(name: x509.GeneralName, subtrees: Sequence[x509.GeneralName]) -> bool:
    return any(_lies_in(name, subtree) for subtree in subtrees)


def _lies_in(name: x509.GeneralName, subtree: x509.GeneralName) -> bool:
    if isinstance(name, x509.DNSName) and isinstance(subtree, x509.DNSName):
        return name.value == subtree.value or name.value.endswith(f".{subtree.value}")
    if isinstance(name, x509.IPAddress) and isinstance(subtree, x509.IPAddress):
        network = ipaddress.ip_network(str(subtree.value))
        return ipaddress.ip_address(str(name.value)) in network
    return False


def _alone(name: str) -> x509.GeneralName:
    """Return the constraint that permits one name and nothing beside it."""
    try:
        return x509.IPAddress(ipaddress.ip_network(name))
    except ValueError:
        return x509.DNSName(name)
