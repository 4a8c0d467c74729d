"""Who may ask: the pairing code, the devices that used one, the guests' links. Kept as digests, never as they are."""

from __future__ import annotations

import hmac
import json
import os
import secrets
import threading
import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
"""What a pairing code is made of: nothing that is taken for something else."""
CODE_LENGTH, CODE_S, TRIES = 8, 600.0, 5
DEVICE_S = 24 * 3600.0
GUEST_BYTES = 16
_MOST_LABEL = 60


class Device(NamedTuple):
    """A paired device: its key's digest, what it calls itself, when it was paired."""

    key: str
    label: str
    since: float


class Keys:
    """The keys of one page. `file` keeps devices and guests over a restart; `clock` gives seconds since the epoch."""

    def __init__(self, file: Path | None, clock: Callable[[], float] = time.time) -> None:
        self._file, self._clock = file, clock
        self._secret = secrets.token_bytes(32)
        self._lock = threading.Lock()
        self._code: tuple[str, float] | None = None
        self._wrong = 0
        self._known: dict[str, dict[str, dict[str, Any]]] = {"devices": {}, "guests": {}}
        self._read()

    # pairing

    @property
    def pairing_ended(self) -> bool:
        """Whether five wrong codes were tried: no code is taken until the page is started again."""
        return self._wrong >= TRIES

    @property
    def code(self) -> str | None:
        """The pairing code that can still be used."""
        known, until = self._code or ("", 0.0)
        return known if known and self._clock() <= until and not self.pairing_ended else None

    def new_code(self) -> str:
        """A pairing code for one device within ten minutes; the one before counts no more."""
        with self._lock:
            code = "".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH))
            self._code = (code, self._clock() + CODE_S)
            return code

    def pair(self, code: str, label: str) -> str | None:
        """The new device's key for its cookie, or None where the code is wrong, used or too old."""
        with self._lock:
            if self.pairing_ended:
                return None
            known, until = self._code or ("", 0.0)
            plain = "".join(code.upper().split()).replace("-", "")
            if not known or self._clock() > until or not same(plain, known):
                self._wrong += 1
                return None
            self._code = None
            key = secrets.token_urlsafe(32)
            self._known["devices"][digest(key)] = {"label": label[:_MOST_LABEL], "since": self._clock()}
            self._write()
            return key

    def device(self, key: str) -> str | None:
        """The digest of a device's key while its day lasts."""
        found = digest(key)
        known = self._known["devices"].get(found)
        return found if known is not None and self._clock() < known["since"] + DEVICE_S else None

    def devices(self) -> list[Device]:
        """Every paired device, the newest first."""
        known = [Device(key, one["label"], one["since"]) for key, one in self._known["devices"].items()]
        return sorted(
            (one for one in known if self._clock() < one.since + DEVICE_S), key=lambda one: one.since, reverse=True
        )

    def forget(self, key: str) -> None:
        """A device is one no longer."""
        with self._lock:
            self._known["devices"].pop(key, None)
            self._write()

    # guests

    def new_guest(self, entry: str) -> str:
        """The secret part of a new link that scores `entry` and nothing else; links before it hold on."""
        token = secrets.token_urlsafe(GUEST_BYTES)
        with self._lock:
            self._known["guests"][digest(token)] = {"entry": entry, "names": {}}
            self._write()
        return token

    def guest(self, token: str) -> str | None:
        """The entry that a guest's link scores."""
        known = self._known["guests"].get(digest(token))
        return known["entry"] if known is not None else None

    def guests(self, entry: str) -> int:
        """How many links score an entry."""
        return sum(one["entry"] == entry for one in self._known["guests"].values())

    def end_guests(self, entry: str) -> None:
        """The links of an entry score it no longer."""
        with self._lock:
            guests = self._known["guests"]
            self._known["guests"] = {key: one for key, one in guests.items() if one["entry"] != entry}
            self._write()

    def taster(self, token: str, phone: str, name: str, taken: frozenset[str]) -> str:
        """The name under which a guest scores: as asked, with a number where that is another phone's.

        A phone that goes round scores for each: it keeps every name it was given.
        """
        with self._lock:
            names: dict[str, list[str]] = self._known["guests"].get(digest(token), {"names": {}})["names"]
            own, wanted = names.setdefault(phone, []), name.casefold()
            for known in own:
                if known.casefold() == wanted or known.casefold().removeprefix(f"{wanted} ").isdecimal():
                    return known
            others = {one.casefold() for one in taken.union(*names.values())}
            free = next(
                one for n in range(1, 10_000) if (one := name if n == 1 else f"{name} {n}").casefold() not in others
            )
            own.append(free)
            self._write()
            return free

    # tokens of forms

    def token(self, who: str) -> str:
        """What every form of `who` carries: no page of another origin can know it."""
        return hmac.new(self._secret, who.encode(), sha256).hexdigest()

    def _read(self) -> None:
        if self._file is None:
            return
        try:
            known = json.loads(self._file.read_text(encoding="utf-8"))
            for kind in self._known:
                self._known[kind] = {str(key): dict(one) for key, one in known[kind].items()}
            for one in self._known["guests"].values():
                one["names"] = {
                    phone: [names] if isinstance(names, str) else list(names) for phone, names in one["names"].items()
                }
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            self._known = {"devices": {}, "guests": {}}

    def _write(self) -> None:
        """Where nothing can be written the keys hold until the page is stopped."""
        if self._file is None:
            return
        part = self._file.with_suffix(".part")
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            descriptor = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
            with os.fdopen(descriptor, "w", encoding="utf-8") as file:
                json.dump(self._known, file)
            part.replace(self._file)
        except OSError:
            return


def digest(key: str) -> str:
    """The digest under which a key is kept."""
    return sha256(key.encode("utf-8", "replace")).hexdigest()


def same(one: str, other: str) -> bool:
    """Whether two secrets are the same, in a time that does not tell how far they agree."""
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode("utf-8", "replace"))
