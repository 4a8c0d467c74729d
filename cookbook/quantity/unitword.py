"""The words for units in a text: one letter or two words, with a dot, with a measure system named before them."""

from __future__ import annotations

from cookbook.quantity import unit as units
from cookbook.quantity.scanner import Scanner
from cookbook.quantity.unit import Unit

_SPOONS = ("table", "tea", "dessert", "salt")
_PREFIX_WORDS = {prefix.casefold().split(" ")[0] for prefix in units.PREFIXES}


def unit_at(scan: Scanner, at: int) -> str | None:
    """The name of the unit that a word stands for, whatever the measure system."""
    if scan.words[at] == "few" and scan.words[at + 1] == "grains":
        return "few grains"
    if not scan.words[at]:
        return None
    return units.named(scan.letters(at)) or (_spoon(scan, at)[0] if scan.words[at] in _SPOONS else None)


def _spoon(scan: Scanner, at: int) -> tuple[str | None, int]:
    """A spoon in two words, `table-spoonful`, `tea spoon`, and the place behind it."""
    behind = at + (2 if scan.words[at + 1] == "-" else 1)
    return units.named(scan.words[at] + scan.words[behind]), behind + 1


def read_unit(scan: Scanner, measures: str) -> Unit | None:
    """The unit that stands here, passed; None where none does. Raises AmountError where the system has no such
    one."""
    word = scan.word
    if not word:
        return None
    if word in _PREFIX_WORDS:
        return _named_unit(scan)
    start = scan.at
    if word in ("fl", "fluid"):
        name = _fluid_ounce(scan)
    elif word == "few" and scan.took("few", "grains"):
        name = "few grains"
    else:
        name = units.named(scan.letters(start))
        if name is not None:
            scan.at += 1
        elif word in _SPOONS:
            name, behind = _spoon(scan, start)
            scan.at = behind if name is not None else start
    if name is None:
        return None
    if scan.word == "." and scan.joined(scan.at):
        scan.at += 1
    found = units.unit(name, measures)
    if found is None:
        says = " or ".join(f"`{one}`" for one in units.systems_with(name)[:2])
        raise scan.fault(f"the measure system '{measures}' has no {name}",
                         f"write it in ml or g, or name the system it comes from, for example {says}",
                         first=start, last=max(start, scan.at - 1))
    return found


def _fluid_ounce(scan: Scanner) -> str | None:
    """`fl oz`, read before `oz`; passed."""
    start = scan.at
    scan.at += 1
    scan.took(".")
    if scan.word in ("oz", "ozs", "ounce", "ounces"):
        scan.at += 1
        return "fl oz"
    scan.at = start
    return None


def _named_unit(scan: Scanner) -> Unit | None:
    """A unit with its measure system before it: `metric cup`, `US label tbsp`, `Australian tbsp`; passed."""
    start = scan.at
    scan.at += 1
    prefix = scan.text[scan.starts[start]:scan.ends[start]]
    if scan.word == "label":
        prefix, scan.at = "US label", scan.at + 1
    if scan.took("dry", "pint") or scan.took("dry", "pints"):
        return units.unit("US dry pint")
    name = _fluid_ounce(scan) if scan.word in ("fl",
                                               "fluid") else units.named(scan.letters(scan.at)) if scan.word else None
    found = units.unit(f"{prefix} {name}") if name else None
    if found is None:
        raise scan.fault(f"there is no {prefix} measure '{scan.rest().split(' ')[0]}'", first=start)
    if name != "fl oz":
        scan.at += 1
    if scan.word == "." and scan.joined(scan.at):
        scan.at += 1
    return found
