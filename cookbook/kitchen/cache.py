"""Where a kitchen's index and undo steps lie: in the user's cache folder, all of it safe to delete."""

from __future__ import annotations

import hashlib
import os
import sys
from pathlib import Path


def cache_folder(root: Path) -> Path:
    """The folder of what can be deleted at any time for the kitchen at `root`; it may not be there yet."""
    if sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = Path(os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or Path.home() / ".cache")
    return base / "carryover-cookbook" / hashlib.sha256(str(root.resolve()).encode()).hexdigest()[:16]
