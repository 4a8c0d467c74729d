"""Pictures as they are published: the picture itself and how it is turned, nothing of where, when or by whom."""

from __future__ import annotations

import base64
import struct
import zlib
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from cookbook.errors import RequestError
from cookbook.files import plain_bytes

MOST_BYTES = 12_000_000
_PNG = b"\x89PNG\r\n\x1a\n"
_PNG_KEPT = {
    b"IHDR": 13,
    b"PLTE": 768,
    b"IDAT": MOST_BYTES,
    b"IEND": 0,
    b"tRNS": 256,
    b"gAMA": 4,
    b"sRGB": 1,
    b"cHRM": 32,
    b"sBIT": 4,
    b"pHYs": 9,
}
"""What is kept, and how much a chunk of it may hold: more is no picture."""
_WEBP_KEPT = (b"VP8 ", b"VP8L", b"ALPH")
_WEBP_HEADS = {b"VP8X": 10, b"ANIM": 6, b"ANMF": 16}
"""Chunks with a head of so many bytes; only that of a frame is followed by more, chunks again."""
_EXIF_FLAG, _NO_PROFILE_EXIF_OR_XMP = 0x08, 0xFF & ~0x2C
_JPEG_KEPT = (*(one for one in range(0xC0, 0xD0) if one != 0xC8), 0xDA, 0xDB, 0xDC, 0xDD)
"""Frames, tables of codes and of steps, the scan, its lines and its restarts; no application's words, no comment."""


def bare(data: bytes, name: str) -> tuple[bytes, str]:
    """The picture without metadata, and its media type. Raises RequestError for what is none of JPEG, PNG, WebP."""
    if len(data) > MOST_BYTES:
        raise RequestError(
            f"{name} is bigger than {MOST_BYTES // 1_000_000} MB",
            mend="save it smaller for publishing",
        )
    try:
        if data.startswith(b"\xff\xd8"):
            return b"".join(_jpeg(data)), "image/jpeg"
        if data.startswith(_PNG):
            return _PNG + b"".join(_png(data)), "image/png"
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            body = b"WEBP" + b"".join(_flagged(list(_webp(data))))
            return b"RIFF" + struct.pack("<I", len(body)) + body, "image/webp"
    except (struct.error, IndexError):
        raise RequestError(f"{name} is cut short or damaged", mend="save it again as JPEG, PNG or WebP") from None
    raise RequestError(
        f"{name} is no JPEG, PNG or WebP",
        mend="save it as one of them: only their metadata is known well enough to be left out",
    )


def read(path: Path, shown: str) -> tuple[bytes, str]:
    """A picture's file, bare. Raises RequestError where it isn't there or can't be published."""
    try:
        data = plain_bytes(path, MOST_BYTES)
    except OSError as fault:
        raise RequestError(
            f"the picture {shown} can't be read: {fault.strerror}",
            mend="mend `photos:`, or take it out",
            code="no-picture",
        ) from None
    return bare(data, shown)


def address(path: Path, shown: str) -> str:
    """A picture as an address that holds it."""
    data, kind = read(path, shown)
    return f"data:{kind};base64,{base64.b64encode(data).decode()}"


def _jpeg(data: bytes) -> Iterator[bytes]:
    """Every segment but the application's and comments; of those, that it is JFIF, and how it is turned."""
    yield b"\xff\xd8"
    place = 2
    while True:
        while data[place] == 0xFF and data[place + 1] == 0xFF:
            place += 1
        marker = data[place + 1]
        if data[place] != 0xFF:
            raise IndexError
        if marker == 0xD9:
            yield b"\xff\xd9"
            return
        size = struct.unpack(">H", data[place + 2 : place + 4])[0]
        segment = data[place : place + 2 + size]
        if len(segment) < 2 + size:
            raise IndexError
        if marker == 0xDA:
            yield from _scans(data, place)
            return
        if marker == 0xE1 and segment[4:10] == b"Exif\0\0":
            if exif := _orientation(segment[10:]):
                yield b"\xff\xe1" + struct.pack(">H", len(exif) + 8) + b"Exif\0\0" + exif
        elif marker == 0xE0 and segment[4:8] == b"JFIF" and size >= 16:
            yield segment[:2] + b"\x00\x10" + segment[4:16] + b"\x00\x00"
        elif marker == 0xEE and segment[4:9] == b"Adobe" and size >= 14:
            yield b"\xff\xee\x00\x0e" + segment[4:16]
        elif marker in _JPEG_KEPT:
            yield segment
        place += 2 + size


