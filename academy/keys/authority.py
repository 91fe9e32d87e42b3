"""A shop's own certificate authority and the certificate its site shows on the network.

Phones trust the authority once; the site's certificate is then renewed without
anybody noticing.  Both keys are P-256 and lie in one folder that only the
owner of the process can read.  A leaf lasts at most 397 days, the longest that
phones accept.  The authority can vouch for addresses inside private networks
alone (name constraints, RFC 5280 section 4.2.1.10), so that a copied key opens
no other site to anybody.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from academy.keys.private_names import constraints_for, general_name, may_vouch

AUTHORITY_LASTS = timedelta(days=3652)
LEAF_LASTS = timedelta(days=396)
RENEW_BEFORE = timedelta(days=30)
CLOCK_SKEW = timedelta(hours=1)  # a phone's clock may be a little behind


@dataclass(frozen=True, slots=True)
class TlsFiles:
    """Where the authority's certificate, the site's and the site's key lie."""

    authority: Path
    certificate: Path
    key: Path


def keep_certificate(folder: Path, names: Sequence[str], now: datetime) -> TlsFiles:
    """Return the files to serve with, making or renewing what is missing, old or for other names.

    Parameters
    ----------
    folder
        made where it is missing, readable by this user alone
    names
        host names and addresses a phone may type, the first being the usual one
    now
        an aware time

    Raises
    ------
    OSError
        The folder or a file in it cannot be read or written.
    """
    if not names:
        raise ValueError("a certificate needs at least one name")
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)
    files = TlsFiles(folder / "authority.pem", folder / "site.pem", folder / "site.key")
    authority_key = folder / "authority.key"
    if not (
        _holds(files.authority, authority_key, now)
        and may_vouch(_certificate(files.authority), names)
    ):
        _write_authority(files.authority, authority_key, names, now)
        files.certificate.unlink(missing_ok=True)
    if not _holds(files.certificate, files.key, now) or _names(files.certificate) != set(names):
        _write_leaf(files, authority_key, names, now)
    return files


def fingerprint(authority: Path) -> str:
    """Return the SHA-256 fingerprint of a certificate as phones show it, in pairs."""
    digest = _certificate(authority).fingerprint(hashes.SHA256())
    return ":".join(f"{byte:02X}" for byte in digest)


def for_phones(authority: Path) -> bytes:
    """Return the authority's certificate, which is public, as phones install it (DER)."""
    return _certificate(authority).public_bytes(serialization.Encoding.DER)


def _holds(certificate: Path, key: Path, now: datetime) -> bool:
    """Return whether both files are there and hold for more than the time to renew in."""
    try:
        found = _certificate(certificate)
        belongs = _key(key).public_key() == found.public_key()
    except (FileNotFoundError, ValueError):
        return False
    return belongs and found.not_valid_after_utc - now > RENEW_BEFORE


def _names(certificate: Path) -> set[str]:
    found = _certificate(certificate).extensions.get_extension_for_class(
        x509.SubjectAlternativeName
    )
    return {str(name.value) for name in found.value}


def _certificate(path: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(path.read_bytes())


def _key(path: Path) -> ec.EllipticCurvePrivateKey:
    key = serialization.load_pem_private_key(path.read_bytes(), None)
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise ValueError(f"{path} is not a key that was made here")
    return key


def _write_authority(path: Path, key_path: Path, names: Sequence[str], now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = _name("Paint correction training: this shop's authority")
    certificate = (
        _builder(name, name, key.public_key(), now, AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(constraints_for(names), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(key_path, key)
    _write(path, certificate.public_bytes(serialization.Encoding.PEM))


def _write_leaf(files: TlsFiles, authority_key: Path, names: Sequence[str], now: datetime) -> None:
    authority, signer = _certificate(files.authority), _key(authority_key)
    key = ec.generate_private_key(ec.SECP256R1())
    issuer = x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key())
    lasts = min(LEAF_LASTS, authority.not_valid_after_utc - now)
    certificate = (
        _builder(_name(names[0]), authority.subject, key.public_key(), now, lasts)
        .add_extension(x509.SubjectAlternativeName(list(map(general_name, names))), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(issuer, critical=False)
        .sign(signer, hashes.SHA256())
    )
    _write_key(files.key, key)
    _write(files.certificate, certificate.public_bytes(serialization.Encoding.PEM))


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePublicKey,
    now: datetime,
    lasts: timedelta,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCK_SKEW)
        .not_valid_after(now + lasts)
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _name(common: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, common[:64])])


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    _write(
        path,
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        ),
    )


def _write(path: Path, data: bytes) -> None:
    """Write a file that only this user reads, whole or not at all."""
    fresh = path.with_suffix(path.suffix + ".new")
    fresh.unlink(missing_ok=True)
    with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as handle:
        handle.write(data)
    fresh.replace(path)
