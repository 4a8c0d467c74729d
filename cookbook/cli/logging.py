"""`log`: the journal at the pit. What can't be read is kept as a note; nothing is refused there."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from cookbook.cli import intake
from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, common, filled
from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import jumped, moment, now
from cookbook.kitchen.log import logbook
from cookbook.kitchen.log.loglines import ABOUT

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from cookbook.kitchen.log.line import LogLine
    from cookbook.recipe.scaling import Scaled


def _options(parser: Parser) -> None:
    verbs = parser.add_subparsers(dest="what", metavar="WHAT", required=True, help="what to log")
    start = _verb(verbs, "start", "begin an entry, with the day's sheet")
    start.add_argument("recipe", metavar="RECIPE", nargs="?", help="the recipe that is cooked")
    start.add_argument("--new", metavar="TITLE", help="or a working title: no recipe yet")
    start.add_argument(
        "--kind",
        choices=("paste", "rub", "brine", "sauce", "cook"),
        default="paste",
        help="what is being made under the working title",
    )
    start.add_argument("--cut", metavar="CUT", help="the cut; needed under a working title")
    start.add_argument("--bowl", metavar="MASS", help="the empty bowl on the balance")
    start.add_argument(
        "--from-memory", action="store_true", help="remembered, or from an old notebook: words may stand for amounts"
    )
    start.add_argument("--start", metavar="TEMP", help="core temperature when it goes on")
    piece_options(start)
    reading = _verb(verbs, "reading", "a temperature: 48C, or core=48C pit=121C")
    reading.add_argument("values", metavar="[PROBE=]TEMP", nargs="+", help="core, surface or pit; core where unsaid")
    reading.add_argument("--probe", metavar="NAME", help="which probe, where there are several")
    reading.add_argument("--depth", metavar="LENGTH", help="how deep below the surface, if not in the core: 3cm")
    event = _verb(verbs, "event", "what was done: lit, on, turned, sprayed, wrapped, wood added, pulled, sliced …")
    event.add_argument("did", metavar="WHAT", nargs="+", help="what was done")
    _used_options(_verb(verbs, "used", "what really went in"))
    for name, about in (
        ("taste", "what a taste in between said"),
        ("note", "anything worth keeping"),
        ("next", "what to do next time"),
        ("take", "what is being filmed"),
    ):
        said_of = _verb(verbs, name, about)
        said_of.add_argument("words", metavar="WORDS", nargs="+", help=about)
        if name == "next":
            said_of.add_argument("--done", action="store_true", help="tick the open line that holds these words")
    _otherwise_options(_verb(verbs, "otherwise", "what was done otherwise than the recipe says"))
    overall = _verb(verbs, "about", "what is true of the whole cook: cooker, wood, weather, who helped, price …")
    overall.add_argument("field", metavar="WHAT", help=", ".join(ABOUT))
    overall.add_argument("words", metavar="WORDS", nargs="+", help="in your own words")
    finish = _verb(verbs, "finish", "close the entry, with scores")
    finish.add_argument("--score", metavar="ASPECT=N", action=_Score, help="0 to 10, halves allowed, ten is best")
    finish.add_argument("--by", metavar="TASTER", action=_Score, help="who gave the scores before it")
    finish.add_argument("--served", metavar="TEMP", help="core temperature when sliced")
    finish.add_argument("--weight-after", metavar="MASS", help="the piece after the cook")
    scores = _verb(verbs, "score", "scores alone, before or after the end of the cook")
    scores.add_argument("scores", metavar="ASPECT=N", nargs="+", help="0 to 10, halves allowed, ten is best")
    scores.add_argument("--by", metavar="TASTER", help="who gave them")
    picture = _verb(verbs, "photo", "a picture, kept beside the entry")
    picture.add_argument("path", metavar="FILE", type=filled, help="the picture")
    picture.add_argument("--caption", metavar="WORDS", help="what it shows")
    intake.options(_verb(verbs, "import", "a probe's log: any table of times and temperatures"))
    _verb(verbs, "undo", "take back the last line")
    _verb(verbs, "line", "anything in your own words").add_argument(
        "words", metavar="WORDS", nargs="+", help="the line"
    )


_KNOWN = (
    *("start", "reading", "event", "used", "taste", "note", "next", "take", "photo", "otherwise", "about"),
    *("finish", "score", "undo", "import", "line"),
)


def _words(typed: list[str]) -> list[str]:
    """A plain line needs no verb."""
    if not typed or typed[0] in _KNOWN or (typed[0].startswith("--") and any(word in _KNOWN for word in typed)):
        return typed
    if {"-h", "--help"} & set(typed):
        return typed
    return ["line", *typed]


def _verb(verbs: Any, name: str, about: str) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = verbs.add_parser(name, help=about, description=about, allow_abbrev=False)
    if name != "undo":
        parser.add_argument("--at", metavar="TIME", help='when: 14:05, "yesterday 11:05"')
    if name != "start":
        parser.add_argument("--entry", metavar="ENTRY", help="which entry; the open one where unsaid")
        parser.add_argument("--piece", metavar="NAME", help="which piece")
    common(parser)
    return parser


def _used_options(used: argparse.ArgumentParser) -> None:
    used.add_argument("item", metavar="ITEM", help='what went in; "bowl" for the bowl itself')
    used.add_argument("amount", metavar="AMOUNT", nargs="?", help="all of it that went in")
    used.add_argument("--more", metavar="A", help="more than the day's sheet")
    used.add_argument("--less", metavar="A", help="less than the day's sheet")
    used.add_argument("--left-out", action="store_true", help="none of it went in")
    used.add_argument("--instead", metavar="ITEM", help="what went in in its place")
    used.add_argument("--reads", metavar="MASS", help="what the balance reads with the bowl on it")
    used.add_argument("--before", metavar="MASS", help="the jar (or the bowl) before")
    used.add_argument("--after", metavar="MASS", help="the jar (or the bowl) after")
    used.add_argument("--had", metavar="MASS", help="what was prepared")
    used.add_argument("--left", metavar="MASS", help="what was left of it")
    used.add_argument("--in", metavar="RECIPE", dest="into", help="which recipe it went into")


def _otherwise_options(otherwise: argparse.ArgumentParser) -> None:
    otherwise.add_argument("did", metavar="WORDS", nargs="*", help="what was done instead")
    for name, like, about in (
        ("step", "N", "which step of the recipe it took the place of"),
        ("pit", "TEMP", "the air around the meat"),
        ("pull-at", "TEMP", "core temperature at which it came off"),
        ("rest", "TIME", "the wait before slicing"),
        ("cooker", "NAME", "the device"),
        ("fuel", "WORDS", "what burned"),
        ("wood", "WORDS", "what smoked"),
        ("wrap", "WORDS", "what it was wrapped in"),
        ("wrap-at", "TEMP", "core temperature at which it was wrapped"),
        ("because", "WORDS", "the reason"),
    ):
        otherwise.add_argument(f"--{name}", metavar=like, help=about)


class _Score(argparse.Action):
    """Collects scores; `--by` names the taster of those before it that have none."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        option_string: str | None = None,
    ) -> None:
        scores: list[list[str | None]] = getattr(namespace, "scores", None) or []
        if self.dest == "score":
            scores = [*scores, [values, None]]
        else:
            scores = [[score, taster or values] for score, taster in scores]
        namespace.scores = scores


