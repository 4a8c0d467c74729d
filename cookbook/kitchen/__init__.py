"""A folder on disk: recipes, journal, shared tables and the version store, all opened by one `Kitchen`.

Its rooms write the log, adopt, import, check, find, forecast and learn; everything on disk goes through here.
May be imported by plan, compare, publish, the command line and the page; it prints nothing.
"""

from __future__ import annotations

from cookbook.kitchen.kitchen import Kitchen

__all__ = ["Kitchen"]
