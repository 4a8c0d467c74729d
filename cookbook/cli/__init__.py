"""The command line: arguments in, one call of a lower room, the answer shown.

Each verb's parser and its call stand in a module of this folder; this one finds the verb and prints.
Nothing imports it; no rule of the trade lives here.
"""

from __future__ import annotations

import sys

VERBS: dict[str, tuple[str, str]] = {
    "new": ("kitchens", "make a kitchen: a folder with recipes, a journal and shared tables"),
    "demo": ("demo", "walk the main job, end to end, on a copy of the demonstration kitchen"),
    "check": ("kitchens", "read everything and report every fault"),
    "list": ("finding", "recipes and entries, newest use first"),
    "find": ("finding", "recipes and entries by words, cut, cooker, date, score"),
    "last": ("finding", "what to know before doing it again: last cooks, next time, questions, prices"),
    "show": ("recipes", "one recipe as a reader would want it"),
    "piece": ("pieces", "size and surface of one piece of meat"),
    "scale": ("scaling", "the recipe for this piece, by its coated surface"),
    "convert": ("pieces", "volume to mass and back, units, temperatures"),
    "weigh": ("pieces", "what a spoonful of an ingredient weighs in this kitchen"),
    "versions": ("recipes", "what versions of a recipe exist, and what changed"),
    "diff": ("recipes", "what changed between two versions or recipes"),
    "log": ("logging", "the journal: one plain line; start, reading, used, next, import, finish, undo …"),
    "import": ("importing", "make recipes of yours from loose texts, or from a schema.org Recipe"),
    "rename": ("importing", "give a recipe another name; its cooks and versions stay with it"),
    "adopt": ("learning", "turn what really went in into the recipe's next revision"),
    "compare": ("comparing", "outcomes of versions, recipes, cooks or conditions side by side"),
    "taste": ("tasting", "blind tastings of one change: plan, result"),
    "forecast": ("forecasting", "when it is done, how far it carries, who gets which slice"),
    "plan": ("planning", "the day: how much meat, when to light the fire, what to buy, who gets which slice"),
    "safety": ("safe", "limits that a recipe or a cook runs into; curing amounts by weight"),
    "card": ("publishing", "the recipe card: text, description, reply, page, paper, label …"),
    "releases": ("publishing", "what comes out when, what it lacks, what is out and overtaken"),
    "site": ("publishing", "the whole cookbook as a static site"),
    "page": ("paging", "the local page: the whole job by hand, on this machine or a phone beside the fire"),
}
"""Every verb: the module that holds it, and its line of help."""

_ABOUT = """\
usage: cookbook VERB …        cookbook VERB --help says what a verb takes

A cook journal and recipe-scaling library for large pieces of meat over live fire.

"""

_COMMON = """
Every verb takes --kitchen DIR (default: the nearest folder upwards that holds recipes/), --json (one JSON
document), --units us|metric|both, and --why (where each number comes from). Begin with: cookbook demo
"""


def help_text() -> str:
    """What `cookbook --help` prints."""
    width = max(map(len, VERBS)) + 2
    return _ABOUT + "".join(f"  {verb:<{width}}{line}\n" for verb, (_, line) in VERBS.items()) + _COMMON


def main(argv: list[str] | None = None) -> int:
    """Run one command and return its exit code: 0 done, 1 something wrong found, 2 at fault, 130 interrupted."""
    words = sys.argv[1:] if argv is None else argv
    if not words or words[0] in ("-h", "--help", "help"):
        sys.stdout.write(help_text())
        return 0
    if words[0] == "--version":
        from cookbook import __version__

        sys.stdout.write(f"cookbook {__version__}\n")
        return 0
    import gc

    from cookbook.cli.running import run

    # One short command makes little garbage: looking for it costs more than it frees.
    gc.set_threshold(200_000, 50, 50)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        code = run(words, VERBS)
        sys.stdout.flush()
        if argv is None:
            gc.freeze()  # the process ends here: its last look for garbage has nothing to find
        return code
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as fault:
        sys.stderr.write(f"error: {fault.filename or 'the answer'} could not be read or written: {fault.strerror}\n")
        return 2