def _scans(data: bytes, place: int) -> Iterator[bytes]:
    """From the first scan to the end of the image; what a camera hangs behind it is left out."""
    while True:
        while data[place + 1] == 0xFF:
            place += 1
        size = struct.unpack(">H", data[place + 2 : place + 4])[0]
        marker, keep = data[place + 1], place
        place += 2 + size
        if marker == 0xDA:
            while not (data[place] == 0xFF and data[place + 1] not in (0, 0xFF, *range(0xD0, 0xD8))):
                place += 1
        if marker in _JPEG_KEPT:
            yield data[keep:place]
        if data[place] != 0xFF:
            raise IndexError
        if data[place + 1] == 0xD9:
            yield b"\xff\xd9"
            return


def _turned(tiff: bytes) -> int:
    """The orientation in an Exif block; 0 where there is none."""
    with suppress(struct.error):
        return _tagged(tiff)
    return 0


def _tagged(tiff: bytes) -> int:
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return 0
    at = struct.unpack(order + "I", tiff[4:8])[0]
    count = struct.unpack(order + "H", tiff[at : at + 2])[0]
    for number in range(count):
        tag, kind, _many, value = struct.unpack(order + "HHIH", tiff[at + 2 + 12 * number : at + 12 + 12 * number])
        if tag == 0x0112 and kind == 3 and 1 <= value <= 8:
            return int(value)
    return 0


def _orientation(tiff: bytes) -> bytes:
    """An Exif block that tells how the picture of `tiff` is turned, and no more; empty where it stands upright."""
    turned = _turned(tiff)
    return b"MM\0*" + struct.pack(">IHHHIHHI", 8, 1, 0x0112, 3, 1, turned, 0, 0) if turned > 1 else b""


def _png(data: bytes) -> Iterator[bytes]:
    place = len(_PNG)
    while place < len(data):
        size, kind = struct.unpack(">I4s", data[place : place + 8])
        chunk = data[place : place + 12 + size]
        if len(chunk) < 12 + size or size > _PNG_KEPT.get(kind, size):
            raise IndexError
        if kind in _PNG_KEPT:
            yield chunk
        elif kind == b"eXIf" and (exif := _orientation(chunk[8:-4])):
            yield struct.pack(">I", len(exif)) + kind + exif + struct.pack(">I", zlib.crc32(kind + exif))
        if kind == b"IEND":
            return
        place += 12 + size
    raise IndexError


def _webp(data: bytes, place: int = 12) -> Iterator[bytes]:
    end = min(len(data), 8 + struct.unpack("<I", data[4:8])[0]) if place == 12 else len(data)
    while place < end:
        kind, size = struct.unpack("<4sI", data[place : place + 8])
        body = data[place + 8 : place + 8 + size]
        place += 8 + size + size % 2
        if len(body) < max(size, _WEBP_HEADS.get(kind, 0)):
            raise IndexError
        if kind in _WEBP_HEADS:
            more = b"".join(_webp(body, _WEBP_HEADS[kind])) if kind == b"ANMF" else b""
            body = body[: _WEBP_HEADS[kind]] + more
            if kind == b"VP8X":
                body = bytes([body[0] & _NO_PROFILE_EXIF_OR_XMP]) + body[1:]
        elif kind == b"EXIF" and (exif := _orientation(body.removeprefix(b"Exif\0\0"))):
            body = exif
        elif kind not in _WEBP_KEPT:
            continue
        yield kind + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2)


def _flagged(chunks: list[bytes]) -> list[bytes]:
    """The chunks with a head that says whether they tell how the picture is turned."""
    turned = any(chunk.startswith(b"EXIF") for chunk in chunks)
    return [chunk[:8] + bytes([chunk[8] | _EXIF_FLAG]) + chunk[9:] if turned and chunk.startswith(b"VP8X") else chunk
            for chunk in chunks]
