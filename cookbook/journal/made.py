"""What really went in: as-made lines and the day's sheet added up to one amount for every item.

`amount` is all of an item; `more` and `less` are against the sheet; a balance with the bowl on it, a jar before and
after, and prepared and left over are differences that are taken here. The same item twice adds up. Only what nobody
weighed is shared out from the bowl's total, and is marked a guess.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.quantity import Amount

if TYPE_CHECKING:
    from cookbook.files.record import Fields


class Made(NamedTuple):
    """One item as it went in. `amount` is None where nobody knows; `instead_of` names what it took the place of."""

    item: str
    amount: Amount | None
    how: str
    sheet: Amount | None = None
    guess: bool = False
    instead_of: str | None = None
    left_out: bool = False


class Bowl(NamedTuple):
    """The bowl on the balance, in grams; None where it wasn't read."""

    empty: float | None = None
    full: float | None = None
    after: float | None = None

    @property
    def used_g(self) -> float | None:
        """What went onto the meat."""
        return None if self.full is None or self.after is None else self.full - self.after

    @property
    def left_g(self) -> float | None:
        """What stayed behind."""
        return None if self.after is None or self.empty is None else self.after - self.empty


class _Tally:
    """What is known so far of one item."""

    def __init__(self, item: str, sheet: Amount | None) -> None:
        self.item, self.sheet = item, sheet
        self.whole: list[Amount] = []
        self.delta: list[tuple[int, Amount]] = []
        self.how: list[str] = []
        self.instead: str | None = None
        self.left_out = self.unweighed = False


def grams(value: float) -> Amount:
    """An amount of so many grams, to the tenth that a balance shows."""
    return Amount.parse(f"{round(value, 1):g} g")


def bowl(lines: Sequence[Fields]) -> Bowl:
    """The bowl as the lines tell it; the last reading of each kind counts."""
    found: dict[str, Any] = {}
    for line in lines:
        if line.get("bowl"):
            found.update({key: value for key, value in line["bowl"].items() if value is not None})
    return Bowl(**found)


def on_balance(lines: Sequence[Fields], weights: Any = None) -> tuple[float | None, tuple[str, ...]]:
    """What the balance shows after these lines in g, None where nothing says it; what went in unweighed since."""
    balance = _Balance()
    for line in lines:
        if line.get("bowl"):
            balance.bowl(line["bowl"])
        if line.get("item") is not None:
            _take(_Tally(line["item"], None), line, balance, [], weights)
    shows = None if balance.reads is None else balance.reads + balance.since
    return shows, tuple(tally.item for tally in balance.unweighed)


def made(lines: Sequence[Fields], sheet: Mapping[str, Amount], weights: Any = None) -> tuple[list[Made], list[str]]:
    """Every item of the sheet and every item that went in besides, with sentences on what could not be worked out.

    `weights` are the kitchen's own ingredient weights.
    """
    tallies = {_key(item): _Tally(item, amount) for item, amount in sheet.items()}
    notes: list[str] = []
    balance = _Balance()
    for line in lines:
        if line.get("bowl"):
            balance.bowl(line["bowl"])
        if line.get("item") is None:
            continue
        tally = tallies.setdefault(_key(line["item"]), _Tally(line["item"], None))
        _take(tally, line, balance, notes, weights)
    found = [_sum(tally, notes, weights) for tally in tallies.values()]
    return _share_out(found, bowl(lines), notes, weights), notes


def _key(item: str) -> str:
    return " ".join(item.split()).casefold()


class _Balance:
    """The bowl on the balance as items go in: what it read last, and what is known to have gone in since."""

    def __init__(self) -> None:
        self.reads: float | None = None
        self.since = 0.0
        self.unweighed: list[_Tally] = []

    def bowl(self, line: Fields) -> None:
        for key in ("empty", "full"):
            if line.get(key) is not None:
                self.reads, self.since = line[key], 0.0
                self.unweighed = []

    def difference(self, reads: float) -> float | None:
        if self.reads is None:
            return None
        found = reads - self.reads - self.since
        self.reads, self.since = reads, 0.0
        return found

    def put(self, amount: Amount, item: str, weights: Any) -> None:
        weight = amount.grams(item, weights)
        self.since += weight.mid if weight is not None else 0.0


def _take(tally: _Tally, line: Fields, balance: _Balance, notes: list[str], weights: Any) -> None:
    if line.get("instead"):
        tally.instead = line["instead"]
        tally.how.append(f"in the place of {tally.item}")
    if line.get("left_out"):
        tally.left_out = True
        tally.how.append("left out")
    for sign, key in ((1, "more"), (-1, "less")):
        if line.get(key) is not None:
            tally.delta.append((sign, line[key]))
            tally.how.append(f"{line[key]} {key} than the sheet")
    whole = _whole(tally, line, balance, notes)
    if whole is not None:
        tally.whole.append(whole)
        if line.get("reads") is None:
            balance.put(whole, line["item"], weights)
    elif not any(line.get(key) is not None for key in ("more", "less", "left_out", "instead", "reads")):
        tally.unweighed = True
        balance.unweighed.append(tally)
        tally.how.append("nobody weighed it")