def _run(arguments: argparse.Namespace) -> Answer:
    kitchen = Kitchen.open(arguments.kitchen)
    if arguments.what == "start":
        return _start(kitchen, arguments)
    if arguments.what == "undo":
        from cookbook.kitchen.log import undoing

        entry = logbook.open_entry(kitchen, arguments.entry or undoing.last_written(kitchen))
        words = undoing.undo(kitchen, entry)
        return Answer({"entry": entry.name, "read": words, "warnings": []}, f"{entry.name}: taken back: {words}")
    if getattr(arguments, "done", False):
        from cookbook.kitchen.log.reminders import tick

        line = tick(kitchen, " ".join(arguments.words), moment(arguments.at).date())
        words = f"ticked: {line.line}"
        return Answer({"entry": line.entry, "read": words, "warnings": []}, f"{line.entry}: {words}")
    entry = logbook.open_entry(kitchen, arguments.entry)
    if arguments.what == "score":
        arguments.scores = [[words, arguments.by] for words in arguments.scores]
        del arguments.by
    if arguments.what == "import":
        return intake.run(kitchen, entry, arguments)
    if arguments.what == "photo":
        return intake.picture(kitchen, entry, arguments)
    return _log(kitchen, entry, arguments)


def _log(kitchen: Kitchen, entry: Entry, arguments: argparse.Namespace) -> Answer:
    """Log one line; what can't be read goes in as a note with its words."""
    from cookbook.kitchen.log import loglines

    warnings: list[str] = []
    here = now()
    if hasattr(arguments, "words") and not " ".join(arguments.words).strip():
        raise RequestError("nothing was said", mend="say something, such as `core 48C pit 121C`", code="usage")
    try:
        line = _line(kitchen, entry, arguments, here)
    except RequestError as fault:
        words = " ".join(_typed(arguments))
        line = loglines.unread(words, here)
        warnings.append(
            f"kept as a note, since it could not be read: {fault.message}" + (f"; {fault.mend}" if fault.mend else "")
        )
    else:
        warnings += _open_questions(arguments, line, here, entry)
    before = entry
    try:
        entry = logbook.add(kitchen, entry, line.change, line.words)
        warnings += filter(None, [loglines.out_of_turn(before, entry)])
    except RequestError as fault:
        line = loglines.unread(" ".join(_typed(arguments)), here)
        warnings.append(f"kept as a note: {fault.message}")
        entry = logbook.add(kitchen, entry, line.change, line.words)
    data = {"entry": entry.name, "read": line.words, "warnings": warnings}
    return Answer(data, f"{entry.name}: {line.words}", warnings=tuple(warnings))


