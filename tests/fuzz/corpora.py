"""The committed corpora by reader: each input hand-made and named for what it is."""

from __future__ import annotations

import struct

from tests.conftest import COOK, PASTE
from tests.fuzz.texts import TEXTS

ENTRY = """\
date: "2026-11-21"
title: A loin
pieces:
  big: {cut: "pork loin, boneless", weight: 3.1 kg, start: 6 °C}
  small: {cut: "rib roast, bone in", ribs: "2"}
sheet: {paste: {garlic: 81 g, olive oil: 108 ml}}
as_made:
  paste:
    - {bowl: {empty: 312 g}}
    - {item: garlic, more: 8 g}
    - {item: olive oil, less: 10 ml}
    - {item: sage, instead: thyme, reads: 400 g}
    - {bowl: {full: 512 g, after: 396 g}}
events:
  - {at: "2026-11-21T11:00:00+01:00", did: on}
  - {at: "2026-11-21T12:00:00+01:00", core: 40 °C, pit: 265 °F, piece: big}
  - {at: "2026-11-21T13:00:00+01:00", did: pull}
outcome: {scores: {crust: {Ada: 8, Ben: 7}, juiciness: 7.5}, peak: 64 °C}
next_time: [light it earlier]
"""


def _with(text: str, **changes: str) -> bytes:
    """The text with the first line of each field replaced."""
    lines = text.splitlines()
    for field, value in changes.items():
        place = next(number for number, line in enumerate(lines) if line.lstrip(" -").startswith(f"{field}:"))
        lines[place] = f"{lines[place].partition(':')[0]}: {value}"
    return "\n".join([*lines, ""]).encode()


RECIPES: dict[str, bytes] = {
    **TEXTS,
    "plain-paste": PASTE.encode(),
    "plain-cook": COOK.encode(),
    "no-weight-at-all": _with(PASTE, weight="0 g"),
    "weight-of-a-star": _with(PASTE, weight="2e30 kg"),
    "weight-in-cups": _with(PASTE, weight="3 cups"),
    "weight-as-range": _with(PASTE, weight="2-3 kg"),
    "amount-of-nothing": _with(PASTE, amount="0 g"),
    "amount-below-nothing": _with(PASTE, amount="-80 g"),
    "amount-by-nought": _with(PASTE, amount="1/0 cup"),
    "amount-backwards": _with(PASTE, amount="9-3 cups"),
    "amount-endless": _with(PASTE, amount="9" * 400 + " g"),
    "more-meat-than-meat": _with(PASTE, amount="4000 % of meat"),
    "share-of-meat-by-surface": _with(PASTE, amount="{a: 1 % of meat}"),
    "revision-below-one": _with(PASTE, revision="-3"),
    "revision-half": _with(PASTE, revision="2.5"),
    "pulled-below-nought": _with(COOK, pull_at="-300 °C"),
    "pulled-in-the-sun": _with(COOK, pull_at="5000 °C"),
    "pulled-without-scale": _with(COOK, pull_at="60"),
    "rest-for-ever": _with(COOK, time="99999999999 h"),
    "serves-nobody": _with(COOK, serves="0"),
    "cut-of-no-animal": _with(COOK, cut="unicorn, bone in"),
    "cut-that-is-empty": _with(COOK, cut='""'),
    "coat-without-recipe": _with(COOK, recipe=""),
    "coat-of-itself": _with(COOK, recipe="fuzzed"),
    "keys-in-capitals": PASTE.upper().encode(),
}

