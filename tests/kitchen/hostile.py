"""A kitchen that someone filled with everything that readers of files have ever fallen over."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from tests.conftest import COOK, PASTE
from tests.fuzz.texts import LAUGHS, TEXTS

ENTRY = """\
date: "2026-11-21"
title: A loin
piece: {cut: "pork loin, boneless", weight: 2 kg}
events:
  - {at: "2026-11-21T11:00:00+01:00", did: on}
  - {at: "2026-11-21T12:00:00+01:00", core: 40 °C}
outcome: {scores: {juiciness: 7}}
"""
NAMES = (
    "new\nline", "tab\there", "right-\u202eleft", "zero\u200bwidth", "é", "e\u0301", "Üß-ﬁ", "日本語", "🔥", "-",
    "--help", ".hidden", "..", "a b  c", " blank-first", "dot.", "quote'\"", "$(id)", "a;b", "per%20cent",
    "back\\slash", "star*?[x]", "CON", "NUL", "Loin", "LOIN", "loin@2", "x" * 240, "\udcff-no-utf8", "<b>",
    "2026-13-45-no-date",
)
"""What a file may be called, without its ending; of one name in two cases some disks keep one."""

DATES = ("2026-13-45-loin", "0000-00-00-loin", "9999-99-99", "2026-02-30-loin", "99999-01-01-loin", "21-11-2026-loin",
         "2026-11-21", "-2026-11-21-loin", "٢٠٢٦-11-21-loin", "loin")
"""Names of entries whose date is none."""


def hostile(root: Path, outside: Path) -> None:
    """Fill `root` with it; links lead to `outside`, beside the kitchen. What a disk refuses is left out."""
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
        (shared / f"{name}.yaml").write_bytes(LAUGHS.encode())
    deep = journal
    for _ in range(60):
        deep = deep / "d"
    with suppress(OSError):
        deep.mkdir(parents=True)
        (deep / "2026-11-15-deep.yaml").write_text(ENTRY, encoding="utf-8")
