"""Pictures lose their metadata and nothing else. Segments after the JPEG, PNG and WebP specifications (memory)."""

from __future__ import annotations

import struct

import pytest

from cookbook.errors import RequestError
from cookbook.publish.photo import bare
from tests.publish.more import png

SECRET = b"plum-cellar 59.33N 18.06E"


def segment(marker: int, data: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(data) + 2) + data


def jpeg(orientation: int = 6) -> bytes:
    """A JPEG's bones: markers as a camera writes them, words in Exif, XMP, a comment and behind the image."""
    tiff = b"II*\0" + struct.pack("<IHHHIHHI", 8, 1, 0x0112, 3, 1, orientation, 0, 0) + SECRET
    return (
        b"\xff\xd8"
        + segment(0xE0, b"JFIF\0\x01\x02\0\0\x01\0\x01\0\0")
        + segment(0xE1, b"Exif\0\0" + tiff)
        + segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0" + SECRET)
        + segment(0xED, SECRET)
        + segment(0xFE, SECRET)
        + segment(0xDB, b"\0" * 65)
        + segment(0xC0, b"\x08\0\x01\0\x01\x01\x01\x11\0")
        + segment(0xDA, b"\x01\x01\0\0\x3f\0")
        + b"\x12\xff\x00\x34\xff\xd0\x56\xff\xd9"
        + SECRET
    )


def test_a_jpeg_keeps_its_image_and_how_it_is_turned() -> None:
    data, kind = bare(jpeg(), "a.jpg")
    assert kind == "image/jpeg"
    assert b"plum-cellar" not in data
    assert data.endswith(b"\x12\xff\x00\x34\xff\xd0\x56\xff\xd9")
    assert segment(0xDB, b"\0" * 65) in data
    assert b"Exif\0\0MM\0*" in data
    assert bare(data, "a.jpg")[0] == data
    assert b"Exif" not in bare(jpeg(1), "a.jpg")[0]


def test_a_png_keeps_its_image() -> None:
    data, kind = bare(png(SECRET), "a.png")
    assert kind == "image/png"
    assert b"plum-cellar" not in data
    assert data == png().replace(png()[33 : 33 + 12 + 8], b"")


def test_a_webp_keeps_its_image() -> None:
    chunks = (
        b"VP8X"
        + struct.pack("<I", 10)
        + b"\x0c"
        + b"\0" * 9
        + b"VP8 "
        + struct.pack("<I", 4)
        + b"data"
        + b"EXIF"
        + struct.pack("<I", len(SECRET))
        + SECRET
        + b"\0" * (len(SECRET) % 2)
    )
    data, kind = bare(b"RIFF" + struct.pack("<I", len(chunks) + 4) + b"WEBP" + chunks, "a.webp")
    assert kind == "image/webp"
    assert b"plum-cellar" not in data
    assert b"VP8 " in data
    assert data[20] == 0


@pytest.mark.parametrize(
    "data", [b"", b"GIF89a", b"\xff\xd8\xff", jpeg()[:40], png()[:-20], b"RIFF\0\0\0\x10WEBPVP8X", b"<svg/>"]
)
def test_what_is_damaged_or_of_another_kind_is_refused_in_words(data: bytes) -> None:
    with pytest.raises(RequestError, match=r"cut short|no JPEG"):
        bare(data, "a.jpg")
