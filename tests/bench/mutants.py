"""Mutation testing of the three rooms that everything rests on: `python -m tests.bench.mutants [HOW-MANY] [SEED]`.

A mutant is the code with one small change; a test that fails kills it. Without a number every mutant is tried (days),
with one a seeded sample of each room. A survivor that only words a sentence otherwise is counted apart: no test pins
prose letter by letter; so is one that `EXPLAINED` says nobody can tell from the code. The others are printed, to be
killed by a test or understood. Works in a copy of the tree.
"""

from __future__ import annotations

import ast
import json
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
ROOMS = ("quantity", "safety", "files")
LEAST = 0.75
"""Of the mutants that do more than word a sentence otherwise, the share that must be killed."""
EXPLAINED = {
    'cloexec = getattr(os, "O_CLOEXEC", 1)': "every system that this lock is for has the flag",
    "self._put(Node(SCALAR, mark.line + 1, None, mark.index, end.index, text=written))":
        "a text with an alias in it is a problem, and nobody asks for the place of what stands there instead",
    "exact, span = Fraction(middle).limit_denominator(11**6), (amount.low + amount.high) / 2":
        "finer than any spoon either way",
    "if sign <= 0:": "a sign is 1 or -1",
    'return quantity(value / (100 if amount.kind == "percent" else 1), None)':
        "pint calls what has no unit dimensionless",
    'found = [Scoop("cup", Fraction(1, part), size) for part, size in zip(None, cup, strict=False)]':
        "the sets are made as the module loads, before a mutant is chosen",
    "start, end = spans.member_start(None, holder, index), spans.member_end(text, holder, index)":
        "in brackets a member begins at its own first character, for which the text is not read",
    'flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "o_binary", 0)':
        "the flag is one of Windows, where the tests of mutants do not run",
    'flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_CLOEXEC", 0) | getattr(os, "o_binary", 0)':
        "the same",
}
"""Lines of mutants that do what the code does, each with its reason."""
KILLED, SURVIVED = (1, 3, 24, 36, 152, 255, -24), 0
NAMES = ("cookbook", "recipes", "journal", "shared", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")


def main() -> None:
    """Make the mutants, try them, say what survived."""
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 0
    chance = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in NAMES:
            place = ROOT / name
            shutil.copytree(place, copy / name) if place.is_dir() else shutil.copy(place, copy / name)
        mutmut(copy, "cookbook.quantity.interval.*")
        wanted: list[str] = []
        for room in ROOMS:
            own = sorted(name for results in found(copy, room).values() for name in results)
            wanted += own if not how_many else chance.sample(own, min(len(own), how_many // len(ROOMS)))
        mutmut(copy, *wanted)
        sys.exit(told(copy, set(wanted)))


def mutmut(copy: Path, *names: str) -> None:
    """One run of the tool; what it draws is kept for where it fails."""
    done = subprocess.run([sys.executable, "-m", "mutmut", "run", *names], cwd=copy, capture_output=True, text=True,
                          check=False)
    if done.returncode:
        sys.exit(done.stdout[-3000:] + done.stderr[-3000:])


def found(copy: Path, room: str) -> dict[Path, dict[str, int | None]]:
    """By module, how the tests ended over each of its mutants; None for those not tried."""
    return {
        path: json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"]
        for path in sorted((copy / "mutants" / "cookbook" / room).glob("*.meta"))
    }


def told(copy: Path, wanted: set[str]) -> int:
    """Print the survivors and the count; 1 where too few were killed."""
    share = 1.0
    sums: Counter[str] = Counter()
    for room in ROOMS:
        counts: Counter[str] = Counter()
        for results in found(copy, room).values():
            for name, code in results.items():
                if name in wanted and code is not None:
                    counts[judged(copy, name, code)] += 1
        sums += counts
        tried = counts["killed"] + counts["survived"]
        share = min(share, counts["killed"] / tried if tried else 1.0)
        print(f"{room}: {dict(counts)}")
    print(f"{sums['killed']} killed, {sums['survived']} survive, {sums['wording']} only word a sentence otherwise, "
          f"{sums['explained']} are explained, {sums['unseen']} no test reaches; the least share killed in a room is "
          f"{share:.0%}")
    return int(share < LEAST)


def judged(copy: Path, name: str, code: int) -> str:
    """What became of one mutant; a survivor is printed."""
    if code in KILLED:
        return "killed"
    if code != SURVIVED:
        return "unseen"
    shown = subprocess.run([sys.executable, "-m", "mutmut", "show", name], cwd=copy, capture_output=True, text=True,
                           check=False).stdout.splitlines()
    sides = ["\n".join(line[1:] for line in shown if line.startswith(sign) and not line.startswith(sign * 3))
             for sign in ("-", "+")]
    if without_words(sides[0]) == without_words(sides[1]):
        return "wording"
    if sides[1].strip() in EXPLAINED:
        return "explained"
    print(f"-- {name}", "\n-> ".join(sides), sep="\n")
    return "survived"


def without_words(code: str) -> str:
    """The lines with every sentence in them empty: a text of more than one word, or an f-string."""
    plain = code
    for line in code.splitlines():
        for piece in pieces(line):
            plain = plain.replace(piece, '""')
    return " ".join(plain.split())


def pieces(line: str) -> list[str]:
    """The quoted texts of a line that hold a blank."""
    out, place = [], 0
    while (begin := line.find('"', place)) >= 0:
        end = begin + 1
        while end < len(line) and line[end] != '"':
            end += 2 if line[end] == "\\" else 1
        text = line[begin:end + 1]
        try:
            said = ast.literal_eval(text)
        except (ValueError, SyntaxError):
            said = ""
        if " " in said.strip() or "XX" in said:
            out.append(text)
        place = end + 1
    return out


if __name__ == "__main__":
    main()
