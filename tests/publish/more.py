"""More of the small kitchen: a private rub, links that must be told of, a film, questions, pictures."""

from __future__ import annotations

import struct
import zlib

from tests.publish.kitchens import COOK, FILES, SHARED

SECRETS = ("moonwort", "gentian root", "quassia")
"""What nobody may read of a private formula."""

PRIVATE = """\
kind: rub
title: The hall's own rub
revision: 1
formula: private          # plum-cellar
made_for:
  cut: pork loin, boneless
  weight: 2.2 kg
ingredients:
  - item: moonwort
    amount: 20 g
  - item: gentian root
    amount: 3 tbsp
    or: quassia
  - item: mustard seed, ground
    amount: 10 g
  - item: fine salt
    amount: 1.2 % of meat
steps:
  - Grind the moonwort first.
links:
  - {what: a jar of it, address: "https://example.org/jar", kind: rub, commission: "yes"}
notes: told nobody about plum-cellar
"""

RUBBED = """\
kind: cook
title: Loin with the hall's own rub
cut: pork loin, boneless
serves: 8
coats:
  - recipe: own-rub
pit:
  temperature: 130 °C
  cooker: drum
pull_at: 64 °C
rest:
  time: 20 min
  cover: tented
steps:
  - Over the coals.
links:
  - {what: the knife, address: "https://example.org/knife", given: "yes"}
  - {what: the pan, address: "https://example.org/pan"}
photos:
  - pictures/the-loin.png
"""

RELEASES = """\
- recipe: rubbed
  occasion: a film
  out: "2026-05-01"
  address: https://example.org/film
  picture: https://example.org/film.jpg
  length: 3:00
  chapters:
    - {at: 0:00, name: The rub}
    - {at: 0:40, name: "<The> pull --> now"}
    - {at: 2:10, name: Carving}
- {recipe: loin, planned: "2026-12-05"}
"""

QUESTIONS = """\
- {recipe: rubbed, asked: Does it work with a shoulder?, times: 3, answer: "Yes, at 95 °C", on_card: "yes"}
- {recipe: rubbed, asked: And in a pan?, times: 9, answer: Hardly}
- {recipe: rubbed, asked: What is in the rub?, times: 30}
"""


def png(words: bytes = b"") -> bytes:
    """A picture of one grey dot, with words in its metadata."""
    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
            + chunk(b"tEXt", b"Comment\0" + words) + chunk(b"IDAT", zlib.compress(b"\0\x80")) + chunk(b"IEND", b""))


MORE = {
    **FILES, "recipes/own-rub.yaml": PRIVATE, "recipes/rubbed.yaml": RUBBED, "shared/releases.yaml": RELEASES,
    "shared/questions.yaml": QUESTIONS,
}
LOIN, SETTINGS = COOK, SHARED
