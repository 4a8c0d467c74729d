"""The local page: the whole job for someone who never types a command, served from this machine.

The guard, the pages before, at the pit and after, guests, templates and scripts; every action one library call.
Floor 7, below cli alone, which starts it; it imports everything below and nothing imports it but that one verb.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cookbook.page.routing import application
    from cookbook.page.serving import serve
    from cookbook.page.setting import Setting

__all__ = ["Setting", "application", "serve"]

_HOME = {"Setting": "setting", "application": "routing", "serve": "serving"}


def __getattr__(name: str) -> object:
    """Servers and templates are loaded when the page is asked for."""
    if name not in _HOME:
        raise AttributeError(f"cookbook.page has no {name!r}")
    from importlib import import_module

    return getattr(import_module(f"cookbook.page.{_HOME[name]}"), name)
