"""Photographs, kept through fsspec under the digest of their bytes.

A photograph is decoded and written anew before it is kept: that drops the
position and every other note a camera adds, and a file that only pretends to
be a picture does not get through.
"""

from __future__ import annotations

import hashlib
import io
import re
import secrets
import struct
from dataclasses import dataclass
from typing import TYPE_CHECKING

import fsspec

if TYPE_CHECKING:
    from PIL.Image import Image

LARGEST_BYTES = 12_000_000
LONGEST_SIDE_PX = 2000
MOST_PIXELS = 60_000_000
_DIGEST = re.compile(r"[0-9a-f]{64}")


class NotAPhotograph(ValueError):
    """The file is no picture that can be kept; the message says what to do."""


@dataclass(frozen=True, slots=True)
class KeptPhotograph:
    """A photograph as kept."""

    digest: str
    bytes: int


class PhotographStore:
    """Photographs at one fsspec address, for example ``file:///...`` or ``s3://...``."""

    def __init__(self, url: str) -> None:
        self._url = url.rstrip("/")

    def keep(self, data: bytes) -> KeptPhotograph:
        """Keep a photograph and return its digest; the same picture is kept once."""
        clean = _encoded_anew(data)
        digest = hashlib.sha256(clean).hexdigest()
        system, path = self._place(digest)
        if not system.exists(path):
            system.makedirs(path.rsplit("/", 1)[0], exist_ok=True)
            _write_whole(system, path, clean)
        return KeptPhotograph(digest, len(clean))

    def read(self, digest: str) -> bytes:
        """Return the bytes kept under a digest; FileNotFoundError when there are none."""
        system, path = self._place(digest)
        with system.open(path, "rb") as handle:
            data: bytes = handle.read()
        return data

    def _place(self, digest: str) -> tuple[fsspec.AbstractFileSystem, str]:
        if not _DIGEST.fullmatch(digest):
            raise FileNotFoundError(digest)
        system, path = fsspec.core.url_to_fs(f"{self._url}/{digest[:2]}/{digest}.jpg")
        return system, path


def _write_whole(system: fsspec.AbstractFileSystem, path: str, data: bytes) -> None:
    """Write a file so that it is there whole or not at all, whatever stops the program.

    It is written beside its place and then moved there, which is one step on a
    disk; an object store shows an object only when all of it has arrived.
    """
    beside = f"{path}.{secrets.token_hex(8)}.part"
    try:
        with system.open(beside, "wb") as handle:
            handle.write(data)
        system.mv(beside, path)
    except BaseException:
        if system.exists(beside):
            system.rm(beside)
        raise


def _encoded_anew(data: bytes) -> bytes:
    """Return a JPEG without metadata, no side longer than 2,000 px."""
    if len(data) > LARGEST_BYTES:
        raise NotAPhotograph("The photograph is larger than 12 MB; take it at a lower resolution")
    upright = _decoded(data)
    upright.info.clear()  # a comment would otherwise be written again
    upright.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=85)
    return out.getvalue()


def _decoded(data: bytes) -> Image:
    """Return the picture the right way up, decoded to its last pixel."""
    from PIL import Image, ImageOps

    try:
        with Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "WEBP")) as picture:
            if picture.width * picture.height <= MOST_PIXELS:
                return ImageOps.exif_transpose(picture).convert("RGB")
    except (OSError, SyntaxError, ValueError, struct.error, Image.DecompressionBombError):
        raise NotAPhotograph(
            "This is not a photograph that can be read; send a JPEG or PNG"
        ) from None
    raise NotAPhotograph("The photograph has too many pixels; take it smaller")
