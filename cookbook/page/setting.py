"""How the page is served: which kitchen, under which addresses, to whom."""

from __future__ import annotations

import socket
from pathlib import Path
from typing import NamedTuple

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
PORT = 8417
"""The port where nobody says one; any free one would do, a fixed one can be kept as a bookmark."""


class Setting(NamedTuple):
    """One page: the kitchen's root, its port, whether the house's net may reach it (`addresses` are this machine's
    own there), whether it may only be looked at, the measures to show
    (the kitchen's where None)."""

    root: Path
    port: int = PORT
    addresses: tuple[str, ...] = ()
    read_only: bool = False
    units: str | None = None

    @property
    def lan(self) -> bool:
        """Whether others than this machine may ask."""
        return bool(self.addresses)

    @property
    def hosts(self) -> frozenset[str]:
        """Every `Host` that a request may name."""
        return frozenset(_with_port(name, self.port) for name in (*LOOPBACK, *self.addresses))

    @property
    def home(self) -> str:
        """The address that others in the house type, else this machine's own."""
        return f"http://{_with_port(self.addresses[0] if self.addresses else LOOPBACK[0], self.port)}"


def _with_port(name: str, port: int) -> str:
    return name if port == 80 else f"{name}:{port}"


def own_addresses() -> tuple[str, ...]:
    """This machine's addresses in the nets it is in, the one that leads out first; nothing is sent."""
    found: dict[str, None] = {}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address kept for documentation: only the route to it is asked for
            found[probe.getsockname()[0]] = None
        except OSError:
            pass
    try:
        for *_, address in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            found[str(address[0])] = None
    except OSError:
        pass
    return tuple(address for address in found if not address.startswith("127."))
