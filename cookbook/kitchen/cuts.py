"""The kitchen's own cuts: `shared/cuts.yaml`, each `like` one of the table, with what was measured in its place."""

from __future__ import annotations

from typing import Any

from cookbook.errors import ERROR, FileError, Problem, RequestError
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Cut
from cookbook.meat.own import own_cut


def own_cuts_of(kitchen: Kitchen) -> tuple[Cut, ...]:
    """The cuts of `shared/cuts.yaml`. Raises FileError where one of them can't be."""
    cuts, problems = with_problems(kitchen, kitchen.shared("cuts.yaml"))
    if problems:
        raise FileError(problems)
    return tuple(cuts)


def with_problems(kitchen: Kitchen, table: Any) -> tuple[list[Cut], list[Problem]]:
    """The cuts of a table as read, and what is wrong with those that can't be."""
    document, _ = kitchen.document(kitchen.root / "shared" / "cuts.yaml")
    cuts, problems = [], []
    for name, fields in (table or {}).items():
        if fields is None:
            continue
        try:
            cuts.append(own_cut({"name": name, **fields}))
        except RequestError as fault:
            place = document.place(fields.node)._replace(width=1) if document is not None else None
            problems.append(Problem(ERROR, fault.code, f"{name}: {fault.message}", place, fault.mend))
    return cuts, problems
