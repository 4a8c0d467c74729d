"""What is not known about a cook, with its prior, and members drawn from it.

A parameter is drawn as middle * exp(spread z), middle + spread z, or half normal; z is standard normal. The table
`heat_priors` holds what a new kitchen starts from; learned values replace rows.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

import numpy as np

from cookbook.errors import UnknownName
from cookbook.heat.body import Array
from cookbook.heat.phase import Members
from cookbook.table import rows

NAMES = tuple(name for name in Members._fields if name != "fire")
_LIMIT = 3.0


@cache
def _folded() -> tuple[Array, Array]:
    """Half-normal quantiles at the probability of a normal deviate: rising, so that a fit can move them."""
    from statistics import NormalDist

    normal = NormalDist()
    at = np.linspace(-_LIMIT, _LIMIT, 121)
    return at, np.array([normal.inv_cdf((1.0 + normal.cdf(float(z))) / 2.0) for z in at])


class Prior(NamedTuple):
    """One parameter: middle and spread of its value (`scale` linear or half) or of its logarithm (log)."""

    name: str
    middle: float
    spread: float
    scale: str

    def value(self, z: Array) -> Array:
        """The parameter at standard normal deviates `z`, which are held within three sigmas."""
        held = np.clip(z, -_LIMIT, _LIMIT)
        if self.scale == "log":
            return np.asarray(self.middle * np.exp(self.spread * held), dtype=np.float64)
        if self.scale == "half":
            return np.asarray(self.spread * np.interp(held, *_folded()))
        return self.middle + self.spread * held


class Priors(dict[str, Prior]):
    """Every parameter's prior by name; `root`, where learning tied some together, makes independent deviates so."""

    root: Array | None = None

    def deviates(self, z: Array) -> Array:
        """Each parameter's own deviates, from independent ones."""
        return z if self.root is None else np.asarray(self.root @ z)


class Learned(dict[str, tuple[float, float]]):
    """Middle and spread of parameters that cooks have taught, by name; `root` as in `Priors`.

    Cooks tell sums better than parts: that air is hotter and meat wetter may be sure only together.
    """

    root: Array | None = None


@cache
def _table() -> tuple[Prior, ...]:
    return tuple(Prior(row["name"], float(row["middle"]), float(row["spread"]), row["scale"])
                 for row in rows("heat_priors"))


def priors(changes: Mapping[str, tuple[float, float]] | None = None) -> Priors:
    """The shipped priors with some parameters' (middle, spread) replaced; UnknownName for another name."""
    known = Priors({prior.name: prior for prior in _table()})
    for name, (middle, spread) in (changes or {}).items():
        if name not in known:
            raise UnknownName("parameter of the forecast", name, sorted(known))
        known[name] = known[name]._replace(middle=float(middle), spread=float(spread))
    if isinstance(changes, Learned):
        known.root = changes.root
    return known


def draw(count: int, seed: int) -> Array:
    """Standard normal deviates, one row a parameter: stratified so that a few hundred fill every margin evenly.

    The first member is the middle of every parameter.
    """
    from statistics import NormalDist

    generator = np.random.default_rng(seed)
    inverse = NormalDist().inv_cdf
    rest = max(count - 1, 1)
    places = np.array([inverse((k + 0.5) / rest) for k in range(rest)])
    z = np.array([generator.permutation(places) for _ in NAMES])
    return np.concatenate([np.zeros((len(NAMES), 1)), z], axis=1)[:, :count]


def members_of(z: Array, known: Priors) -> Members:
    """The members at independent deviates `z` (one row a parameter in the order of `NAMES`)."""
    own = known.deviates(z)
    values = {name: known[name].value(own[row]) for row, name in enumerate(NAMES)}
    values["fade"] = np.maximum(values["fade"], 1.0)
    values["feed"] = np.clip(values["feed"], 0.1, 1.0)
    values["melt"] = np.clip(values["melt"], 0.0, 1.5)
    return Members(**values, fire=np.ones(z.shape[1]))