ENTRIES: dict[str, bytes] = {
    **TEXTS,
    "plain": ENTRY.encode(),
    "day-that-is-none": _with(ENTRY, date='"2026-02-30"'),
    "day-before-all-days": _with(ENTRY, date='"0000-00-00"'),
    "day-in-other-digits": _with(ENTRY, date='"٢٠٢٦-١١-٢١"'),
    "clock-of-a-zone-nobody-has": ENTRY.replace("+01:00", "+99:99").encode(),
    "clock-at-the-end-of-time": ENTRY.replace("2026-11-21T13", "9999-12-31T23").replace("+01:00", "-14:00").encode(),
    "clock-at-its-beginning": ENTRY.replace("2026-11-21T11", "0001-01-01T00").replace("+01:00", "+14:00").encode(),
    "leap-second": ENTRY.replace("13:00:00", "23:59:60").encode(),
    "clock-backwards": ENTRY.replace("T13:", "T03:").encode(),
    "core-below-nought": ENTRY.replace("40 °C", "-400 °C").encode(),
    "core-of-no-number": ENTRY.replace("40 °C", "nan °C").encode(),
    "core-endless": ENTRY.replace("40 °C", "1e999 °C").encode(),
    "score-of-eleven": ENTRY.replace("7.5", "11").encode(),
    "score-that-is-no-number": ENTRY.replace("7.5", "inf").encode(),
    "bowl-lighter-than-itself": ENTRY.replace("512 g", "12 g").encode(),
    "bowl-in-spoons": ENTRY.replace("512 g", "3 tbsp").encode(),
    "bowl-twice": ENTRY.replace("after: 396 g}}", "after: 396 g}}\n    - {bowl: {full: 1 g, after: 9 g}}").encode(),
    "less-than-there-was": ENTRY.replace("less: 10 ml", "less: 10 l").encode(),
    "instead-of-itself": ENTRY.replace("instead: thyme", "instead: sage").encode(),
    "piece-that-nobody-named": ENTRY.replace("piece: big", "piece: huge").encode(),
    "piece-without-ribs": ENTRY.replace('ribs: "2"', 'ribs: "0"').encode(),
    "piece-of-a-thousand-ribs": ENTRY.replace('ribs: "2"', 'ribs: "1000"').encode(),
    "events-of-words": ENTRY.replace("  - {at:", "  - at:").encode(),
    "readings-elsewhere": ENTRY.replace("title:", "readings: ../../../etc/passwd\ntitle:").encode(),
    "taster-without-name": ENTRY.replace("Ada:", '"":').encode(),
}

_LINES = "".join(f"2026-11-21T{11 + n // 6}:{n % 6}0:00+01:00,{5 + 2 * n},{120 + n % 5}\n" for n in range(30))
LOGS: dict[str, bytes] = {
    "plain": f"at,core °C,pit °C\n{_LINES}".encode(),
    "semicolons-and-commas": "".join(f"1{n // 6}:{n % 6}0;{5 + 2 * n},5;121,0\n" for n in range(30)).encode(),
    "commas-for-both": "".join(f"1{n // 6}:{n % 6}0,{5 + 2 * n},5,121,0\n" for n in range(30)).encode(),
    "utf-16": b"\xff\xfe" + f"at,core °C,pit °C\n{_LINES}".encode("utf-16-le"),
    "half-of-utf-16": b"\xff\xfe" + f"at,core °C\n{_LINES}".encode("utf-16-le")[:-1],
    "bom": b"\xef\xbb\xbf" + f"at,core °C,pit °C\n{_LINES}".encode(),
    "nothing": b"",
    "only-a-heading": "at,core °C,pit °C\n".encode(),
    "heading-twice": f"at,core °C,core °C\n{_LINES}".encode(),
    "heading-twice-and-a-spike": f"at,core °C,core °C\n{_LINES}".replace("7,121", "7,1212").encode(),
    "two-at-columns": f"at,at,core °C\n{_LINES}".encode(),
    "scale-of-no-degree": f"at,core °K,pit °C\n{_LINES}".encode(),
    "quote-never-closed": f'at,core °C,pit °C\n"{_LINES}'.encode(),
    "quoted-new-lines": f'"a\nt","core\n°C",pit\n{_LINES}'.encode(),
    "cell-longer-than-any": f"at,core °C,pit °C\n{'9' * 140_000},1,2\n{_LINES}".encode(),
    "line-without-end": b"1," * 20_000,
    "more-columns-than-a-head": ("at," + ",".join(f"core p{n} °C" for n in range(400)) + "\n"
                                 + "2026-11-21T11:00:00Z" + ",7" * 400 + "\n").encode(),
    "no-numbers": b"a,b,c\n" * 50,
    "nul": _LINES.replace(",", ",\0").encode(),
    "old-mac-lines": _LINES.replace("\n", "\r").encode(),
    "backwards": "".join(reversed(_LINES.splitlines(keepends=True))).encode(),
    "one-moment": b"2026-11-21T11:00:00Z,5,120\n" * 40,
    "clock-round-midnight": "".join(f"{(22 + n // 6) % 24}:{n % 6}0,{5 + 2 * n},121\n" for n in range(30)).encode(),
    "clock-of-twenty-five": b"25:61,5,120\n" * 10,
    "day-thirty-two": b"2026-11-32 11:00,5,120\n" * 10,
    "year-nought": b"0000-01-01T00:00:00Z,5,120\n" * 10,
    "zone-nobody-has": b"2026-11-21T11:00:00+99:99,5,120\n" * 10,
    "minutes-of-ages": "".join(f"{n}{'0' * 30},{5 + n},120\n" for n in range(1, 9)).encode(),
    "seconds-since-1970": "".join(f"{1795835700 + 60 * n},{5 + n},120\n" for n in range(30)).encode(),
    "milliseconds-since-1970": "".join(f"{1795835700000 + 60 * n},{5 + n},120\n" for n in range(30)).encode(),
    "colder-than-anything": _LINES.replace(",120", ",-9999").encode(),
    "hotter-than-anything": _LINES.replace(",120", ",99999999999999999999").encode(),
    "device-words": "at,core °C,pit °C\n2026-11-21T11:00:00Z,---,n/a\n2026-11-21T11:01:00Z,ERR,open\n".encode(),
    "other-digits": _LINES.translate({48 + n: 0x660 + n for n in range(10)}).encode(),
    "marks-of-nothing": f"at,core °C,core mark\n{_LINES}".encode(),
    "name-that-is-a-formula": f"at,core =1+1|cmd °C,pit °C\n{_LINES}".encode(),
    "picture": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8,
}

