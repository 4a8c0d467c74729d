"""The dwell tables: how long every part must stay at a temperature, as printed on whole °F, never computed."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from functools import cache
from math import isfinite
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.safety.curve import floor_row
from cookbook.table import rows

MEATS = ("beef", "veal", "lamb", "pork", "venison")
BIRDS = ("chicken", "turkey")
OTHER_BIRDS = ("duck", "goose", "poultry")
PRODUCTS = (*MEATS, *BIRDS, *OTHER_BIRDS)
MEAT_LOG10, POULTRY_LOG10 = 6.5, 7.0
_MEAT_COLUMNS = {5.0: "dwell_s_5log_Table6", 6.5: "dwell_s_6.5log_Table2", 7.0: "dwell_s_7log_Table2"}
_FATTEST_PERCENT = 12


class Dwell(NamedTuple):
    """One column of a table: whole °F rising, seconds falling, the last of them 0 (reached is enough)."""

    log10: float
    rows_f: tuple[int, ...]
    seconds: tuple[float, ...]
    source: str

    @property
    def first_f(self) -> int:
        """Below this the table gives no credit."""
        return self.rows_f[0]

    @property
    def instant_f(self) -> int:
        """From here on reaching it is enough."""
        return self.rows_f[self.seconds.index(0.0)]

    def seconds_at(self, core_f: float) -> float:
        """The printed dwell of the row at or below `core_f`, in s. Raises RequestError below the table."""
        row = floor_row(core_f)
        if row < self.first_f:
            raise RequestError(
                f"{core_f:g} °F is outside the table, which begins at {self.first_f} °F: there is no dwell for it",
                mend=f"only time at {self.first_f} °F and above counts",
            )
        return self.seconds[bisect_right(self.rows_f, row) - 1]


def required_dwell_s(product: str, core_f: float, log10: float | None = None,
                     fat_percent: float | None = None) -> float:
    """Seconds that every part must stay at `core_f` [°F] or above, by the row at or below it; 0 means at once.

    `log10` is 5, 6.5 (default) or 7 for meat and 7 for poultry; `fat_percent` counts for poultry, 12 where unknown.
    Raises RequestError below the table, UnknownName for a product. Source: FSIS-GD-2021-14, Tables 2, 3, 4 and 6.

    >>> required_dwell_s("beef", 140)
    720.0
    """
    return dwell_table(product, log10, fat_percent).seconds_at(core_f)


def dwell_table(product: str, log10: float | None = None, fat_percent: float | None = None) -> Dwell:
    """The column of the tables for a product. Raises UnknownName, RequestError."""
    name = product_named(product)
    if fat_percent is not None and not (isfinite(fat_percent) and 0 <= fat_percent <= 100):
        raise RequestError(f"{fat_percent} is no percentage of fat", mend="give 0 to 100, or nothing if unknown")
    if name in MEATS:
        return _meat(MEAT_LOG10 if log10 is None else log10)
    if log10 not in (None, POULTRY_LOG10):
        raise RequestError(f"there is no {log10:g}-log table for poultry", mend="the poultry tables are for 7 log")
    birds = BIRDS if name in OTHER_BIRDS else (name,)
    return _longest(_poultry(bird, fat) for bird in birds for fat in _fat_columns(fat_percent))


def product_named(product: str) -> str:
    """The tables' own word for a product. Raises UnknownName with the nearest words."""
    wanted = " ".join(product.casefold().split())
    if wanted in PRODUCTS:
        return wanted
    from difflib import get_close_matches

    raise UnknownName("product of the dwell tables", product, get_close_matches(wanted, PRODUCTS, 3))


def strictest_product(products: Iterable[str]) -> tuple[str, float]:
    """For a mixture: its product and log10. Any poultry makes it the poultry table at 7 log (p. 19, 36)."""
    names = dict.fromkeys(product_named(product) for product in products)
    if not names:
        raise RequestError("a mixture of nothing", mend="name at least one product")
    birds = [name for name in names if name not in MEATS]
    if birds:
        return (birds[0] if len(names) == 1 else "poultry"), POULTRY_LOG10
    return next(iter(names)), MEAT_LOG10


def target_after_growth(log10: float, growth_log10: float) -> float:
    """The reduction to ask for after predicted growth: both add up (FSIS-GD-2021-14 p. 71)."""
    if not (isfinite(growth_log10) and growth_log10 >= 0):
        raise RequestError(f"{growth_log10} is no growth", mend="growth is 0 or more, in log10")
    return log10 + growth_log10


def food_code_hold_s(core_f: float) -> float:
    """Seconds of hold for a whole roast by FDA Food Code 3-401.11(B), by the row at or below `core_f` [°F]."""
    held = [row for row in rows("safety_foodcode_roasts") if row["rule"] == "roast_hold"]
    return Dwell(MEAT_LOG10, tuple(int(row["temp_F"]) for row in held), tuple(float(row["hold_s"]) for row in held),
                 "food-code-3-401-11").seconds_at(core_f)


@cache
def _meat(log10: float) -> Dwell:
    if log10 not in _MEAT_COLUMNS:
        raise RequestError(f"there is no {log10:g}-log table for meat", mend="the tables are for 5, 6.5 and 7 log")
    table = rows("safety_lethality_meat")
    return Dwell(log10, tuple(int(row["temp_F"]) for row in table),
                 tuple(float(row[_MEAT_COLUMNS[log10]]) for row in table), "fsis-2021-14-meat")


@cache
def _poultry(bird: str, fat: int) -> Dwell:
    table = [row for row in rows("safety_lethality_poultry") if row["species"] == bird]
    return Dwell(POULTRY_LOG10, tuple(int(row["temp_F"]) for row in table),
                 tuple(float(row[f"dwell_s_7log_fat{fat}pct"]) for row in table), "fsis-2021-14-poultry")


def _fat_columns(fat_percent: float | None) -> tuple[int, ...]:
    """The printed columns on both sides of a share of fat; the last one where it is unknown or beyond."""
    if fat_percent is None or fat_percent > _FATTEST_PERCENT:
        return (_FATTEST_PERCENT,)
    low = max(1, int(fat_percent))
    return (low, low + 1) if fat_percent > low else (low,)


def _longest(columns: Iterable[Dwell]) -> Dwell:
    """Row by row the longer dwell of columns that share their rows."""
    several = tuple(columns)
    seconds = tuple(max(row) for row in zip(*(column.seconds for column in several), strict=True))
    return several[0]._replace(seconds=seconds)
