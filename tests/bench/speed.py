"""One table of how fast it is, each line beside its baseline in the same run: `python -m tests.bench.speed [ROWS…]`.

Every pair takes turns and the smallest of each counts; only ratios are asserted, seconds are of this machine. Rows:
start, index, check, forecast, card, page; all when none is named. DEVELOPERS.md shows the table.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import NamedTuple

from tests.bench import start
from tests.bench.turns import turns

CARD = 5.0
"""How many times a card may cost the bare loading of its kitchen's files and the bare setting of as many words."""
FIRST_CARD = 9.0
"""How many times the forecast of its own piece a cook's first card may take: that forecast and eleven runs more, for
every size, cooker and doneness, each of them at most seven tenths of it (a judgement)."""
RECIPES, ENTRIES = 400, 4000


class Row(NamedTuple):
    """What, what it is held against, the seconds of both, and how many times the baseline it may take."""

    what: str
    beside: str
    ours_s: float
    bare_s: float
    bound: float

    @property
    def cells(self) -> str:
        """The row as Markdown."""
        ratio = self.ours_s / self.bare_s
        held = "holds" if ratio <= self.bound else "TOO SLOW"
        times = f"{ratio:.2f}" if ratio >= 0.1 else f"1/{1 / ratio:.0f}"
        ours, bare = (f"{1000 * one:.1f} ms" if one < 1 else f"{one:.2f} s" for one in (self.ours_s, self.bare_s))
        return f"| {self.what} | {ours} | {self.beside} | {bare} | {times} | {self.bound:.2f} | {held} |"


def starting(folder: Path) -> Iterator[Row]:
    """The command line beside bare Python."""
    tool = str(start.BIN / "cookbook")
    subprocess.run([tool, "new", "kitchen", "--with-example"], check=True, capture_output=True, cwd=folder)
    time.sleep(2.1)  # files written within the last two seconds are never trusted to the cache
    for what, words in {"--help": ["--help"], "scale": ["scale", "fennel-sage-paste", "--weight", "4.4kg"]}.items():
        ours, bare = start.beside_bare([tool, *words], folder / "kitchen")
        yield Row(f"`cookbook {what}`, a whole process", "`python -c pass`", ours, bare, start.BOUNDS[what])


def indexing(folder: Path) -> Iterator[Row]:
    """The index beside what it rests on."""
    from tests.bench import bench_index
    from tests.bench.generated import make

    root = make(folder / "indexed", RECIPES, ENTRIES)
    bench_index.settle(root)
    for line in bench_index.measure(root, folder, 3):
        what, beside = line.what.split(" / ")
        yield Row(f"{what}, {ENTRIES} entries", beside, line.ours_s, line.bare_s, line.bound_s / line.bare_s)


def checking(folder: Path) -> Iterator[Row]:
    """`check` on all cores beside one process; the bound is what the cores give counting."""
    from cookbook.kitchen.checking.many import cores
    from tests.bench import bench_check
    from tests.bench.generated import make

    at_once = cores()
    if at_once < 2:
        return
    root = make(folder / "checked", RECIPES // 4, ENTRIES // 4)
    found = bench_check.measure(root, at_once, 3)
    beside = f"the same in one process ({at_once} that only count give {found.cores_give:.2f})"
    what = f"`check`, {ENTRIES // 4} entries, {at_once} processes"
    yield Row(what, beside, found.all_s, found.one_s, found.bound)


def forecasting(_: Path) -> Iterator[Row]:
    """The solver beside finite elements at equal error; a whole forecast of 200 members beside one fine run."""
    from tests.bench import bench_heat
    from tests.bench.heat_twins import ROASTS

    mine, elements = bench_heat.beside()[:2]
    yield Row("heat: a brick for four hours", "scikit-fem, no smaller error", mine[1], elements[1], 1.0)
    roast = ROASTS[0]
    many, one = turns(bench_heat.many(roast), bench_heat.one(roast), times=5)
    yield Row("`forecast`, 200 members", "one fine run", many, one, 20.0)


def carding(folder: Path) -> Iterator[Row]:
    """A card, which reads every cook, beside loading the kitchen's files with ruamel's C parser and bare Jinja2."""
    from jinja2 import Environment

    from cookbook import Kitchen, card
    from cookbook.kitchen.starter import new
    from tests.bench.bench_index import load_all

    root = new(folder / "carded", example=True)
    words = card(Kitchen.open(root), "fennel-sage-paste", "text").split(" ")
    template = Environment(autoescape=True).from_string("{% for one in words %}{{ one }} {% endfor %}")

    def bare() -> None:
        load_all(root)
        template.render(words=words)

    ours, plain = turns(lambda: card(Kitchen.open(root), "fennel-sage-paste", "text"), bare, times=30)
    yield Row("`card --as text`, 12 cooks", "the files with ruamel, the words with Jinja2", ours, plain, CARD)
    kitchen, fresh = Kitchen.open(root), count()

    def first() -> None:
        os.environ["XDG_CACHE_HOME"] = str(folder / f"cache-{next(fresh)}")
        card(kitchen, "rib-roast-on-oak", "text")

    ours, alone = turns(first, lambda: kitchen.forecast("rib-roast-on-oak", learn=False), times=5)
    yield Row("first card of a rib roast", "its own forecast, 200 members", ours, alone, FIRST_CARD)


def paging(folder: Path) -> Iterator[Row]:
    """The page beside a bare server."""
    from tests.bench import bench_page

    for line in bench_page.measure(folder / "paged"):
        what, beside = line.what.split(", beside ")
        yield Row(f"page: {what}", beside, line.ours_s, line.bare_s, line.bound)


ROWS = {"start": starting, "index": indexing, "check": checking, "forecast": forecasting, "card": carding,
        "page": paging}


def main() -> int:
    """Print the table; 1 where a bound is passed."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    print(f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}\n")
    print("| what | ours | beside | baseline | times | at most | |\n|---|---|---|---|---|---|---|")
    late = 0
    with tempfile.TemporaryDirectory() as name:
        for row in sys.argv[1:] or ROWS:
            for one in ROWS[row](Path(name)):
                late += one.ours_s > one.bound * one.bare_s
                print(one.cells, flush=True)
    print("\nall within their bounds" if not late else f"\n{late} beyond their bounds")
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main())
