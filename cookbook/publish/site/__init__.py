"""The cookbook as a static site: recipes' pages, their versions, the cooks marked public, index, feed and map.

`building.py` makes again what is out of date and writes it; the other files are one page or list each.
May be imported by the command line.
"""

from __future__ import annotations

from cookbook.publish.site.building import Site, site
from cookbook.publish.site.standing import Known

__all__ = ["Known", "Site", "site"]
