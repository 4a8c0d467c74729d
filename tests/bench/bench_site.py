"""A site of a thousand recipes, made and made again, in one run: `python -m tests.bench.bench_site [RECIPES]`.

Pastes, rubs and sauces, some of them used in others, and cooks that share a few pieces, so that one forecast serves
many. Held against the first making of the same site in the same run. Only ratios are asserted.
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from cookbook.kitchen import Kitchen
from cookbook.publish.site import Site, site

NOTHING, ONE = 1 / 20, 1 / 10
"""So much of a first making a renewal may take with nothing changed; with one recipe or one line of a table."""
PIECES = (("pork loin, boneless", "2.2 kg", "60 °C"), ("rib roast, bone in", "3.9 kg", "50 °C"),
          ("leg of lamb, bone in", "2.6 kg", "58 °C"))
TASTES = ("black pepper, ground", "paprika", "fennel seed", "thyme, fresh", "garlic", "brown sugar", "cumin, ground",
          "yellow mustard", "olive oil", "lemon juice")
TIMES = 9


def texts(number: int) -> Iterator[tuple[str, str]]:
    """Name and text of so many recipes: one in ten a cook, one in ten with another inside."""
    pieces = len(PIECES)
    for n in range(number):
        cut, weight, pull = PIECES[n % pieces]
        made_for = f"made_for: {{cut: '{cut}', weight: {weight}}}\n"
        if n % 10 == 9:
            coat = f"mix-{(n - 9) // 100 * 100 + n % pieces}"
            yield f"cook-{n}", (f"kind: cook\ntitle: Number {n} over the fire\ncut: '{cut}'\nserves: 8\n{made_for}"
                                f"coats: [{{recipe: {coat}}}]\npit: {{temperature: 130 °C, cooker: drum}}\n"
                                f"pull_at: {pull}\nrest: {{time: 25 min}}\nsteps: [Coat it., Pull it at {pull}.]\n")
            continue
        lines = [f"- {{item: '{TASTES[(n + step) % len(TASTES)]}', amount: {5 + (7 * n + step) % 50} g}}"
                 for step in range(6)]
        lines += ["- {item: fine salt, amount: 1.1 % of meat}"]
        lines += [f"- {{recipe: mix-{n - 1}, amount: 20 g}}"] if n % 10 == 8 else []
        kind = "rub" if n % 2 else "paste"
        yield f"mix-{n}", (f"kind: {kind}\ntitle: Mix number {n}\n{made_for}ingredients:\n" + "\n".join(lines)
                           + "\nsteps: [Grind the seeds., Then mix.]\n")


def kitchen_of(folder: Path, number: int) -> Path:
    """A kitchen of so many recipes."""
    for part in ("recipes", "journal", "shared"):
        (folder / part).mkdir(parents=True)
    (folder / "shared" / "kitchen.yaml").write_text("name: Invented\nmeasures: us\naddress: https://example.org/site\n",
                                                    encoding="utf-8")
    for name, text in texts(number):
        (folder / "recipes" / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder


def seconds(root: Path, out: Path, told: Callable[[str], None] = lambda _name: None) -> tuple[float, Site]:
    """How long a site took, and what was made; `told` hears of each page that is made."""
    begun = time.perf_counter()
    made = site(Kitchen.open(root), out, told)
    return time.perf_counter() - begun, made


def renewals(root: Path, out: Path) -> Iterator[tuple[str, float, float, int]]:
    """What was changed, the seconds of the renewal, how much of a first making it may take, the pages made anew."""

    def titled(name: str, turn: int) -> None:
        path = root / "recipes" / f"{name}.yaml"
        text = path.read_text(encoding="utf-8")
        path.write_text(re.sub("title: .*", f"title: Turn {turn}", text), encoding="utf-8")

    def release(turn: int) -> None:
        line = f"- {{recipe: cook-9, address: 'https://example.org/film?{turn}'}}\n"
        (root / "shared" / "releases.yaml").write_text(line, encoding="utf-8")

    changes: list[tuple[str, float, Callable[[int], None]]] = [
        ("nothing changed", NOTHING, lambda _turn: None),
        ("a rub that cooks share", ONE, lambda turn: titled("mix-0", turn)),
        ("a cook", ONE, lambda turn: titled("cook-9", turn)),
        ("a release", ONE, release),
    ]
    for what, bound, change in changes:
        took, seen = [], list[str]()
        for turn in range(TIMES):
            change(turn)
            seen.clear()
            took.append(seconds(root, out, seen.append)[0])
        yield what, min(took), bound, len(seen)


def main() -> None:
    """Print the table; fails where a renewal takes more of a first making than its bound."""
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = str(Path(folder) / "cache")
        root = kitchen_of(Path(folder) / "kitchen", number)
        out = Path(folder) / "site"
        cold, made = seconds(root, out)
        print(f"{number} recipes, {len(made.pages)} pages")
        print(f"{'first, nothing kept yet':<28} {cold:8.2f} s")
        first, made = seconds(root, Path(folder) / "other")
        print(f"{'first, forecasts kept':<28} {first:8.2f} s")
        missed = []
        for what, took, bound, pages in renewals(root, out):
            print(f"{what:<28} {took:8.2f} s  {took / first:6.3f} of it, at most {bound:.3f}; {pages} made anew")
            missed += [what] if took > bound * first else []
    if missed:
        raise SystemExit(f"over the bound: {', '.join(missed)}")
    print("within the bounds")


if __name__ == "__main__":
    main()