def _line(kitchen: Kitchen, entry: Entry, arguments: argparse.Namespace, here: datetime) -> LogLine:
    from cookbook.kitchen.log import loglines

    scale, weights = kitchen.settings.get("temperature"), logbook.weights_of(kitchen)
    if arguments.what == "line":
        from cookbook.kitchen.log.plainlines import plain_line

        words = " ".join(arguments.words).strip()
        return plain_line(entry, words, arguments.at, here, scale, weights, arguments.piece)
    at = moment(arguments.at, here, entry.date)
    return loglines.line_of(entry, arguments.what, vars(arguments), at, scale, weights)


def _open_questions(arguments: argparse.Namespace, line: LogLine, here: datetime, entry: Entry) -> list[str]:
    """What of a line that was read is open: parts of it that weren't, a clock that jumped."""
    found = list(line.doubts)
    if arguments.what == "line" and line.unread:
        found.insert(
            0, "kept as a note, since nothing in it could be read; `log note` keeps words that are only words"
        )
    jump = jumped(arguments.at, moment(arguments.at, here, entry.date))
    return [*found, *([jump] if jump else [])]


def _typed(arguments: argparse.Namespace) -> list[str]:
    """What was typed, as near as the parsed options tell it."""
    words = [] if arguments.what == "line" else [arguments.what]
    for key, value in vars(arguments).items():
        if value in (None, False, []) or key in ("what", "json", "kitchen", "units", "why", "entry", "pieces"):
            continue
        shown = " ".join(map(str, value)) if isinstance(value, list) and key != "scores" else str(value)
        if key == "scores":
            shown = ", ".join(f"{score} by {taster}" if taster else str(score) for score, taster in value)
        name = {"into": "in", "scores": "score"}.get(key, key.replace("_", "-"))
        words.append(shown if key in ("values", "did", "words", "item", "amount", "field")
                     else f"--{name}" if value is True else f"--{name} {shown}")
    return words


