"""A silent film of one grey picture, made here bit by bit: while it plays, a phone keeps its screen on.

An MP4 file (ISO/IEC 14496-12) with one H.264 track (ITU-T H.264, baseline): every macroblock is predicted from
nothing and carries no remainder, which makes it grey and one byte long. Written from memory of both standards and
checked by playing it in a browser.
"""

from __future__ import annotations

from functools import cache
from struct import pack

_BLOCKS = 8
"""Macroblocks of 16 × 16 in each direction: hardware decoders refuse very small pictures."""
_FRAMES, _SCALE = 10, 1000
_GREY_BLOCK = "00100111"
"""Intra 16 × 16 from the mean of neighbours that are not there: mode 3, chroma mode 0, step kept, no levels."""


@cache
def still_film() -> bytes:
    """The film: ten seconds, to be looped."""
    samples = [_sample(number) for number in range(_FRAMES)]
    head = _box("ftyp", b"isom", pack(">I", 512), b"isomiso2avc1mp41")
    size = len(head) + len(_movie(samples, 0))
    return head + _movie(samples, size + 8) + _box("mdat", *samples)


def _ue(value: int) -> str:
    """An unsigned number in Exp-Golomb code."""
    plain = f"{value + 1:b}"
    return "0" * (len(plain) - 1) + plain


def _nal(kind: int, bits: str) -> bytes:
    """A unit of the stream: its head, its bits with the closing one, and no start code inside it."""
    bits += "1"
    bits += "0" * (-len(bits) % 8)
    raw = int(bits, 2).to_bytes(len(bits) // 8, "big")
    made, zeros = bytearray([0x60 | kind]), 0
    for byte in raw:
        if zeros >= 2 and byte <= 3:
            made.append(3)
            zeros = 0
        made.append(byte)
        zeros = zeros + 1 if byte == 0 else 0
    return bytes(made)


@cache
def _sequence() -> bytes:
    """The sequence's parameters: baseline, level 1.0, frame numbers of 4 bits, order as decoded, one reference."""
    side = _ue(_BLOCKS - 1)
    return _nal(
        7, f"{66:08b}{0xC0:08b}{10:08b}" + _ue(0) + _ue(0) + _ue(2) + _ue(1) + "0" + side + side + "11" + "0" + "0"
    )


@cache
def _picture() -> bytes:
    """The picture's parameters: variable length codes, one slice group, no weights, step 26, default filter."""
    return _nal(
        8, _ue(0) + _ue(0) + "0" + "0" + _ue(0) + _ue(0) + _ue(0) + "0" + "00" + _ue(0) + _ue(0) + _ue(0) + "000"
    )


def _sample(number: int) -> bytes:
    """One picture that needs no other, behind its length."""
    head = _ue(0) + _ue(7) + _ue(0) + "0000" + _ue(number % 2) + "0" + "0" + _ue(0)
    unit = _nal(5, head + _GREY_BLOCK * (_BLOCKS * _BLOCKS))
    return pack(">I", len(unit)) + unit


def _box(kind: str, *parts: bytes) -> bytes:
    body = b"".join(parts)
    return pack(">I", len(body) + 8) + kind.encode() + body


def _full(kind: str, *parts: bytes, flags: int = 0) -> bytes:
    return _box(kind, pack(">I", flags), *parts)


def _movie(samples: list[bytes], begin: int) -> bytes:
    """The table of contents, for samples that begin at byte `begin` of the file."""
    lasts, side = _FRAMES * _SCALE, _BLOCKS * 16
    matrix = pack(">9I", 0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x40000000)
    sequence, picture = _sequence(), _picture()
    coding = _box(
        "avcC", bytes([1]), sequence[1:4], bytes([0xFF, 0xE1]), pack(">H", len(sequence)), sequence,
        bytes([1]), pack(">H", len(picture)), picture,
    )  # fmt: skip
    looks = _box(
        "avc1", bytes(6), pack(">H", 1), bytes(16), pack(">HH", side, side), pack(">II", 0x480000, 0x480000),
        bytes(4), pack(">H", 1), bytes(32), pack(">Hh", 24, -1), coding,
    )  # fmt: skip
    table = _box(
        "stbl",
        _full("stsd", pack(">I", 1), looks),
        _full("stts", pack(">III", 1, len(samples), _SCALE)),
        _full("stsc", pack(">IIII", 1, 1, len(samples), 1)),
        _full("stsz", pack(">II", 0, len(samples)), *(pack(">I", len(one)) for one in samples)),
        _full("stco", pack(">II", 1, begin)),
    )
    media = _box(
        "mdia",
        _full("mdhd", pack(">IIIIHH", 0, 0, _SCALE, lasts, 0x55C4, 0)),
        _full("hdlr", bytes(4), b"vide", bytes(12), b"still\0"),
        _box("minf", _full("vmhd", bytes(8), flags=1),
             _box("dinf", _full("dref", pack(">I", 1), _full("url ", flags=1))), table),
    )  # fmt: skip
    track = _box(
        "trak",
        _full(
            "tkhd", pack(">IIIII", 0, 0, 1, 0, lasts), bytes(16), matrix, pack(">II", side << 16, side << 16), flags=3
        ),
        media,
    )
    length = pack(">IIIIIH", 0, 0, _SCALE, lasts, 0x10000, 0x0100)
    return _box("moov", _full("mvhd", length, bytes(10), matrix, bytes(24), pack(">I", 2)), track)
