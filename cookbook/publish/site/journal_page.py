"""A cook that was marked public, as a page: its day, piece and fire, what was done when, how it came out, its curve.

Nothing else of an entry is published: no note, no name, no price, nothing that went in.
"""

from __future__ import annotations

from collections.abc import Iterator
from statistics import fmean
from typing import TYPE_CHECKING

from cookbook.journal.outcome import moment_of, outcomes
from cookbook.journal.readings import of_one_core
from cookbook.publish import wording
from cookbook.publish.content.around import place_in_site
from cookbook.publish.content.tested import aspects
from cookbook.publish.rendering import rendered

if TYPE_CHECKING:
    from cookbook.journal import Entry
    from cookbook.kitchen import Kitchen
    from cookbook.picture import Chart

DONE = ("lit", "on", "turned", "sprayed", "wrapped", "lid open", "wood added", "pulled", "rested", "sliced")
"""What may be said to have been done: the trade's words and none of the cook's own."""
_SHOWN = ("time to pull", "pulled at", "peak", "rise", "cook loss")


def entry_page(kitchen: Kitchen, entry: Entry, recipe: str, title: str) -> str:
    """The page of an entry, with the name and the title that its recipe has now."""
    from markupsafe import Markup

    from cookbook.picture import figure

    chart = _curve(kitchen, entry)
    return rendered(
        "journal.html.j2",
        kitchen.root,
        title=title,
        address=place_in_site("recipes", recipe),
        day=entry.date.isoformat(),
        facts=list(_facts(kitchen, entry)),
        done=[(f"{event.at:%H:%M}", event.did) for event in entry.events if event.at and event.did in DONE],
        # `figure` escapes every word that it sets.
        curve=Markup(figure(chart, "curve")) if chart is not None else "",
    )


def _facts(kitchen: Kitchen, entry: Entry) -> Iterator[tuple[str, str, str]]:
    """What, its value, the same in another measure."""
    for piece in entry.pieces:
        weight = piece.known.get("weight")
        if isinstance(weight, float):
            yield ("piece", *wording.mass(weight))
    for one in outcomes(entry, kitchen.readings(entry)):
        if one.name in _SHOWN:
            if one.unit == "°C":
                yield (one.name, *wording.scales(one.value))
            elif one.unit == "K":
                yield one.name, f"{one.value:.0f}\u00a0°C", f"{1.8 * one.value:.0f}\u00a0°F"
            elif one.unit == "min":
                yield one.name, wording.clock(one.value), "h:min"
            else:
                yield one.name, f"{one.value:.0f}\u00a0{one.unit}", ""
    for aspect, given in aspects(kitchen, entry).items():
        if given:
            yield wording.spoken(aspect), f"{fmean(given.values()):.1f}".removesuffix(".0"), "of 10"


def _curve(kitchen: Kitchen, entry: Entry) -> Chart | None:
    """Core and pit over the minutes since it went on."""
    from cookbook.picture import Chart, Line, Table

    on = moment_of(entry, "on")
    rows = [one for one in kitchen.readings(entry) if on is None or one.at >= on]
    start = on or (rows[0].at if rows else None)
    if start is None or len(rows) < 3:
        return None
    lines = []
    for name, values in (
        ("core", [(one.at, one.core_c) for one in of_one_core(rows)]),
        ("pit", [(one.at, one.pit_c) for one in rows]),
    ):
        points = tuple(((at - start).total_seconds() / 60, value) for at, value in values if value is not None)
        if len(points) >= 2:
            lines.append(Line(name, points, name == "pit"))
    if not lines:
        return None
    step = max(1, len(rows) // 12)
    told = Table(
        ("minute", "core °C", "pit °C"),
        tuple(
            (
                f"{(one.at - start).total_seconds() / 60:.0f}",
                "" if one.core_c is None else f"{one.core_c:.0f}",
                "" if one.pit_c is None else f"{one.pit_c:.0f}",
            )
            for one in rows[::step]
        ),
    )
    return Chart(
        "Core and pit over the minutes",
        "Core temperature, and dashed the pit, from when the meat went on.",
        "minutes",
        "°C",
        tuple(lines),
        told,
    )