def _start(kitchen: Kitchen, arguments: argparse.Namespace) -> Answer:
    if arguments.from_memory:
        return _remember(kitchen, arguments)
    at = moment(arguments.at)
    pieces = said(arguments)
    if arguments.new is not None:
        if arguments.cut is None:
            raise RequestError(
                "which cut is it for?", mend='name it with --cut, for example --cut "pork loin, boneless"'
            )
        entry = logbook.start_new(
            kitchen, arguments.new, arguments.kind, arguments.cut, pieces, at, arguments.bowl, arguments.start
        )
    elif arguments.recipe is None:
        raise RequestError(
            "which recipe is it?", mend="name one, or begin without with --new TITLE --cut CUT", code="usage"
        )
    else:
        entry = logbook.start(
            kitchen, arguments.recipe, pieces, at, arguments.start, arguments.cut, arguments.bowl
        )
    inside = logbook.goes_into(kitchen, arguments.recipe, pieces, arguments.cut) if entry.sheet else []
    data = {
        "entry": entry.name,
        "version": entry.version,
        "sheet": entry.written_sheet(),
        "inside": [
            {
                "recipe": one.recipe.name,
                "into": outer.recipe.name,
                "sheet": logbook.amounts_of(one),
                "notes": list(one.notes),
            }
            for one, outer in inside
        ],
    }
    return Answer(data, _start_text(kitchen, entry, inside))


def _remember(kitchen: Kitchen, arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.log.remembering import remember, unknown_cut

    if (arguments.recipe is None) == (arguments.new is None):
        raise RequestError("which recipe is it?", mend="name one, or a working title with --new TITLE", code="usage")
    when = arguments.at or now().date().isoformat()
    entry = remember(kitchen, when, arguments.recipe, arguments.new, arguments.kind, arguments.cut, said(arguments))
    lines = [f"journal entry {entry.name}, from memory: it is shown and found, never counted"]
    open_cut = unknown_cut(kitchen, arguments.cut)
    notes = [f"{open_cut}; it stays as your words, found by them and by no cut's name"] if open_cut else []
    lines += [f"  note: {note}" for note in notes] + [f"  add to it with --entry {entry.name}"]
    return Answer({"entry": entry.name, "version": None, "sheet": {}, "notes": notes}, "\n".join(lines))


def _start_text(kitchen: Kitchen, entry: Entry, inside: Sequence[tuple[Scaled, Scaled]]) -> str:
    from cookbook.cli.running import bold, table
    from cookbook.kitchen.history import label_of
    from cookbook.kitchen.log import reminders

    lines = [f"journal entry {bold(entry.name)}"]
    if entry.recipe and entry.version:
        lines.append(f"{entry.recipe}, {label_of(kitchen, entry.recipe, entry.version)}")
    sheets: list[tuple[str, dict[str, str], tuple[str, ...]]]
    sheets = [(recipe, amounts, ()) for recipe, amounts in entry.written_sheet().items()]
    sheets += [
        (f"{one.recipe.name}, {'for' if one.notes else 'as much as goes into'} {outer.recipe.name}",
         logbook.amounts_of(one), one.notes)
        for one, outer in inside
    ]
    for head, amounts, notes in sheets:
        lines += [
            "",
            f"the day's sheet, {head}:",
            table([[written, item] for item, written in amounts.items()], right=(0,)),
            *(f"note: {note}" for note in notes),
        ]
    lines += [f"last time you said: {one.line}" for one in reminders.for_entry(kitchen, entry)]
    return "\n".join(lines)


VERBS = {"log": Verb(_options, _run, nested=True, words=_words)}
