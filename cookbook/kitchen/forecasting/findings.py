"""What the safety room would find if a cook ran as forecast."""

from __future__ import annotations

from cookbook.kitchen.forecasting import outlook
from cookbook.kitchen.kitchen import Kitchen
from cookbook.safety import Curve, Finding, forecast_findings


def forecast_of(kitchen: Kitchen, name: str) -> list[Finding]:
    """What the forecast of a recipe or an open entry would come to; notes, never a verdict.

    Raises RequestError where there is too little to forecast from.
    """
    if name.partition("@")[0] in kitchen.recipe_names():
        wanted = outlook.of_recipe(kitchen, kitchen.recipe(name), {}, outlook.Asked())
    else:
        wanted = outlook.of_entry(kitchen, kitchen.entry(name), outlook.Asked())
    found = outlook.run(kitchen, wanted)
    middle = [(60 * point.minute, point.core_c.p50) for point in found.curve if point.core_c.p50 is not None]
    low_c, high_c = found.peak_c.p10, found.peak_c.p90
    if not middle or low_c is None or high_c is None:
        return []
    cut = wanted.piece.cut
    curve = Curve.of([seconds for seconds, _ in middle], [core for _, core in middle])
    return forecast_findings(curve, (low_c, high_c), cut.species, cut.name)
