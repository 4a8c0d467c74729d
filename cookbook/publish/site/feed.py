"""Atom feed (RFC 4287) and sitemap of a site."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree

from cookbook.publish import wording
from cookbook.publish.content.around import place_in_site

_ATOM, _MAP = "http://www.w3.org/2005/Atom", "http://www.sitemaps.org/schemas/sitemap/0.9"
MOST_ENTRIES = 50
"""Entries of the feed, the newest."""

About = Mapping[str, Mapping[str, Any]]


def atom(base: str, settings: Mapping[str, Any], about: About) -> bytes:
    """The feed: each recipe that was cooked, by the day its present version was first cooked, the newest first."""
    dated = sorted(
        ((name, one) for name, one in about.items() if one["dated"]),
        key=lambda pair: (pair[1]["dated"], pair[0]),
        reverse=True,
    )[:MOST_ENTRIES]
    feed = ElementTree.Element("feed", xmlns=_ATOM)
    _text(feed, "id", base)
    _text(feed, "title", settings.get("name") or "Recipes")
    _text(feed, "updated", _moment(dated[0][1]["dated"] if dated else "1970-01-01"))
    ElementTree.SubElement(feed, "link", rel="self", href=f"{base}feed.xml")
    ElementTree.SubElement(feed, "link", rel="alternate", href=f"{base}index.html")
    author = ElementTree.SubElement(feed, "author")
    _text(author, "name", settings.get("author") or settings.get("name") or "the cook")
    if settings.get("licence"):
        _text(feed, "rights", settings["licence"])
    for name, one in dated:
        entry = ElementTree.SubElement(feed, "entry")
        address = base + place_in_site("recipes", name)
        _text(entry, "id", address)
        _text(entry, "title", one["title"])
        _text(entry, "updated", _moment(one["dated"]))
        ElementTree.SubElement(entry, "link", rel="alternate", href=address)
        _text(entry, "summary", f"{one['lead']} {one['revision']}".strip())
    return _bytes(feed)


def sitemap(base: str, about: About) -> bytes:
    """Every recipe's page and the index, by their names: another title moves nothing."""
    urls = ElementTree.Element("urlset", xmlns=_MAP)
    for address, dated in [
        (f"{base}index.html", ""),
        *((base + place_in_site("recipes", name), one["dated"]) for name, one in sorted(about.items())),
    ]:
        url = ElementTree.SubElement(urls, "url")
        _text(url, "loc", address)
        if dated:
            _text(url, "lastmod", dated)
    return _bytes(urls)


def _text(parent: ElementTree.Element, tag: str, words: str) -> None:
    ElementTree.SubElement(parent, tag).text = wording.spoken(words).replace("\u00a0", " ")


def _moment(day: str) -> str:
    return f"{day}T00:00:00Z"


def _bytes(root: ElementTree.Element) -> bytes:
    ElementTree.indent(root)
    text: str = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'.encode()
