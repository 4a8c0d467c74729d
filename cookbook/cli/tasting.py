"""`taste`: blind tastings of one change, planned and read out."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from cookbook.cli.running import Answer, Parser, Verb, bold, common, table
from cookbook.errors import RequestError

if TYPE_CHECKING:
    from cookbook.compare.tasting import Plan, Result

_KIND = "triangle (two the same, one other) or preference (which of two)"


def _options(parser: Parser) -> None:
    verbs = parser.add_subparsers(dest="what", metavar="WHAT", required=True, help="plan or result")
    plan = verbs.add_parser("plan", help="who gets what, under which code", allow_abbrev=False)
    result = verbs.add_parser("result", help="what the answers say", allow_abbrev=False)
    for one in (plan, result):
        one.add_argument("kind", metavar="KIND", help=_KIND)
        one.add_argument("--tasters", metavar="Ada,Ben,… | N", help="who tastes, or how many")
        one.add_argument("--seed", metavar="N", type=int, help="the same number deals the same plan again")
        common(one)
    plan.add_argument("--a", metavar="WORDS", default="A", help="what A is, for the kitchen's key")
    plan.add_argument("--b", metavar="WORDS", default="B", help="what B is")
    result.add_argument("--answer", metavar="TASTER=CODE", action="append", default=[], help="what a taster named")
    result.add_argument("--count", metavar="K", type=int, help="instead: so many were right (or liked B better)")
    result.add_argument("--of", metavar="N", type=int, help="of so many answers")


def _run(arguments: argparse.Namespace) -> Answer:
    return _plan(arguments) if arguments.what == "plan" else _result(arguments)


def _names(words: str | None) -> list[str]:
    if not words:
        raise RequestError("who tastes?", mend="say it with --tasters Ada,Ben,Dov or --tasters 12")
    if words.strip().isdigit():
        return [f"taster {number}" for number in range(1, int(words[:6]) + 1)]
    return [name.strip() for name in words.split(",") if name.strip()]


def _plan(arguments: argparse.Namespace) -> Answer:
    from random import SystemRandom

    from cookbook.compare.binomial import LEVEL
    from cookbook.compare.tasting import plan, power_of, tasters_needed

    seed = arguments.seed if arguments.seed is not None else SystemRandom().randrange(1_000_000)
    made = plan(arguments.kind, _names(arguments.tasters), seed)
    tasters = len(made.servings)
    data = {
        "kind": made.kind.name,
        "question": made.kind.question,
        "seed": seed,
        "key": {"A": arguments.a, "B": arguments.b},
        "servings": [
            {
                "taster": one.taster,
                "codes": [portion.code for portion in one.portions],
                "samples": [portion.sample for portion in one.portions],
            }
            for one in made.servings
        ],
        "level": float(LEVEL),
        "power": round(power_of(made.kind.name, tasters), 4),
        "tasters_needed": tasters_needed(made.kind.name),
    }
    return Answer(data, _sheet(made, data))


def _sheet(made: Plan, data: Mapping[str, Any]) -> str:
    serve = [[one.taster, *(str(portion.code) for portion in one.portions), "____"] for one in made.servings]
    places = ["left", "middle", "right"] if len(made.kind.orders[0]) > 2 else ["left", "right"]
    from shlex import quote

    a, b = data["key"]["A"], data["key"]["B"]
    tasters = [one.taster for one in made.servings]
    who = str(len(tasters)) if tasters == _names(str(len(tasters))) else ",".join(tasters)
    served = f"--tasters {quote(who)} --seed {made.seed}"
    key = [[one.taster, *(f"{p.code} {p.sample}" for p in one.portions)] for one in made.servings]
    return "\n".join(
        [
            bold(f"Serving sheet: {made.kind.question} Taste from left to right; guess if you can't tell."),
            table(serve, ["taster", *places, "answer"]),
            "",
            bold("Key, for the kitchen alone" + (f": A is {a}, B is {b}" if (a, b) != ("A", "B") else "")),
            table(key),
            "",
            f"If half the tasters really notice, so many find it with {data['power']:.0%} chance;",
            f"{data['tasters_needed']} tasters find it four times in five.",
            f"Read out: cookbook taste result {made.kind.name} {served} --answer TASTER=CODE …",
        ]
    )


def _result(arguments: argparse.Namespace) -> Answer:
    from cookbook.compare.tasting import result

    hit, of = _counted(arguments)
    found = result(arguments.kind, hit, of)
    return Answer(found.json(), _read_out(found))


def _counted(arguments: argparse.Namespace) -> tuple[int, int]:
    from cookbook.compare.tasting import hits, plan

    if not arguments.answer:
        if arguments.count is None or arguments.of is None:
            raise RequestError(
                "what were the answers?", mend="--answer Ada=512 with the plan's seed, or --count 9 --of 15"
            )
        return arguments.count, arguments.of
    if arguments.seed is None:
        raise RequestError(
            "which plan was it?", mend="say the plan's --seed, and the same --tasters in the same order"
        )
    answers = {}
    for words in arguments.answer:
        taster, sign, code = (part.strip() for part in words.partition("="))
        if not sign or not code.isdigit():
            raise RequestError(f"'{words}' is no answer", mend="write it like --answer Ada=512")
        if taster in answers:
            raise RequestError(f"{taster} answered twice", mend="one --answer for each taster")
        answers[taster] = int(code)
    return hits(plan(arguments.kind, _names(arguments.tasters), arguments.seed), answers)


def _read_out(found: Result) -> str:
    low, high = found.noticed
    who = "of the tasters really tell" if found.kind == "triangle" else "lead of B over A among the tasters"
    needed = f"{found.needed} would be beyond chance" if found.needed is not None else "too few for any verdict"
    return "\n".join(
        [
            bold(found.verdict),
            f"  {found.hits} of {found.of}; guessing alone does as well with {found.chance:.1%} chance; {needed}",
            f"  {low:.0%} to {high:.0%}: {who}",
            f"  if half of them did, so many tasters would have found it with {found.power:.0%} chance,",
            f"  and {found.tasters_needed} tasters four times in five",
        ]
    )


VERBS = {"taste": Verb(_options, _run, nested=True)}
