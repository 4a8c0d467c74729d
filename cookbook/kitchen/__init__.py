"""A folder on disk: recipes, journal, shared tables, the version store, and what entries have taught.

Opens it, checks it, keeps versions, writes the journal, adopts. Everything on disk goes through here.
May be imported by plan, compare, publish, the command line and the page; it prints nothing.
"""

from __future__ import annotations

from cookbook.kitchen.kitchen import Kitchen

__all__ = ["Kitchen"]
