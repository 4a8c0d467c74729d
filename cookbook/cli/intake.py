"""`log import` and `log photo`: what comes from a file. What it leaves open is asked, or said how to say."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING, Any

from cookbook.cli.running import Answer, filled
from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import moment, now

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cookbook.journal.probelog import Doubt, ProbeLog, Said

_SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|", "blank": " "}


def options(parser: argparse.ArgumentParser) -> None:
    """The options of `log import`: each settles what a file may leave open."""
    parser.add_argument("path", metavar="FILE", type=filled, help="the file, as it came from the probe")
    parser.add_argument("--scale", choices=("C", "F"), help="the scale of its temperatures")
    parser.add_argument("--separator", choices=(*_SEPARATORS, *",;|"), help="what stands between the columns")
    parser.add_argument("--decimal", choices=(",", "."), help="what stands before decimals")
    parser.add_argument("--elapsed", choices=("s", "min", "h"), help="what its times count, from --at on")
    parser.add_argument("--dates", choices=("day-first", "month-first"), help="how 3/4 is meant")
    parser.add_argument(
        "--column",
        metavar="COLUMN=PROBE",
        action="append",
        default=[],
        help="what a column is, by its number or title: 2=core, Left=core left, 3=pit, 4=ignore",
    )


def run(kitchen: Kitchen, entry: Entry, arguments: argparse.Namespace) -> Answer:
    """Read the file, ask what is unsure, keep it beside the entry."""
    from cookbook.kitchen.log.intake import content, far_away, take_in

    if arguments.piece is not None and arguments.piece not in {piece.name for piece in entry.pieces}:
        named = ", ".join(piece.name for piece in entry.pieces if piece.name) or "none is named"
        raise RequestError(f"no piece of this entry is called '{arguments.piece}'", mend=f"its pieces: {named}")
    data = content(arguments.path)
    log = _understood(data, kitchen, entry, arguments)
    entry, name = take_in(kitchen, entry, data, log, arguments.piece, arguments.path)
    marked = [f"{count} marked {mark}" for mark, count in log.marked().items()]
    far = far_away(entry, log)
    warnings = (far,) if far is not None else ()
    said = [*log.understood, f"{', '.join(marked)}: kept, not counted" if marked else "nothing had to be marked"]
    answer: dict[str, Any] = {
        "entry": entry.name,
        "read": f"readings {name}",
        "readings": name,
        "understood": list(log.understood),
        "marked": log.marked(),
        "warnings": list(warnings),
    }
    text = "\n".join([f"{entry.name}: readings {name}", *(f"  {line}" for line in said)])
    return Answer(answer, text, warnings=warnings)


def picture(kitchen: Kitchen, entry: Entry, arguments: argparse.Namespace) -> Answer:
    """Keep a picture beside the entry."""
    from cookbook.kitchen.log.intake import take_photo

    entry, words = take_photo(kitchen, entry, arguments.path, arguments.caption)
    return Answer({"entry": entry.name, "read": words, "warnings": []}, f"{entry.name}: {words}")


def _understood(data: bytes, kitchen: Kitchen, entry: Entry, arguments: argparse.Namespace) -> ProbeLog:
    """What the file says; on a terminal each doubt is asked, elsewhere all are said at once. Raises RequestError."""
    from cookbook.journal.probelog import understand

    scale = kitchen.settings.get("temperature")
    while True:
        log = understand(data, _said(arguments, entry), entry.date, scale)
        if not log.doubts:
            return log
        if not sys.stdin.isatty() or arguments.json:
            raise RequestError(
                "this file leaves open " + "; and ".join(doubt.what for doubt in log.doubts),
                mend="say it with " + "; and ".join(doubt.option for doubt in log.doubts),
                code="unsure",
            )
        for line in log.understood:
            sys.stdout.write(f"  {line}\n")
        _ask(arguments, log.doubts[0])


def _said(arguments: argparse.Namespace, entry: Entry) -> Said:
    from cookbook.journal.probelog import Said as Told

    columns: dict[str, str] = {}
    for words in arguments.column:
        key, equals, role = words.rpartition("=")
        if not equals:
            raise RequestError(f"'{words}' says nothing of a column", mend="write it like --column 2=core")
        columns[key.strip()] = role.strip()
    return Told(
        start=moment(arguments.at, now(), entry.date) if arguments.at else None,
        scale=arguments.scale,
        separator=_SEPARATORS.get(arguments.separator, arguments.separator),
        decimal=arguments.decimal,
        elapsed=arguments.elapsed,
        day_first=None if arguments.dates is None else arguments.dates == "day-first",
        columns=columns,
    )


def _ask(arguments: argparse.Namespace, doubt: Doubt) -> None:
    """Ask one doubt and put the answer where its option would; the option's own words answer too."""
    sys.stdout.write(f"It is open {doubt.what}. ({doubt.option}) ")
    sys.stdout.flush()
    line = sys.stdin.readline()
    if not line:
        raise RequestError("nobody answered", mend=f"say it with {doubt.option}", code="unsure")
    answer = line.strip()
    name = doubt.option.split()[0].removeprefix("--")
    if name == "column":
        head = doubt.option.removeprefix("--column ").split("=")[0]
        arguments.column.append(answer if "=" in answer else f"{head}={answer}")
    elif name == "at":
        arguments.at = answer
    else:
        setattr(arguments, name, _choice(answer, _offered(doubt.option)))


def _offered(option: str) -> Sequence[str]:
    """`--scale C or --scale F` offers C and F."""
    words = option.replace(" or ", " ").split()
    return [word for word in words if not word.startswith("--")]


def _choice(answer: str, offered: Sequence[str]) -> str | None:
    """The offered word that an answer means; None asks again."""
    plain = answer.removeprefix("--").split()[-1:] or [""]
    fits = [word for word in offered if word.casefold().startswith(plain[0].casefold())] if plain[0] else []
    return fits[0] if len(fits) == 1 else None