AMOUNTS: dict[str, bytes] = {text: text.encode() for text in (
    "1 1/2 cup", "½ cup", "3-4 tbsp", "60 g", "2 cloves", "1.2 % of meat", "to taste", "1 (400 g) can", "2 x 14-oz",
    "225 F", "121 °C", "-40", "1/0", "0/0 cup", "1e999 g", "9" * 5000, "1" + "0" * 400 + " g", "1//2", "½½", "1 ½/2",
    "٣ cups", "Ⅳ cups", "１２ g", "1\u20442 cup", "3\u20134", "- - -", "( ( (", "a a a a", "half half", "²", "1²",
    "1,000,000", "1.000.000,5 g", "1,5,5", ".", ",", "%", "% of", "of meat", "1 % of % of meat", "min", "1 h 90 min",
    "-1 h", "1:60", "99:99:99", "in", "1' 6\"", "\"", "1\u00a0g", "\u200b1 g", "1\ng", "1\0g", "\ud7ff g", "🔥 cups",
    "İ cups", "ﬁ g", "about about 3", "plus plus", "1 plus", "minus 1 cup", "between 3 and", "3 to to 4", "4 to 3 g",
    "one and and a half", "a dozen dozen", "0 dozen", "couple of of", "# 1", "1 #", "juice of", "juice of -1 lemon",
)}


def _stl(triangles: list[tuple[float, ...]], count: int | None = None) -> bytes:
    head = b"\x01" + b"corpus".ljust(80, b"\0") + struct.pack("<I", len(triangles) if count is None else count)
    return head + b"".join(struct.pack("<12fH", 0, 0, 0, *corners, 0) for corners in triangles)


_POINTS = ((0, 0, 0), (200, 0, 0), (0, 150, 0), (0, 0, 100))
_FACES = ((0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2))
_TETRA = [tuple(float(x) for corner in face for x in _POINTS[corner]) for face in _FACES]
_PLY = """\
ply
format ascii 1.0
element vertex 4
property float x
property float y
property float z
element face 4
property list uchar int vertex_indices
end_header
"""
_PLY_POINTS = "".join(f"{x} {y} {z}\n" for x, y, z in _POINTS)
_PLY_FACES = "".join(f"3 {a} {b} {c}\n" for a, b, c in _FACES)
_OBJ = "".join(f"v {x} {y} {z}\n" for x, y, z in _POINTS)
MESHES: dict[str, bytes] = {
    "stl": _stl(_TETRA),
    "stl-that-says-a-billion": _stl(_TETRA, 1_000_000_000),
    "stl-that-says-none": _stl(_TETRA, 0),
    "stl-cut-off": _stl(_TETRA)[:-20],
    "stl-only-head": b"\x01" + b"x" * 80,
    "stl-of-one-point": _stl([(1.0,) * 9] * 8),
    "stl-flat": _stl([(0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 0.0)] * 8),
    "stl-not-a-number": _stl([(float("nan"),) * 9] * 4 + _TETRA),
    "stl-endless": _stl([(float("inf"),) * 9] * 4 + _TETRA),
    "stl-huge": _stl([tuple(1e30 * x for x in one) for one in _TETRA]),
    "stl-of-one-far-point": _stl([*_TETRA, (3e38,) * 9]),
    "stl-tiny": _stl([tuple(1e-30 * x for x in one) for one in _TETRA]),
    "stl-thousandfold": _stl(_TETRA * 300),
    "stl-open": _stl(_TETRA[:3] * 2),
    "stl-words": b"\x01solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0\nendloop\nendfacet\nendsolid\n",
    "ply": ("\0" + _PLY + _PLY_POINTS + _PLY_FACES).encode(),
    "ply-of-a-billion": ("\0" + _PLY.replace("vertex 4", "vertex 1000000000") + _PLY_POINTS + _PLY_FACES).encode(),
    "ply-below-nothing": ("\0" + _PLY.replace("vertex 4", "vertex -4") + _PLY_POINTS + _PLY_FACES).encode(),
    "ply-without-faces": ("\0" + _PLY.replace("face 4", "face 0") + _PLY_POINTS).encode(),
    "ply-corner-that-is-not-there": ("\0" + _PLY + _PLY_POINTS + _PLY_FACES.replace("3 ", "3 9")).encode(),
    "ply-corner-below-nought": ("\0" + _PLY + _PLY_POINTS + _PLY_FACES.replace("3 ", "3 -")).encode(),
    "ply-of-squares": ("\0" + _PLY + _PLY_POINTS + "4 0 1 2 3\n" * 4).encode(),
    "ply-of-unknown-type": ("\0" + _PLY.replace("float", "quux") + _PLY_POINTS + _PLY_FACES).encode(),
    "ply-without-end": ("\0" + _PLY.replace("end_header\n", "")).encode(),
    "ply-only-a-word": b"\0ply\n",
    "ply-binary-cut-off": b"\0" + _PLY.replace("ascii", "binary_little_endian").encode() + b"\1\2\3",
    "obj": ("\x02" + _OBJ + "".join(f"f {a + 1} {b + 1} {c + 1}\n" for a, b, c in _FACES)).encode(),
    "obj-corner-that-is-not-there": ("\x02" + _OBJ + "f 1 2 99\n" * 4).encode(),
    "obj-corner-nought": ("\x02" + _OBJ + "f 0 0 0\n" * 4).encode(),
    "obj-other-file": ("\x02mtllib ../../../etc/passwd\nusemtl x\n" + _OBJ + "f 1 2 3\n" * 4).encode(),
    "obj-flat-land": b"\x02v 0 0\nv 200 0\nv 200 9\nv 0 150\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 1 4 3\n",
    "obj-words": b"\x02v a b c\nf x y z\n",
    "obj-not-utf-8": b"\x02v \xff\xfe 0\nf 1 1 1\n",
    "glb-only-mark": b"\x03glTF\2\0\0\0",
    "glb-that-says-more": b"\x03glTF" + struct.pack("<IIII", 2, 1 << 30, 1 << 30, 0x4E4F534A) + b"{}",
    "glb-of-no-json": b"\x03glTF" + struct.pack("<IIII", 2, 24, 4, 0x4E4F534A) + b"{{{{",
    "glb-that-asks-for-files": b"\x03glTF" + struct.pack("<IIII", 2, 80, 60, 0x4E4F534A)
    + b'{"asset":{"version":"2.0"},"buffers":[{"uri":"/etc/passwd"}]}',
    "nothing": b"\1",
}

