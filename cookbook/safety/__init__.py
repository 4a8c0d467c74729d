"""Limits for what is cooked, kept, cured and burnt, each with its source, and what a cook runs into.

Holds the household charts, the tables for inspected plants and retail, keeping and time limits, curing, cautions.
May import quantity, table, meat, recipe, journal and errors; kitchen, plan, publish, cli and page may import it.
"""

from cookbook.quantity import refuse_cure_by
from cookbook.safety.allergy import allergen_words
from cookbook.safety.caution import Caution, cautions, fire_cautions
from cookbook.safety.comeup import ComeUp, come_up
from cookbook.safety.cooldown import Cooled, cooling, cools
from cookbook.safety.curing import Cure, cure, curing_limit, ingoing_ppm
from cookbook.safety.curve import Curve
from cookbook.safety.dwell import food_code_hold_s, required_dwell_s, strictest_product, target_after_growth
from cookbook.safety.finding import NOTE, STOP, WARN, Finding, by_gravity
from cookbook.safety.household import HouseholdMinimum, household_minimum
from cookbook.safety.integrity import Intact, intact
from cookbook.safety.keeping import (
    acid_line,
    keeping_days,
    keeping_finding,
    oil_days,
    oil_keeping_finding,
    raw_contact_finding,
    raw_for,
)
from cookbook.safety.oven import humidity_needed, oven_conforms
from cookbook.safety.reduction import Lethality, integrated_log10, lethality
from cookbook.safety.thawing import Thaw, thaw, thaw_band, thawing_finding
from cookbook.safety.timeout import Span, out_limit_min, time_out_finding
from cookbook.safety.told import Around, entry_safety, live_fire, recipe_cautions, recipe_safety
from cookbook.safety.trichinella import (
    trichinella_freeze_days,
    trichinella_frozen_hours,
    trichinella_heat_s,
    trichinella_safe,
)
from cookbook.safety.verdict import Cooked, cooked, forecast_findings, set_limit_c

__all__ = [
    "NOTE",
    "STOP",
    "WARN",
    "Around",
    "Caution",
    "ComeUp",
    "Cooked",
    "Cooled",
    "Cure",
    "Curve",
    "Finding",
    "HouseholdMinimum",
    "Intact",
    "Lethality",
    "Span",
    "Thaw",
    "acid_line",
    "allergen_words",
    "by_gravity",
    "cautions",
    "come_up",
    "cooked",
    "cooling",
    "cools",
    "cure",
    "curing_limit",
    "entry_safety",
    "fire_cautions",
    "food_code_hold_s",
    "forecast_findings",
    "household_minimum",
    "humidity_needed",
    "ingoing_ppm",
    "intact",
    "integrated_log10",
    "keeping_days",
    "keeping_finding",
    "lethality",
    "live_fire",
    "oil_days",
    "oil_keeping_finding",
    "out_limit_min",
    "oven_conforms",
    "raw_contact_finding",
    "raw_for",
    "recipe_cautions",
    "recipe_safety",
    "refuse_cure_by",
    "required_dwell_s",
    "set_limit_c",
    "strictest_product",
    "target_after_growth",
    "thaw",
    "thaw_band",
    "thawing_finding",
    "time_out_finding",
    "trichinella_freeze_days",
    "trichinella_frozen_hours",
    "trichinella_heat_s",
    "trichinella_safe",
]
