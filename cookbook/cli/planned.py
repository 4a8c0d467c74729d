"""A plan as people read it: one line of words, what `last` shows, then the rest of the day."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from cookbook.cli.finding import last_text
from cookbook.cli.running import bold, table
from cookbook.plan.buying import kilograms
from cookbook.plan.step import spoken
from cookbook.publish.wording import both_scales, mass
from cookbook.quantity.number import tenth

if TYPE_CHECKING:
    from cookbook.plan import Meal, Step
    from cookbook.plan.serving import Served

WIDTH = 96
Tell = Callable[[str], str]


def meal_text(meal: Meal, why: bool, units: str = "both") -> str:
    """The whole plan; with `units` us or both, temperatures on both scales and pounds beside what is bought."""
    tell = _plain if units == "metric" else _both
    parts = [
        bold(meal.summary()) + f"\n{_sure(meal)}",
        last_text(meal.last),
        _listed("Mind", [*meal.warnings, *meal.clashes], tell),
        _buy(meal, units),
        _day(meal, tell),
        _picture(meal),
        *_slices(meal, tell),
        _choices(meal),
        _shopping(meal),
        _cost(meal),
        _film(meal),
        _listed("Notes", meal.notes, tell),
        _listed("Cautions", meal.cautions, tell),
        _why(meal) if why else "",
    ]
    return "\n\n".join(part for part in parts if part)


def _sure(meal: Meal) -> str:
    many = len(meal.eaters)
    who = "1 eater" if many == 1 else f"{many} eaters"
    late = "" if meal.late_until <= meal.eat else "; the later time is for one cook in fifty"
    return f"{meal.title} for {who}, {meal.chance:.0%} sure of the first time{late}"


def _plain(words: str) -> str:
    return words


def _both(words: str) -> str:
    return both_scales(words).replace("\u00a0", " ")


def _listed(head: str, told: Sequence[str], tell: Tell) -> str:
    lines = [
        line
        for words in map(tell, told)
        for line in wrap(words, WIDTH, initial_indent="  ", subsequent_indent="    ")
    ]
    return "\n".join([bold(head), *lines]) if told else ""


def _buy(meal: Meal, units: str) -> str:
    low, mid, high = (kilograms(grams) for grams in meal.need_g)
    lines = [bold("Meat"), *(f"  {one.words()}{_pounds(one.each_g, units)}" for one in meal.buys)]
    lines.append(f"  for {mid} on the plates, cooked and without bone ({low} to {high})")
    ends = [(kilograms(one.mass_g.low), kilograms(one.mass_g.high)) for one in meal.buys]
    spans = [f"{low} to {high}" for low, high in ends if low != high]
    lines.append(f"  raw, as bought, that is {' and '.join(spans)}" if spans else "")
    return "\n".join(line for line in lines if line)


def _pounds(grams: float, units: str) -> str:
    return "" if units == "metric" else f" ({mass(grams)[1]})".replace("\u00a0", " ")


def _day(meal: Meal, tell: Tell) -> str:
    lines = [bold("The day")]
    for _, group in groupby(meal.steps, key=lambda step: step.at.date()):
        steps = list(group)
        lines.append(f"{steps[0].at:%A} {steps[0].at.day} {steps[0].at:%b}")
        lines += [line for step in steps for line in _step(step, len(meal.days) > 1, tell)]
    return "\n".join(lines)


def _step(step: Step, several: bool, tell: Tell) -> Iterator[str]:
    dish = f", {step.dish}" if several and step.dish else ""
    done = ", done" if step.done else ""
    yield f"  {step.at:%H:%M}  {step.within():<18}  {tell(step.what)}{dish}{done}"
    for words in (step.note, f"film: {step.shot}" if step.shot else ""):
        yield from (f"{'':29}{line}" for line in wrap(tell(words), WIDTH - 29))


def _picture(meal: Meal) -> str:
    from cookbook.picture import text
    from cookbook.plan.drawing import day_chart

    chart = day_chart(meal)
    return text(chart._replace(title=bold("The day drawn"))) if chart.rows else ""


def _slices(meal: Meal, tell: Tell) -> list[str]:
    found = []
    for day, served in zip(meal.days, meal.served, strict=True):
        if served.cuts and not day.dish.falls_apart:
            found.append(_served(day.dish.name, served, tell))
    if found and meal.days:
        from cookbook.picture import text
        from cookbook.plan.drawing import slices_drawing

        drawn = slices_drawing(meal)
        found += [text(drawn, 44)] if drawn is not None else []
    if meal.pulls:
        rows = [
            [
                tell(f"{tenth(one.pull_c)} °C") + (", planned" if one.planned else ""),
                tell(f"{one.served_c:.0f} °C"), f"{one.fit}", f"{one.back}", ", ".join(one.missed) or "nobody",
                spoken(one.minutes),
            ]
            for one in meal.pulls
        ]  # fmt: skip
        head = ["pull at", "on the board", "as wished", "back on the heat", "too done for", "takes"]
        found.append(bold("Another pull") + "\n" + table(rows, head, right=(2, 3)))
    return found


def _served(name: str, served: Served, tell: Tell) -> str:
    asked = [one for one in served.servings if one.likes or one.then]
    rest = [one for one in served.servings if one not in asked]
    rows = [[one.name, one.likes or "any", one.gets, _numbers(one.slices), tell(one.then)] for one in asked]
    if rest:
        who = rest[0].name if len(rest) == 1 else f"{len(rest)} {'others' if asked else 'eaters'}"
        gets = list(dict.fromkeys(part for one in rest for part in one.gets.split(" and ")))
        places = sorted({place for one in rest for place in one.slices})
        rows.append([who, "any", " and ".join(gets), _numbers(places), ""])
    ends = "counted from either end" if served.cuts[0].twice else "counted from the first end"
    head = ["eater", "likes", "gets", "slice", "then"]
    return bold(f"Slices of {name}") + f", {ends}\n" + table(rows, head)


def _numbers(places: Sequence[int]) -> str:
    return ", ".join(map(str, places)) or "none left"


def _choices(meal: Meal) -> str:
    if not meal.choices:
        return ""
    rows = [
        [
            one.words(), f"{one.coated_cm2:.0f} cm²",
            f"{_time(one.minutes)}, {_time(one.latest_minutes)} at {meal.chance:.0%}", _zones(one.zones),
            _money(one.price, one.currency), _money(one.a_portion, one.currency),
        ]
        for one in meal.choices
    ]  # fmt: skip
    head = ["one or two", "to coat", "on the heat", "zones", "price", "a portion"]
    told = bold("One roast or two") + "\n" + table(rows, head, right=(1, 4, 5))
    priced = [one for one in meal.choices if one.a_portion is not None]
    if len({one.currency for one in priced}) == 1 and len({one.a_portion for one in priced}) > 1:
        cheaper = min(priced, key=lambda one: one.a_portion or 0.0)
        told += f"\n  cheaper a portion: {cheaper.words()} ({cheaper.rests_on})"
    return told


def _time(minutes: float | None) -> str:
    return "?" if minutes is None else spoken(minutes)


def _zones(zones: Sequence[Any]) -> str:
    return ", ".join(f"{zone.name} {zone.share:.0%}" for zone in zones if zone.share >= 0.05)


def _money(value: float | None, currency: str) -> str:
    return "" if value is None else f"{value:.2f} {currency}".rstrip()


def _shopping(meal: Meal) -> str:
    if not meal.lines:
        return ""
    rows, before = [], ""
    for line in meal.lines:
        home = f"at home {line.at_home}" if line.at_home else ""
        counter = "" if line.counter == before else line.counter
        before = line.counter
        rows.append([counter, line.item, line.buy or "nothing", f"for {line.need}", home])
    return bold("Shopping") + "\n" + table(rows)


def _cost(meal: Meal) -> str:
    cost = meal.cost
    if not cost.items and cost.last is None:
        return ""
    lines = [bold("Cost")]
    for unit, value in cost.bought.items():
        said = f"  {_money(value, unit)} to buy, {_money(cost.batch.get(unit), unit)} goes in"
        each = [f"{_money(cost.portion.get(unit), unit)} a portion"] if unit in cost.portion else []
        each += [f"{_money(cost.rib.get(unit), unit)} a rib"] if unit in cost.rib else []
        lines.append(", ".join([said, *each]))
    if cost.last is not None:
        sums = " and ".join(_money(value, unit) for unit, value in cost.last.sums.items())
        basis = f"; {cost.last.basis}" if cost.last.basis else ""
        lines.append(f"  last time {sums} ({cost.last.date.isoformat()}{basis})")
    if cost.months:
        rows = [f"{_month(one.month)} {_money(one.a_kg, one.currency)}" for one in cost.months]
        lines.append("  a kilogram by month, over the years: " + ", ".join(rows))
    if cost.missing:
        lines += [f"  {line}" for line in wrap("no own price yet: " + ", ".join(cost.missing), WIDTH - 2)]
    return "\n".join(lines)


def _month(number: int) -> str:
    return ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")[number - 1]


def _film(meal: Meal) -> str:
    return "\n".join([bold("Film"), *(f"  {one.sentence()}" for one in meal.film)]) if meal.film else ""


def _why(meal: Meal) -> str:
    from cookbook.plan import portion
    from cookbook.table import source

    lines = [bold("Where the numbers come from")]
    for appetite in dict.fromkeys(one.appetite for one in meal.eaters):
        one = portion(appetite)
        low, mid, high = (f"{grams:.0f}" for grams in one.grams)
        lines.append(f"  a portion ({appetite}): {mid} g ({low} to {high}); {source(one.source).title}, from memory")
    for buy, share in zip(meal.buys, meal.shares, strict=True):
        edible = share.edible
        lines.append(f"  {buy.cut}: {edible.mid:.0%} of raw is eaten ({edible.low:.0%} to {edible.high:.0%})")
        lines += [f"    {ground}" for ground in share.rests_on]
    lines += [f"  {ground}" for ground in dict.fromkeys(one.rests_on for one in meal.fuel)]
    lines += [f"  forecast: {ground}" for ground in meal.forecast.rests_on]
    lines += [f"  {one.item}: {one.basis}" for one in meal.cost.items]
    return "\n".join(lines)
