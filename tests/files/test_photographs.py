"""Photographs are written anew before they are kept: no position, no notes, nothing but a picture."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from academy.files.photographs import (
    LARGEST_BYTES,
    LONGEST_SIDE_PX,
    NotAPhotograph,
    PhotographStore,
)

ORIENTATION, MAKER, GPS = 0x0112, 0x010F, 0x8825
NOTE = "taken at the Holt house"


@pytest.fixture
def store(tmp_path: Path) -> PhotographStore:
    return PhotographStore((tmp_path / "photographs").as_uri())


def a_photograph(
    form: str = "JPEG", size: tuple[int, int] = (60, 30), *, orientation: int = 1
) -> bytes:
    """Return a picture, blue on the left and red on the right, with every note a camera adds."""
    picture = Image.new("RGB", size, (200, 20, 20))
    picture.paste((20, 20, 200), (0, 0, size[0] // 2, size[1]))
    text = PngInfo()
    text.add_text("note", NOTE)
    notes = Image.Exif()
    notes[ORIENTATION], notes[MAKER] = orientation, NOTE
    notes.get_ifd(GPS).update({1: "N", 2: (48.0, 8.0, 30.0), 3: "E", 4: (11.0, 34.0, 0.0)})
    beside: dict[str, dict[str, Any]] = {
        "JPEG": {"comment": NOTE.encode(), "xmp": NOTE.encode()},
        "WEBP": {"xmp": NOTE.encode()},
        "PNG": {"pnginfo": text},
    }
    out = io.BytesIO()
    picture.save(out, form, exif=notes, **beside[form])
    return out.getvalue()


def opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data))


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_the_place_and_every_note_are_gone(store: PhotographStore, form: str) -> None:
    sent = a_photograph(form)
    assert NOTE.encode() in sent
    assert opened(sent).getexif().get_ifd(GPS)
    kept = store.read(store.keep(sent).digest)
    assert NOTE.encode() not in kept
    assert dict(opened(kept).getexif()) == {}
    assert opened(kept).format == "JPEG"


def test_a_picture_held_sideways_is_kept_upright(store: PhotographStore) -> None:
    """Orientation 6: turned a quarter, so left becomes top."""
    kept = opened(store.read(store.keep(a_photograph(orientation=6)).digest))
    assert kept.size == (30, 60)
    top, bottom = kept.getpixel((15, 5)), kept.getpixel((15, 55))
    assert isinstance(top, tuple)
    assert isinstance(bottom, tuple)
    assert top[2] > top[0]
    assert bottom[0] > bottom[2]


@pytest.mark.parametrize(("size", "kept"), [((4000, 1000), (2000, 500)), ((90, 1999), (90, 1999))])
def test_no_side_is_longer_than_two_thousand_pixels(
    store: PhotographStore, size: tuple[int, int], kept: tuple[int, int]
) -> None:
    assert LONGEST_SIDE_PX == 2000
    assert opened(store.read(store.keep(a_photograph(size=size)).digest)).size == kept


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b"", id="nothing"),
        pytest.param(b"\xff\xd8\xff\xe0 not really", id="only the first bytes of one"),
        pytest.param(b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", id="a drawing"),
        pytest.param(b"GIF89a" + bytes(40), id="a kind that is not taken"),
        pytest.param(b"%PDF-1.7 " + bytes(200), id="a document"),
        pytest.param(a_photograph()[:-400], id="cut off"),
        pytest.param(a_photograph("PNG")[:120], id="cut off early"),
    ],
)
def test_what_is_no_picture_is_refused_and_nothing_is_kept(
    store: PhotographStore, tmp_path: Path, data: bytes
) -> None:
    with pytest.raises(NotAPhotograph, match="send a JPEG or PNG"):
        store.keep(data)
    assert not (tmp_path / "photographs").exists()


def test_a_file_of_more_than_twelve_megabytes_is_refused(store: PhotographStore) -> None:
    padded = a_photograph() + bytes(LARGEST_BYTES)
    with pytest.raises(NotAPhotograph, match="larger than 12 MB"):
        store.keep(padded)


def test_a_small_file_that_unfolds_to_too_many_pixels_is_refused(store: PhotographStore) -> None:
    out = io.BytesIO()
    Image.new("1", (9000, 7000)).save(out, "PNG")
    assert len(out.getvalue()) < 20_000
    with pytest.raises(NotAPhotograph, match="too many pixels"):
        store.keep(out.getvalue())


def test_the_same_picture_is_kept_once(store: PhotographStore, tmp_path: Path) -> None:
    first, second = store.keep(a_photograph()), store.keep(a_photograph())
    assert first == second
    assert len(list((tmp_path / "photographs").rglob("*.jpg"))) == 1
    assert len(store.read(first.digest)) == first.bytes


@pytest.mark.parametrize(
    "digest", ["0" * 64, "", "../../etc/passwd", "A" * 64, "0" * 63 + "/", "0" * 64 + "\n"]
)
def test_nothing_is_read_under_any_other_name(store: PhotographStore, digest: str) -> None:
    with pytest.raises(FileNotFoundError):
        store.read(digest)


def test_a_name_that_only_begins_with_a_digest_opens_nothing(
    store: PhotographStore, tmp_path: Path
) -> None:
    digest = store.keep(a_photograph()).digest
    beside = tmp_path / "photographs" / digest[:2] / f"{digest}x.jpg"
    beside.write_bytes(b"not ours")
    with pytest.raises(FileNotFoundError):
        store.read(f"{digest}x")


def test_a_write_that_breaks_off_leaves_no_half_photograph(
    store: PhotographStore, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The picture is there whole or not at all, and sent again it is kept."""

    def full_disk(*_arguments: object, **_more: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr("fsspec.implementations.local.LocalFileOpener.write", full_disk)
        with pytest.raises(OSError, match="No space left"):
            store.keep(a_photograph())
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []
    kept = store.keep(a_photograph())
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == [f"{kept.digest}.jpg"]
