"""Serving the page from this machine until it is stopped."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from pathlib import Path
from types import FrameType

from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.page.lan import qr_text
from cookbook.page.routing import application
from cookbook.page.setting import PORT, Setting, own_addresses


def serve(
    kitchen: Kitchen | Path,
    told: Callable[[str], None],
    *,
    port: int | None = None,
    lan: bool = False,
    read_only: bool = False,
    units: str | None = None,
) -> None:
    """Serve the page of `kitchen` until it is interrupted; `told` hears its address, and what a phone needs.

    An empty folder can be made a kitchen on the page. Without `port` it is the usual one, or any that is free. Raises
    RequestError where it can't be had, or where `lan` is asked for and this machine is in no net.
    """
    import uvicorn

    root = kitchen if isinstance(kitchen, Path) else kitchen.root
    addresses = own_addresses() if lan else ()
    if lan and not addresses:
        raise RequestError("this machine is in no net", mend="join the house's net first, or leave --lan out")
    listening = _listening("0.0.0.0" if lan else "127.0.0.1", port)
    setting = Setting(root.resolve(), listening.getsockname()[1], addresses, read_only, units)
    guard = application(setting)
    told(banner(setting, guard.page.keys.code or ""))
    config = uvicorn.Config(
        guard,
        log_level="critical",
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=3,
        timeout_keep_alive=75,
        proxy_headers=False,
        lifespan="on",
    )

    class Server(uvicorn.Server):
        """Tells the pages that lie open that it ends, so that none keeps it waiting."""

        def handle_exit(self, sig: int, frame: FrameType | None) -> None:
            guard.page.stopping = True
            super().handle_exit(sig, frame)

    Server(config).run(sockets=[listening])


def _listening(host: str, port: int | None) -> socket.socket:
    """A socket on the port that was asked for; without one on the usual, or else on any that is free."""
    for wanted in (port,) if port is not None else (PORT, 0):
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":  # elsewhere it would share the port with another program
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((host, wanted))
            found.listen(128)  # who is quick waits a moment, and is not turned away
        except (OSError, OverflowError) as fault:
            found.close()
            if port is not None:
                reason = getattr(fault, "strerror", None) or str(fault)
                raise RequestError(
                    f"port {port} is not to be had: {reason}", mend="name another with --port"
                ) from None
            continue
        return found
    raise RequestError("no port is to be had", mend="name one with --port")


def banner(setting: Setting, code: str) -> str:
    """What is printed when the page is up."""
    shown = f"http://127.0.0.1:{setting.port}"
    lines = [f"the page is at {shown}", f"its kitchen is {setting.root}", "stop it with Ctrl-C"]
    if setting.read_only:
        lines.insert(2, "it may only be looked at")
    if setting.lan:
        lines = [
            f"the page is at {shown}, and for phones in this net at {setting.home}",
            qr_text(f"{setting.home}/pair#{code}").rstrip("\n"),
            f"pairing code {code[:4]} {code[4:]}: one device, ten minutes; more under “Devices” on the page",
            "plain http: whoever shares this net can listen in and read along",
            *lines[1:],
        ]
    return "\n".join(lines)
