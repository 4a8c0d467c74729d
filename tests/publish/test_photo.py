"""Pictures lose their metadata and nothing else. Segments after the JPEG, PNG and WebP specifications (memory)."""

from __future__ import annotations

import struct
import zlib

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


def chunk(kind: bytes, data: bytes) -> bytes:
    return kind + struct.pack("<I", len(data)) + data + b"\0" * (len(data) % 2)


def webp(*chunks: bytes) -> bytes:
    body = b"WEBP" + b"".join(chunks)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def test_a_webp_keeps_its_image() -> None:
    size = struct.pack("<I", 10)[1:] * 2
    head, image = b"\x2c\0\0\0" + size, chunk(b"VP8 ", b"data")
    full = webp(chunk(b"VP8X", head), chunk(b"ICCP", SECRET), image, chunk(b"EXIF", SECRET), chunk(b"XMP ", SECRET))
    data, kind = bare(full + SECRET, "a.webp")
    assert kind == "image/webp"
    assert data == webp(chunk(b"VP8X", b"\0" * 4 + size), image)
    assert bare(data, "a.webp")[0] == data


def test_a_webp_that_moves_keeps_its_frames() -> None:
    image, head = chunk(b"VP8L", b"odd"), b"\x02\0\0\0" + b"\0" * 6
    frame = chunk(b"ANMF", b"\x01" * 16 + image)
    told = chunk(b"ANMF", b"\x01" * 16 + image + chunk(b"NOTE", SECRET))
    full = webp(chunk(b"VP8X", head + SECRET), chunk(b"ANIM", b"\2" * 6 + SECRET), told)
    assert bare(full, "a.webp")[0] == webp(chunk(b"VP8X", head), chunk(b"ANIM", b"\2" * 6), frame)


def turned(orientation: int) -> bytes:
    """Exif as a camera writes it: how the picture is turned, and a name after it."""
    return b"II*\0" + struct.pack("<IHHHIHHI", 8, 1, 0x0112, 3, 1, orientation, 0, 0) + SECRET


def test_a_png_keeps_how_it_is_turned_and_nothing_else_of_its_exif() -> None:
    exif = turned(6)
    told = struct.pack(">I", len(exif)) + b"eXIf" + exif + struct.pack(">I", zlib.crc32(b"eXIf" + exif))
    plain = bare(png(), "a.png")[0]
    data, _ = bare(png()[:33] + told + png()[33:], "a.png")
    assert b"plum-cellar" not in data
    kept = data[data.index(b"eXIf") - 4:][:12 + 26]
    assert struct.unpack(">I", kept[:4])[0] == 26
    assert kept[8:26] == b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01"
    assert kept[26:28] == b"\0\x06"
    assert struct.unpack(">I", kept[-4:])[0] == zlib.crc32(kept[4:-4])
    assert data.replace(kept, b"") == plain
    assert bare(data, "a.png")[0] == data


@pytest.mark.parametrize("head", [b"", b"Exif\0\0"])
def test_a_webp_keeps_how_it_is_turned_and_says_so_in_its_head(head: bytes) -> None:
    size = struct.pack("<I", 10)[1:] * 2
    image = chunk(b"VP8 ", b"data")
    full = webp(chunk(b"VP8X", b"\x08\0\0\0" + size), image, chunk(b"EXIF", head + turned(8)))
    data, _ = bare(full, "a.webp")
    assert b"plum-cellar" not in data
    assert chunk(b"VP8X", b"\x08\0\0\0" + size) in data
    assert b"EXIF\x1a\0\0\0MM\0*" in data
    assert bare(data, "a.webp")[0] == data
    upright, _ = bare(webp(chunk(b"VP8X", b"\x08\0\0\0" + size), image, chunk(b"EXIF", turned(1))), "a.webp")
    assert upright == webp(chunk(b"VP8X", b"\0" * 4 + size), image)


def test_words_in_segments_that_no_camera_writes_are_left_out_too() -> None:
    """A reserved segment (0xF7), one between the scans, a long Adobe one, and fill bytes before markers."""
    adobe, scan = segment(0xEE, b"Adobe\0d\0\0\0\0\1"), segment(0xDA, b"\x01\x01\0\0\x3f\0") + b"\x12\xff\x00"
    fill, table = b"\xff\xff", segment(0xC4, b"\1" * 9)
    full = [b"\xff\xd8", segment(0xEE, adobe[4:] + SECRET), segment(0xF7, SECRET), fill, segment(0xDB, b"\0" * 65)]
    full += [scan, segment(0xF7, SECRET), segment(0xFE, SECRET), fill, table, scan, fill, b"\xff\xd9", SECRET]
    data, _ = bare(b"".join(full), "a.jpg")
    assert data == b"".join([b"\xff\xd8", adobe, segment(0xDB, b"\0" * 65), scan, table, scan, fill, b"\xff\xd9"])
    broken = b"\xff\xd8" + segment(0xE1, b"Exif\0\0II*\0\xff\xff\0\0" + SECRET) + scan + b"\xff\xd9"
    assert bare(broken, "a.jpg")[0] == b"\xff\xd8" + scan + b"\xff\xd9"


def test_a_png_whose_end_goes_on_is_refused() -> None:
    full = png().replace(b"\0\0\0\0IEND", struct.pack(">I", len(SECRET)) + b"IEND" + SECRET)
    with pytest.raises(RequestError, match="cut short or damaged"):
        bare(full, "a.png")


@pytest.mark.parametrize(
    "data", [b"", b"GIF89a", b"\xff\xd8\xff", jpeg()[:40], png()[:-20], b"RIFF\0\0\0\x10WEBPVP8X", b"<svg/>"]
)
def test_what_is_damaged_or_of_another_kind_is_refused_in_words(data: bytes) -> None:
    with pytest.raises(RequestError, match=r"cut short|no JPEG"):
        bare(data, "a.jpg")
