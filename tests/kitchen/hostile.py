"""A kitchen that someone filled with everything that a reader of files has ever fallen over, each named for what it is."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from tests.conftest import COOK, PASTE

ENTRY = """\
date: "2026-11-21"
title: A loin
piece: {cut: "pork loin, boneless", weight: 2 kg}
events:
  - {at: "2026-11-21T11:00:00+01:00", did: on}
  - {at: "2026-11-21T12:00:00+01:00", core: 40 °C}
outcome: {scores: {juiciness: 7}}
"""
LAUGHS = "a: &a [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{two}: &{two} [{', '.join([f'*{one}'] * 10)}]\n" for one, two in zip("abcdefghi", "bcdefghij", strict=True)
)
"""Nine rows of ten names each: a billion, were they followed."""

TEXTS: dict[str, bytes] = {
    "laughs": LAUGHS.encode(),
    "anchor-in-itself": b"kind: rub\ntitle: Ring\ningredients: &a\n  - *a\n",
    "merge-key": b"base: &b {kind: rub}\n<<: *b\ntitle: Merged\n",
    "deep-flow": b"kind: " + b"[" * 20_000,
    "deep-closed": b"kind: rub\nsteps: " + b"[" * 3_000 + b"]" * 3_000 + b"\n",
    "deep-map": b"kind: rub\nsteps: " + b"{a: " * 3_000 + b"}" * 3_000 + b"\n",
    "deep-block": b"".join(b" " * depth + b"a:\n" for depth in range(400)),
    "dashes": b"- " * 20_000,
    "question-marks": b"? " * 20_000,
    "windows-lines": PASTE.replace("\n", "\r\n").encode(),
    "old-mac-lines": PASTE.replace("\n", "\r").encode(),
    "mixed-lines": PASTE.replace("\n", "\r\n", 4).replace("\n", "\r", 1).encode(),
    "bom": b"\xef\xbb\xbf" + PASTE.encode(),
    "bom-twice": b"\xef\xbb\xbf" * 2 + PASTE.encode(),
    "utf-16-le": b"\xff\xfe" + PASTE.encode("utf-16-le"),
    "utf-16-be": b"\xfe\xff" + PASTE.encode("utf-16-be"),
    "utf-32": PASTE.encode("utf-32"),
    "windows-1252": PASTE.replace("Walnut", "Pâté").encode("cp1252"),
    "half-a-letter": PASTE.encode() + "é".encode()[:1],
    "surrogate": b"kind: rub\ntitle: \xed\xa0\x80\n",
    "overlong": b"kind: rub\ntitle: \xc0\xaf\n",
    "nul": PASTE.encode().replace(b"80 g", b"80\0g"),
    "only-nul": b"\0" * 4096,
    "bells": b"kind: rub\ntitle: \x07\x1b[31m red \x1b]0;owned\x07\n",
    "right-to-left": "kind: rub\ntitle: a\u202eb\u2066c\nsteps: [\u200f]\n".encode(),
    "line-separators": "kind: rub\u2028title: x\u2029steps: []\u0085".encode(),
    "empty": b"",
    "only-comments": b"# nothing\n# here\n",
    "only-a-word": b"rub",
    "a-list": b"- kind: rub\n- title: x\n",
    "two-documents": b"kind: rub\n---\nkind: paste\n",
    "directive": b"%YAML 9.9\n---\nkind: rub\n",
    "tags": b"!!python/object/apply:os.system ['true']\n",
    "binary-tag": b"kind: !!binary aGVsbG8=\ntitle: !!timestamp 2001-01-01\n",
    "tabs": PASTE.replace("  ", "\t").encode(),
    "same-key-twice": b"kind: rub\nkind: paste\ntitle: a\ntitle: b\n",
    "key-is-a-list": b"[a, b]: 1\n{c: d}: 2\nkind: rub\n",
    "open-quote": b'kind: rub\ntitle: "never closed\nsteps: []\n',
    "huge-number": b"kind: rub\ntitle: x\nserves: " + b"9" * 5_000 + b"\nrevision: -1e999\n",
    "not-a-number": b"kind: cook\ntitle: x\nserves: .nan\nrevision: .inf\n",
    "one-long-line": b"kind: rub\ntitle: " + b"x" * 900_000 + b"\n",
    "many-lines": b"kind: rub\ntitle: x\nsteps:\n" + b"  - a\n" * 100_000,
    "many-keys": b"".join(b"k%d: 1\n" % number for number in range(20_000)),
    "wrong-kinds": b"kind: [rub]\ntitle: {a: b}\ningredients: word\nsteps: {}\nmade_for: []\ncoats: 7\npit: rest\n",
    "empty-everything": b"kind:\ntitle:\ningredients:\nsteps:\nmade_for:\ncoats:\npit:\nrest:\nlinks:\n",
    "uses-itself": b"kind: cook\ntitle: Ring\ncut: pork loin, boneless\ncoats: [{recipe: uses-itself}]\n",
    "uses-a-path": b"kind: cook\ntitle: Out\ncut: pork loin, boneless\ncoats: [{recipe: ../../../etc/passwd}]\n",
    "picture-outside": b"kind: rub\ntitle: P\nphotos: [../../../../etc/passwd]\nlinks: ['javascript:alert(1)']\n",
    "script": b"kind: rub\ntitle: <script>alert(1)</script>\nsteps: ['{{ 7 * 7 }} {% raw %}']\n",
    "picture": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + b"\xff" * 100,
    "archive": b"PK\x03\x04" + b"\0" * 26,
    "json": b'{"kind": "rub", "title": "J", "ingredients": [{"item": "salt", "amount": "5 g"}]}',
}
"""What may lie in a file that should be a recipe or an entry."""

NAMES = (
    "new\nline", "tab\there", "right-\u202eleft", "zero\u200bwidth", "é", "e\u0301", "Üß-ﬁ", "日本語", "🔥", "-", "--help",
    ".hidden", "..", "a b  c", " blank-first", "dot.", "quote'\"", "$(id)", "a;b", "per%20cent", "back\\slash", "star*?[x]",
    "CON", "NUL", "Loin", "LOIN", "loin@2", "x" * 240, "\udcff-no-utf8", "<b>", "2026-13-45-no-date",
)
"""What a file may be called, without its ending; of one name in two cases some disks keep one."""

DATES = ("2026-13-45-loin", "0000-00-00-loin", "9999-99-99", "2026-02-30-loin", "99999-01-01-loin", "21-11-2026-loin",
         "2026-11-21", "-2026-11-21-loin", "٢٠٢٦-11-21-loin", "loin")
"""Names of entries whose date is none."""


def hostile(root: Path, outside: Path) -> None:
    """Fill `root` with it; `outside` lies beside the kitchen, and links lead there. What a disk refuses is left out."""
    recipes, journal, shared = root / "recipes", root / "journal" / "2026", root / "shared"
    for folder in (recipes, journal, shared, outside):
        folder.mkdir(parents=True, exist_ok=True)
    (recipes / "loin.yaml").write_text(COOK, encoding="utf-8")
    (recipes / "walnut-paste.yaml").write_text(PASTE, encoding="utf-8")
    (journal / "2026-11-21-a-loin.yaml").write_text(ENTRY, encoding="utf-8")
    for name, text in TEXTS.items():
        (recipes / f"{name}.yaml").write_bytes(text)
        (journal / f"2026-11-20-{name}.yaml").write_bytes(text)
        entry = ENTRY.replace("title:", f"readings: 2026-11-19-{name}.csv\ntitle:")
        (journal / f"2026-11-19-{name}.yaml").write_text(entry, encoding="utf-8")
        (journal / f"2026-11-19-{name}.csv").write_bytes(text)
    for name in NAMES:
        with suppress(OSError, ValueError):
            (recipes / f"{name}.yaml").write_text(PASTE, encoding="utf-8")
            (journal / f"2026-11-18-{name}"[:240]).with_suffix(".yaml").write_text(ENTRY, encoding="utf-8")
    for name in DATES:
        (journal / f"{name}.yaml").write_text(ENTRY, encoding="utf-8")
        (journal / f"of-{name}.yaml").write_text(ENTRY.replace("2026-11-21", name, 1), encoding="utf-8")
    _no_plain_files(root, recipes, journal, shared, outside)


def _no_plain_files(root: Path, recipes: Path, journal: Path, shared: Path, outside: Path) -> None:
    """Folders, links, pipes and a file of a gigabyte where a text should be."""
    (outside / "secret.yaml").write_text("kind: rub\ntitle: Not of this kitchen\nsteps: [secret]\n", encoding="utf-8")
    for place, day in ((recipes, ""), (journal, "2026-11-17-")):
        (place / f"{day}folder.yaml").mkdir()
        (place / f"{day}folder.yaml" / "inside.yaml").write_text(PASTE, encoding="utf-8")
        with (place / f"{day}gigabyte.yaml").open("wb") as file:
            file.truncate(1 << 30)
        with suppress(OSError, NotImplementedError):
            (place / f"{day}ring.yaml").symlink_to(f"{day}ring.yaml")
            (place / f"{day}here.yaml").symlink_to(".")
            (place / f"{day}gone.yaml").symlink_to("nowhere.yaml")
            (place / f"{day}out.yaml").symlink_to(outside / "secret.yaml")
            (place / f"{day}endless.yaml").symlink_to("/dev/zero")
            (place / f"{day}up").symlink_to(root, target_is_directory=True)
        if hasattr(os, "mkfifo"):
            os.mkfifo(place / f"{day}pipe.yaml")
    (journal / "2026-11-16-big-log.yaml").write_text(
        ENTRY.replace("title:", "readings: [huge.csv, pipe.csv, /dev/zero, ../../../secret.csv, gone.csv]\ntitle:"),
        encoding="utf-8")
    with (journal / "huge.csv").open("wb") as file:
        file.truncate(1 << 30)
    for name in ("cookers", "eaters", "prices", "unknown"):
        (shared / f"{name}.yaml").write_bytes(TEXTS["laughs"])
    deep = journal
    for _ in range(60):
        deep = deep / "d"
    with suppress(OSError):
        deep.mkdir(parents=True)
        (deep / "2026-11-15-deep.yaml").write_text(ENTRY, encoding="utf-8")
