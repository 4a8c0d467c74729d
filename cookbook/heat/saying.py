"""A forecast in words: when to pull, how far it rises, what is done how far; and as a notebook shows it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.picture import Table
from cookbook.picture.notebook import shown
from cookbook.quantity.number import tenth

if TYPE_CHECKING:
    from cookbook.heat.outlook import Forecast, Range
    from cookbook.heat.zone import Zone


def minutes_words(minutes: float | None) -> str:
    """`3 h 20 min`; never for what does not come."""
    if minutes is None:
        return "never"
    whole = round(minutes / 5) * 5 if minutes >= 60 else round(minutes)
    hours, rest = divmod(int(whole), 60)
    return (f"{hours} h {rest} min" if rest else f"{hours} h") if hours else f"{rest} min"


def when(found: Forecast, pulled_min: float | None = None) -> list[str]:
    """When to pull and from when to check, or when it was pulled; the line that matters first."""
    pull = found.minutes_to_pull
    if not found.reaches:
        return list(found.warnings)
    if pulled_min is not None:
        return [f"pulled after {minutes_words(pulled_min)}"]
    span = f"{minutes_words(pull.p10)} to {minutes_words(pull.p90)}"
    return [
        f"pull at {tenth(found.pull_c)} °C after {span}; check from {minutes_words(found.check_from_minutes)}",
        f"in the middle after {minutes_words(pull.p50)}",
    ]


def after_the_pull(found: Forecast) -> list[str]:
    """How far it rises and when, how warm it is when sliced, what it loses."""
    later, loss = minutes_words(found.minutes_to_peak.p50), spread_words(found.cook_loss_percent)
    return [
        f"then it rises to {spread_words(found.peak_c)} °C, {later} after the pull",
        f"when sliced {spread_words(found.core_at_slicing_c)} °C; cook loss {loss} %",
    ]


def spread_words(value: Range) -> str:
    """`64 (62 to 66)`."""
    if value.p50 is None:
        return "?"
    if value.p10 is None or value.p90 is None:
        return f"{value.p50:.0f}"
    return f"{value.p50:.0f} ({value.p10:.0f} to {value.p90:.0f})"


def zone_rows(zones: Sequence[Zone]) -> list[list[str]]:
    """Each zone with its temperatures and its share of the meat."""
    return [[zone.name, _between(zone.low_c, zone.high_c), f"{zone.share:.0%}"] for zone in zones]


def side_lines(found: Forecast) -> list[str]:
    """The half that faces the hot side and the other one, where they differ: `back: 39 % well done (…); …`."""
    from cookbook.heat.drawing import in_words

    return [f"{side}: {in_words(zones)}" for side, zones in found.sides.items()]


def _between(low: float | None, high: float | None) -> str:
    if low is None:
        return f"under {high:g} °C"
    return f"{low:g} °C and more" if high is None else f"{low:g} to {high:g} °C"


def forecast_shown(found: Forecast) -> str:
    """A forecast as HTML for a notebook: what `forecast` prints."""
    first, *more = when(found)
    if not found.reaches:
        return shown(first, *more, found.notes)
    from cookbook.heat.drawing import curve

    return shown(
        first,
        "; ".join([*more, *after_the_pull(found)]),
        Table(("done", "between", "of the meat"), tuple(tuple(row) for row in zone_rows(found.zones))),
        curve(found),
        [*side_lines(found), *(f"rests on: {ground}" for ground in found.rests_on), *found.notes, *found.warnings],
    )
