"""The index: a SQLite file in the user's cache folder that answers for the text files, and never instead of them.

Every question first looks at size and times of all files; what has changed is read again, and what may have changed
within the same tick of the clock is told by its digest. A file that is damaged or of another make is built anew;
where none can be written, the index lives in memory. It takes no lock of the kitchen.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any

from cookbook.files import MAX_BYTES, plain_bytes
from cookbook.kitchen.cache import SAME_TICK_NS, cache_folder, rules
from cookbook.kitchen.finding.indexing import see
from cookbook.kitchen.listing import changed_at_ns, stamp_lines, stamps

if TYPE_CHECKING:
    from cookbook.kitchen.kitchen import Kitchen

MAKE = 2
"""The make of the tables; another one is built anew."""

_NO_WRITING = frozenset(
    (
        sqlite3.SQLITE_BUSY,
        sqlite3.SQLITE_LOCKED,
        sqlite3.SQLITE_READONLY,
        sqlite3.SQLITE_IOERR,
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_CANTOPEN,
    )
)
"""Errors for which the file is not to blame."""

WAIT_S = 60.0
"""How long to wait for another process that is building the same index."""

_TABLES = """
CREATE TABLE made (key TEXT NOT NULL);
CREATE TABLE folder (path TEXT PRIMARY KEY, stamps TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE file (id INTEGER PRIMARY KEY, path TEXT NOT NULL UNIQUE, digest BLOB NOT NULL, fresh INT NOT NULL,
    fault TEXT);
CREATE INDEX fresh_file ON file (id) WHERE fresh;
CREATE TABLE recipe (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, title TEXT NOT NULL,
    revision INT, cut TEXT, steps INT NOT NULL);
CREATE TABLE name (id INT NOT NULL, called TEXT NOT NULL);
CREATE INDEX name_called ON name (called);
CREATE INDEX name_id ON name (id);
CREATE TABLE entry (id INTEGER PRIMARY KEY, name TEXT NOT NULL, date TEXT NOT NULL, recipe TEXT, version TEXT,
    title TEXT, cut TEXT, cooker TEXT, memory INT NOT NULL, open INT NOT NULL, score REAL, next_time INT NOT NULL);
CREATE INDEX entry_date ON entry (date);
CREATE INDEX entry_recipe ON entry (recipe);
CREATE INDEX entry_next ON entry (id) WHERE next_time;
CREATE INDEX entry_open ON entry (id) WHERE open;
CREATE TABLE used (recipe TEXT NOT NULL, entry INT NOT NULL, version TEXT, PRIMARY KEY (recipe, entry)) WITHOUT ROWID;
CREATE INDEX used_entry ON used (entry);
"""
_WORDS = "CREATE VIRTUAL TABLE words USING fts5(text, tokenize = 'porter unicode61 remove_diacritics 2')"
_WORDS_PLAIN = "CREATE TABLE words (text TEXT NOT NULL)"

CUT = "coalesce(e.cut, (SELECT r1.cut FROM name n1 JOIN recipe r1 ON r1.id = n1.id WHERE n1.called = e.recipe))"
"""In a question, the cut of the entry `e`: its own, or its recipe's."""

Question = tuple[str, Sequence[Any]]


class Index:
    """The index of one kitchen, as it is kept in `file`, or in memory where there is no writing."""

    def __init__(self, kitchen: Kitchen, file: Path | None = None) -> None:
        self.root = str(kitchen.root)
        self._measures = str(kitchen.settings["measures"])
        self._cuts = kitchen.cuts
        self._made_by = rules()
        self.file: Path | None = file or cache_folder(kitchen.root) / "index.sqlite"
        self._open: sqlite3.Connection | None = None
        self._opened = 0
        self._one_at_a_time = Lock()

    def ask(self, question: str, values: Sequence[Any] = ()) -> list[Any]:
        """The rows that answer a question, by the files as they are now. Damage is mended by building anew."""
        return self.ask_all([(question, values)])[0]

    def ask_all(self, questions: Sequence[Question]) -> list[list[Any]]:
        """The rows that answer each of several questions, all by the same state of the files."""
        with self._one_at_a_time:
            return self._answers(questions)

    def _answers(self, questions: Sequence[Question]) -> list[list[Any]]:
        try:
            return self._asked(questions)
        except sqlite3.DatabaseError as fault:
            if self.file is None:
                raise
            if fault.sqlite_errorcode & 0xFF not in _NO_WRITING:
                self._begin_anew()
                with suppress(sqlite3.DatabaseError):
                    return self._asked(questions)
        self._give_up_the_file()
        return self._asked(questions)

    def _asked(self, questions: Sequence[Question]) -> list[list[Any]]:
        found = self._fresh()
        return [found.execute(question, values).fetchall() for question, values in questions]

    @property
    def full_text(self) -> bool:
        """Whether this SQLite searches words; else they are looked for in the plain text."""
        return _full_text(self._connection())

    def close(self) -> None:
        """Let go of the file."""
        if self._open is not None:
            self._open.close()
            self._open = None

    def __del__(self) -> None:
        with suppress(AttributeError):
            self.close()

    def _connection(self) -> sqlite3.Connection:
        if self._open is None:
            if self.file is not None:
                try:
                    self.file.parent.mkdir(parents=True, exist_ok=True)
                except OSError:
                    self.file = None
            place = ":memory:" if self.file is None else str(self.file)
            self._open = sqlite3.connect(place, timeout=WAIT_S, isolation_level=None, check_same_thread=False)
            self._opened = 0 if self.file is None else self.file.stat().st_ino
            self._open.execute("PRAGMA cache_size = -32000")
        return self._open

    def _give_up_the_file(self) -> None:
        """Go on in memory: the disk is full, read-only, or kept busy by another process."""
        self.close()
        self.file = None

    def _begin_anew(self) -> None:
        """Remove a damaged file; one process at a time, so that none removes what another has built since."""
        from cookbook.errors import CookbookError
        from cookbook.files import lock

        self.close()
        if self.file is None:
            return
        with suppress(CookbookError, OSError), lock(self.file.parent):
            if self.file.stat().st_ino == self._opened:
                for name in (f"{self.file}-journal", str(self.file)):
                    Path(name).unlink(missing_ok=True)

    def _fresh(self) -> sqlite3.Connection:
        """The connection, with every change of the files taken in."""
        found = self._connection()
        if not self._is_true(found, dict(self._stamps())):
            with _writing(found):
                self._take_in(found, dict(self._stamps()))
        return found

    def _stamps(self) -> Iterator[tuple[str, str]]:
        cut = len(self.root) + 1
        for part, below in (("recipes", False), ("journal", True)):
            for folder, text in stamps(os.path.join(self.root, part), below):  # noqa: PTH118  # one string for 100,000 files
                yield folder[cut:].replace(os.sep, "/"), text

    def _is_true(self, found: sqlite3.Connection, now: dict[str, str]) -> bool:
        if found.execute("PRAGMA user_version").fetchone()[0] != MAKE:
            return False
        if found.execute("SELECT key FROM made").fetchall() != [(self._key(),)]:
            return False
        if found.execute("SELECT EXISTS (SELECT 1 FROM file WHERE fresh)").fetchone()[0]:
            return False
        return dict(found.execute("SELECT path, stamps FROM folder")) == now

    def _key(self) -> str:
        """What reading depends on besides the files: the code and tables, the kitchen's measures, its own cuts."""
        return f"{self._made_by} {self._measures} {self._cuts!r}"

    def _take_in(self, found: sqlite3.Connection, now: dict[str, str]) -> None:
        """Bring every row in line with the files; runs inside one transaction."""
        _prepare(found, self._key())
        old = dict(found.execute("SELECT path, stamps FROM folder"))
        fresh = {path for (path,) in found.execute("SELECT path FROM file WHERE fresh")}
        for folder in [*now, *(gone for gone in old if gone not in now)]:
            was, lines = old.get(folder), now.get(folder)
            if was != lines:
                before, after = stamp_lines(was or ""), stamp_lines(lines or "")
                for name in before.keys() - after.keys():
                    _forget(found, f"{folder}/{name}")
                todo = {name for name, line in after.items() if before.get(name) != line}
                if lines is None:
                    found.execute("DELETE FROM folder WHERE path = ?", (folder,))
                else:
                    found.execute("INSERT OR REPLACE INTO folder VALUES (?, ?)", (folder, lines))
            else:
                todo = set()
            again = {path.rpartition("/")[2] for path in fresh if path.rpartition("/")[0] == folder}
            known = stamp_lines(lines or "")
            for name in sorted(todo | (again & known.keys())):
                self._read(found, folder, name, known[name])

    def _read(self, found: sqlite3.Connection, folder: str, name: str, stamp: str) -> None:
        path = f"{folder}/{name}"
        began = time.time_ns()
        try:
            data = plain_bytes(Path(self.root, path), MAX_BYTES)
        except OSError:
            data = b""
        digest = hashlib.sha256(data).digest()
        fresh = changed_at_ns(stamp) > began - SAME_TICK_NS
        known = found.execute("SELECT id, digest FROM file WHERE path = ?", (path,)).fetchone()
        if known is not None and known[1] == digest:
            found.execute("UPDATE file SET fresh = ? WHERE id = ?", (fresh, known[0]))
            return
        if known is not None:
            _forget(found, path)
        recipe = folder == "recipes"
        seen = see(data, name.removesuffix(".yaml"), path, recipe, self._measures, self._cuts)
        number = found.execute(
            "INSERT INTO file (path, digest, fresh, fault) VALUES (?, ?, ?, ?)", (path, digest, fresh, seen.fault)
        ).lastrowid
        if seen.row is not None:
            table = "recipe" if recipe else "entry"
            marks = ", ".join("?" * (len(seen.row) + 1))
            found.execute(f"INSERT INTO {table} VALUES ({marks})", (number, *seen.row))
            found.execute("INSERT INTO words (rowid, text) VALUES (?, ?)", (number, seen.words))
            found.executemany("INSERT INTO name VALUES (?, ?)", [(number, one) for one in seen.names])
            found.executemany("INSERT INTO used VALUES (?, ?, ?)", [(one, number, ver) for one, ver in seen.uses])


def _forget(found: sqlite3.Connection, path: str) -> None:
    known = found.execute("SELECT id FROM file WHERE path = ?", (path,)).fetchone()
    if known is not None:
        for table, column in (
            ("file", "id"),
            ("recipe", "id"),
            ("name", "id"),
            ("entry", "id"),
            ("used", "entry"),
            ("words", "rowid"),
        ):
            found.execute(f"DELETE FROM {table} WHERE {column} = ?", known)


def _prepare(found: sqlite3.Connection, key: str) -> None:
    """The tables, empty, unless they are there, of this make and for this key."""
    if found.execute("PRAGMA user_version").fetchone()[0] == MAKE and found.execute(
        "SELECT key FROM made"
    ).fetchall() == [(key,)]:
        return
    kinds = found.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'words_%'")
    for (table,) in kinds.fetchall():
        found.execute(f'DROP TABLE "{table}"')
    for statement in filter(str.strip, _TABLES.split(";")):
        found.execute(statement)
    found.execute(_WORDS if _full_text(found) else _WORDS_PLAIN)
    found.execute("INSERT INTO made VALUES (?)", (key,))
    found.execute(f"PRAGMA user_version = {MAKE}")


def _full_text(found: sqlite3.Connection) -> bool:
    return bool(found.execute("SELECT sqlite_compileoption_used('ENABLE_FTS5')").fetchone()[0])


@contextmanager
def _writing(found: sqlite3.Connection) -> Iterator[None]:
    found.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        with suppress(sqlite3.Error):
            found.execute("ROLLBACK")
        raise
    found.execute("COMMIT")