_SCHEMA = '{"@context": "https://schema.org", "@type": "Recipe", "name": "N", "recipeIngredient": ["1 cup salt"]'
FOREIGN: dict[str, bytes] = {
    "plain": (_SCHEMA + "}").encode(),
    "deep": b"[" * 100_000,
    "deep-closed": b"[" * 900 + b"]" * 900,
    "deep-steps": (_SCHEMA + ', "recipeInstructions": ' + '{"itemListElement": [' * 60 + "]}" * 60 + "}").encode(),
    "deep-graph": b'{"@graph": ' * 400 + b"1" + b"}" * 400,
    "endless-number": (_SCHEMA + ', "recipeYield": ' + "9" * 5000 + "}").encode(),
    "number-too-large": (_SCHEMA + ', "recipeYield": 1e999}').encode(),
    "not-a-number": (_SCHEMA + ', "recipeYield": NaN}').encode(),
    "list-of-everything": b'[null, 1, "a", [], {}, {"@type": []}, {"@type": ["Recipe"]}]',
    "type-of-no-text": b'{"@type": {"a": "Recipe"}, "name": 3}',
    "everything-null": b'{"@type": "Recipe", "name": null, "recipeIngredient": null, "recipeInstructions": [null]}',
    "ingredients-of-maps": b'{"@type": "Recipe", "name": {}, "recipeIngredient": [{}, [], 7, true]}',
    "html": (_SCHEMA + ', "recipeInstructions": "<p>&lt;script&gt;<b>x</b>&#99999999;&bogus;"}').encode(),
    "half-a-surrogate": (_SCHEMA + r', "description": "\ud800"}').encode(),
    "same-key-twice": b'{"@type": "Recipe", "name": "a", "name": ["b"]}',
    "bom": b"\xef\xbb\xbf" + (_SCHEMA + "}").encode(),
    "utf-16": (_SCHEMA + "}").encode("utf-16"),
    "nothing": b"",
    "no-json": b"kind: rub\n",
    "cut-off": _SCHEMA.encode(),
    "only-a-line-end": b"\n",
    "old-mac-lines": b"[\r\r\r",
}

CORPORA: dict[str, dict[str, bytes]] = {
    "recipe": RECIPES, "entry": ENTRIES, "log": LOGS, "amount": AMOUNTS, "mesh": MESHES, "foreign": FOREIGN,
}