def _whole(tally: _Tally, line: Fields, balance: _Balance, notes: list[str]) -> Amount | None:
    item = line["item"]
    if line.get("amount") is not None:
        tally.how.append("all that went in")
        whole: Amount = line["amount"]
        return whole
    for one, two, how in (("before", "after", "jar before and after"), ("had", "left", "prepared and left over")):
        if line.get(one) is not None and line.get(two) is not None:
            if line[two] > line[one]:
                notes.append(f"{item}: {line[two]:g} g {two} is more than {line[one]:g} g {one}; it was not counted")
                return None
            tally.how.append(how)
            return grams(line[one] - line[two])
    if line.get("reads") is None:
        return None
    difference = balance.difference(line["reads"])
    if difference is None:
        notes.append(
            f"{item}: the balance read {line['reads']:g} g, but nothing says what it read before it went in; "
            "log the empty bowl first"
        )
        return None
    if difference < 0:
        notes.append(f"{item}: the balance read less than before it went in; it was not counted")
        return None
    if balance.unweighed:
        names = ", ".join(other.item for other in balance.unweighed)
        notes.append(
            f"{item}: {names} went in unweighed before the balance was read; the difference is shared evenly"
        )
        part = grams(difference / (len(balance.unweighed) + 1))
        for other in balance.unweighed:
            other.whole.append(part)
            other.how.append("a guess: shared from one reading of the balance")
        tally.how.append("a guess: shared from one reading of the balance")
        balance.unweighed = []
        return part
    tally.how.append("by the balance")
    return grams(difference)


def _sum(tally: _Tally, notes: list[str], weights: Any) -> Made:
    how = "; ".join(dict.fromkeys(tally.how)) or "as on the sheet"
    guess = any(word.startswith("a guess") for word in tally.how)
    item = tally.instead or tally.item
    replaced = tally.item if tally.instead else None
    if tally.left_out and not tally.whole:
        return Made(item, None, how, tally.sheet, left_out=True, instead_of=replaced)
    total: Amount | None = None
    for part in tally.whole:
        total = part if total is None else add(total, part, item, weights)
        if total is None:
            notes.append(f"{item}: its amounts can't be added up without knowing what it weighs")
            return Made(item, None, how, tally.sheet, instead_of=replaced)
    if total is None and not tally.unweighed:
        total = tally.sheet
    for sign, part in tally.delta:
        if total is None:
            notes.append(f"{item}: `{'more' if sign > 0 else 'less'}` needs the day's sheet to count from")
            return Made(item, None, how, tally.sheet, instead_of=replaced)
        changed = add(total, part, item, weights, sign)
        if changed is None:
            notes.append(f"{item}: {total} and {part} can't be added up without knowing what it weighs")
            return Made(item, total, how, tally.sheet, instead_of=replaced)
        total = changed
    return Made(item, total, how, tally.sheet, guess, replaced)


def add(one: Amount, two: Amount, item: str, weights: Any = None, sign: int = 1) -> Amount | None:
    """`one` plus or minus `two`, in the measure of `one` where both share it, else in grams; None if neither."""
    same = one.plus(two, sign)
    if same is not None:
        return same
    first, second = one.grams(item, weights), two.grams(item, weights)
    if first is None or second is None:
        return None
    return grams(max(0.0, first.mid + sign * second.mid))


def _share_out(found: list[Made], bowl: Bowl, notes: list[str], weights: Any) -> list[Made]:
    """Give what nobody weighed its part of the bowl's total."""
    open_ = [line for line in found if line.amount is None and not line.left_out and "nobody weighed" in line.how]
    if not open_ or bowl.full is None or bowl.empty is None:
        return found
    rest = bowl.full - bowl.empty
    for line in found:
        weight = line.amount.grams(line.item, weights) if line.amount is not None else None
        if line.amount is not None and weight is None and line.amount.kind != "free":
            notes.append(
                f"the bowl's total can't be shared out: nobody knows what {line.amount} of {line.item} weighs"
            )
            return found
        rest -= weight.mid if weight is not None else 0.0
    if rest <= 0:
        notes.append("the bowl's total is less than what was weighed into it; nothing was shared out")
        return found
    sheets = [line.sheet.grams(line.item, weights) if line.sheet is not None else None for line in open_]
    known = [sheet.mid for sheet in sheets if sheet is not None]
    parts = known if len(known) == len(open_) and sum(known) > 0 else [1.0] * len(open_)
    shares = {line.item: rest * part / sum(parts) for line, part in zip(open_, parts, strict=True)}
    return [
        line._replace(amount=grams(shares[line.item]), guess=True, how="a guess: shared out from what the bowl held")
        if line in open_
        else line
        for line in found
    ]
