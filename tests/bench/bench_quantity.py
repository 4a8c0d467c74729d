"""Reading amounts beside `Fraction("1/2")`, and the weight table: `python -m tests.bench.bench_quantity`.

Reading is compared as a ratio in one run; the table is loaded in fresh interpreters and the quickest counts.
"""

from __future__ import annotations

import subprocess
import sys
import time
import timeit
from fractions import Fraction

from cookbook.quantity import Amount, lookup
from cookbook.table import rows

AMOUNTS = ("1/2 cup", "60 g", "1 1/2 tbsp", "3-4 tbsp", "2 cloves", "1.2 % of meat", "to taste", "1 lb 4 oz",
           "juice of 2 lemons",
           "1 (400 g) can", "1 cup plus 2 tbsp", "about 1 heaping tbsp")
MOST_RATIO, MOST_LOAD_MS, MOST_LOOKUP_MS = 30.0, 15.0, 0.2
LOAD = """
import time
import cookbook.quantity.weight as weight
start = time.perf_counter()
weight.lookup("salt, fine, of the table")
print((time.perf_counter() - start) * 1000)
"""


def reading_ratio(text: str) -> float:
    """How many times reading `text` costs the reading of a fraction; the two take turns, the quickest of each
    count."""
    ours, plain = [], []
    for _ in range(40):
        ours.append(timeit.timeit(lambda: Amount.parse(text), timer=time.process_time, number=200))
        plain.append(timeit.timeit(lambda: Fraction("1/2"), timer=time.process_time, number=200))
    return min(ours) / min(plain)


def load_ms() -> float:
    """The weight table's first lookup in a fresh interpreter, ms; the quickest of seven."""
    found = [subprocess.run([sys.executable, "-c", LOAD], check=True, capture_output=True, text=True)
             for _ in range(7)]
    return min(float(one.stdout) for one in found)


def lookup_ms() -> float:
    """The slowest lookup of all wordings of the table and of as many unknown ones, ms; none of them remembered."""
    lookup("fine salt")
    names = [name for row in rows("ingredient_names") for name in row["words"].split("; ")]
    worst = 0.0
    for name in (*names, *(f"{name} from the far hills, finely torn" for name in names)):
        takes = []
        for blanks in range(3):
            start = time.perf_counter()
            lookup(name + " " * blanks)
            takes.append(time.perf_counter() - start)
        worst = max(worst, min(takes))
    return worst * 1000


def main() -> int:
    """Print the table; 1 where a bound is passed."""
    late = 0
    for text in AMOUNTS:
        ratio = reading_ratio(text)
        late += ratio > MOST_RATIO
        print(f"{text:24} {ratio:5.1f} times Fraction('1/2'), at most {MOST_RATIO:g}")
    for what, found, most in (("weight table", load_ms(), MOST_LOAD_MS),
                              ("slowest lookup", lookup_ms(), MOST_LOOKUP_MS)):
        late += found > most
        print(f"{what:24} {found:5.2f} ms, at most {most:g}")
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main())
