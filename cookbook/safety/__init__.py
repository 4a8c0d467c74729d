"""Limits for what is cooked, kept, cured and burnt, each with its source, and what a cook runs into.

Holds the household charts, the tables for inspected plants and retail, keeping and time limits, curing, cautions.
May import quantity, table, meat, recipe, journal and errors; kitchen, plan, publish, cli and page may import it.
"""

from cookbook.safety.caution import Caution, cautions, fire_cautions
from cookbook.safety.finding import NOTE, STOP, WARN, Finding, by_gravity
from cookbook.safety.household import HouseholdMinimum, household_minimum

__all__ = [
    "NOTE",
    "STOP",
    "WARN",
    "Caution",
    "Finding",
    "HouseholdMinimum",
    "by_gravity",
    "cautions",
    "fire_cautions",
    "household_minimum",
]
