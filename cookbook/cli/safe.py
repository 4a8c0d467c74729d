"""`safety`: what a recipe or an entry runs into; `safety cure`: curing amounts by weight."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import Any

from cookbook.cli.running import Answer, Parser, Verb, bold, common
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.safety import Finding

_WORDS = {"stop": "stop", "warn": "take care", "note": "to know"}


def _options(parser: Parser) -> None:
    what = parser.add_subparsers(dest="what", metavar="WHAT", required=True, help="a recipe or entry, or `cure`")
    of = what.add_parser("of", help="a recipe or an entry", description="What a recipe or an entry runs into.")
    of.add_argument("name", metavar="RECIPE|ENTRY", help="a recipe or an entry of this kitchen")
    of.add_argument("--guests", action="store_true", help="someone who eats needs it fully cooked")
    of.add_argument("--forecast", action="store_true", help="beside it, what the forecast would come to")
    common(of)
    _cure_options(what.add_parser("cure", help="curing amounts by weight", description="Curing amounts by weight."))


def _cure_options(cure: argparse.ArgumentParser) -> None:
    cure.add_argument("--method", metavar="METHOD", required=True, help="dry | pumped | immersion | equilibrium")
    cure.add_argument("--product", metavar="CLASS", help='the product class, for example "dry cured" or "bacon, dry"')
    cure.add_argument("--meat", metavar="M", required=True, help="the green weight of the meat: 1kg")
    cure.add_argument("--salt", metavar="S", required=True, help="all salt, in percent")
    cure.add_argument("--strength", metavar="P", help="sodium nitrite in the curing mix, in percent: 6.25")
    cure.add_argument("--nitrite", metavar="PPM", help="ingoing nitrite; the class's limit where unsaid")
    cure.add_argument("--rind", action="store_true", help="the rind is on")
    cure.add_argument("--water", metavar="M", help="the water of an equilibrium brine")
    cure.add_argument("--pickle", metavar="M", help="the whole pickle, for pumped and immersion")
    cure.add_argument("--pump", metavar="PERCENT", help="gain over green weight")
    common(cure)


def _words(typed: list[str]) -> list[str]:
    """A name needs no verb."""
    names = [word for word in typed if not word.startswith("-")]
    return typed if not names or names[0] in ("cure", "of") else ["of", *typed]


def _run(arguments: argparse.Namespace) -> Answer:
    return _cure(arguments) if arguments.what == "cure" else _of(arguments)


def _of(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.care import findings_of
    from cookbook.safety import by_gravity

    kitchen = Kitchen.open(arguments.kitchen)
    findings = findings_of(kitchen, arguments.name, arguments.guests)
    if arguments.forecast:
        from cookbook.kitchen.forecasting.findings import forecast_of

        findings = by_gravity([*findings, *forecast_of(kitchen, arguments.name)])
    stop = any(finding.level == "stop" for finding in findings)
    text = finding_lines(findings) or "nothing was found that the usual limits speak of"
    closing = "Not a substitute for your local food-safety authority; a thermometer decides."
    return Answer({"findings": [finding.json() for finding in findings]}, f"{text}\n\n{closing}", 1 if stop else 0)


def finding_lines(findings: Sequence[Finding]) -> str:
    """Findings for people, gravest first, each with its regime and source."""
    from cookbook.table import source

    lines = []
    for finding in findings:
        said = finding.message or finding.rule
        lines.append(f"{bold(_WORDS[finding.level])}: {said}")
        memory = ", from memory" if finding.memory else ""
        lines.append(f"    {finding.regime} rule; {source(finding.source).title}{memory}")
    return "\n".join(lines)


def _cure(arguments: argparse.Namespace) -> Answer:
    from cookbook.quantity import read_mass_g
    from cookbook.safety import cure

    found = cure(
        arguments.method,
        arguments.product,
        read_mass_g(arguments.meat),
        _share(arguments.salt, "salt"),
        _share(arguments.strength, "strength") if arguments.strength else None,
        nitrite_ppm=_share(arguments.nitrite, "nitrite") if arguments.nitrite else None,
        rind=arguments.rind,
        water_g=read_mass_g(arguments.water) if arguments.water else None,
        pickle_g=read_mass_g(arguments.pickle) if arguments.pickle else None,
        pump_percent=_share(arguments.pump, "pump") if arguments.pump else None,
    )
    data: dict[str, Any] = found.json()
    lines = [finding_lines(found.findings)]
    if found.cure_g is not None and found.salt_g is not None:
        lines.append(bold(f"{found.cure_g:.2f} g curing mix and {found.salt_g:.1f} g salt"))
    lines += [caution.text for caution in found.cautions]
    return Answer(data, "\n".join(line for line in lines if line), 1 if found.cure_g is None else 0)


def _share(words: str, what: str) -> float:
    """A percentage or a figure in ppm, with or without its sign."""
    plain = words.strip().casefold().removesuffix("ppm").removesuffix("%").strip().replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        raise RequestError(f"--{what} is '{words}', which is no number", mend="write it like 2 or 6.25 %") from None
    return value


VERBS = {"safety": Verb(_options, _run, nested=True, words=_words)}
