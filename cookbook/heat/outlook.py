"""`forecast`: when it is done, how far it carries, what the slices become, and what all that rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat import course as running
from cookbook.heat.body import Array
from cookbook.heat.fire import program
from cookbook.heat.grid import Graph
from cookbook.heat.prior import Priors, draw, members_of, priors
from cookbook.heat.roast import Roast, roast_of_piece
from cookbook.heat.setting import Cooker, Event, Rest, Sear, Temper, Wrap, offset_spread_k, phases_of
from cookbook.heat.zone import Slice, Zone, bands, shares, slices
from cookbook.quantity.number import tenth

if TYPE_CHECKING:
    from cookbook.meat import Piece

SAFETY = ("A forecast never replaces a thermometer: whether meat is safe to eat is read from measured temperatures "
          "only.")
COLDEST_PIT_C, HOTTEST_PIT_C = 60.0, 320.0
COLDEST_PULL_C = 30.0
"""Below it no band of any species is served: a pull there is a slip of the unit (judgement)."""
_FROZEN_C = -1.0
_LEVELS = (10, 50, 90)


class Range(NamedTuple):
    """Tenth, fiftieth and ninetieth percentile; None where that part of the ensemble never gets there."""

    p10: float | None
    p50: float | None
    p90: float | None

    def json(self) -> dict[str, float | None]:
        """As `forecast --json` gives it."""
        return dict(self._asdict())


class Point(NamedTuple):
    """The state at one minute after the meat went on."""

    minute: float
    core_c: Range
    surface_c: float
    pit_c: float

    def json(self) -> dict[str, object]:
        """As `forecast --json` lists it."""
        return {"minute": self.minute, "core_c": self.core_c.json(), "surface_c": self.surface_c, "pit_c": self.pit_c}


class Forecast(NamedTuple):
    """Everything a forecast says; minutes count from the meat going on, `minutes_to_peak` from the pull."""

    reaches: bool
    pull_c: float
    minutes_to_pull: Range
    check_from_minutes: float | None
    core_at_slicing_c: Range
    peak_c: Range
    minutes_to_peak: Range
    cook_loss_percent: Range
    zones: list[Zone]
    household: list[Zone]
    slices: list[Slice]
    curve: list[Point]
    rests_on: list[str]
    notes: list[str]
    warnings: list[str]
    sides: dict[str, list[Zone]] = {}  # noqa: RUF012 - never written to

    def json(self) -> dict[str, object]:
        """As `forecast --json` prints it."""
        plain = self._asdict()
        for name in ("minutes_to_pull", "core_at_slicing_c", "peak_c", "minutes_to_peak", "cook_loss_percent"):
            plain[name] = plain[name].json()
        for name in ("zones", "household", "slices", "curve"):
            plain[name] = [one.json() for one in plain[name]]
        plain["sides"] = {side: [one.json() for one in zones] for side, zones in self.sides.items()}
        return plain

    def __repr__(self) -> str:
        from cookbook.heat.saying import when

        return f"<Forecast: {when(self)[0]}>"

    def _repr_html_(self) -> str:
        from cookbook.heat.saying import forecast_shown

        return forecast_shown(self)


def spread_of(values: Array) -> Range:
    """Percentiles of the members; an infinite one (never) is None."""
    ordered = np.sort(np.where(np.isnan(values), np.inf, values))
    if ordered.size == 0:
        return Range(None, None, None)
    picked = [ordered[min(ordered.size - 1, round(level / 100 * (ordered.size - 1)))] for level in _LEVELS]
    whole = ordered[np.isfinite(ordered)]
    if whole.size == ordered.size:
        picked = list(np.percentile(ordered, _LEVELS))
    return Range(*(float(value) if np.isfinite(value) else None for value in picked))


def checked(pit_c: float, start_c: float, pull_c: float) -> None:
    """Refuses what cannot be cooked, with the reason and the mend."""
    if not COLDEST_PIT_C <= pit_c <= HOTTEST_PIT_C:
        raise RequestError(f"a pit of {tenth(pit_c)} °C: the forecast is for {COLDEST_PIT_C:g} to "
                           f"{HOTTEST_PIT_C:g} °C", mend="check the number and its unit, as in 121C or 250F")
    if start_c < _FROZEN_C:
        raise RequestError(
            f"a start of {tenth(start_c)} °C is frozen meat: ice melts by its own clock, which nobody here forecasts",
            mend="thaw it in the refrigerator first, then give its temperature")
    if start_c >= pull_c:
        raise RequestError(f"the meat starts at {tenth(start_c)} °C, to be pulled at {tenth(pull_c)} °C, which is no "
                           "warmer", mend="check both numbers and their units")
    if pull_c < COLDEST_PULL_C:
        raise RequestError(f"a pull at {tenth(pull_c)} °C: no meat is done there",
                           mend=f"check the number and its unit: {9 / 5 * pull_c + 32:.0f} °F is the same")
    if not pull_c < 100.0:
        raise RequestError(f"a core of {tenth(pull_c)} °C: meat does not get past the boiling point of its water",
                           mend="check the number and its unit")


def own_priors(roast: Roast, cooker: Cooker, start_c: float,
               given: Mapping[str, tuple[float, float]] | None) -> Priors:
    """The shipped priors, made this cook's own by the piece, the cooker and what was learned."""
    known = priors(given)
    known["size"] = known["size"]._replace(middle=1.0, spread=roast.size_spread)
    known["start_c"] = known["start_c"]._replace(middle=start_c)
    if "pit_k" not in (given or {}):
        known["pit_k"] = known["pit_k"]._replace(middle=cooker.offset_k, spread=offset_spread_k(cooker))
    return known


def peak_after_min(roast: Roast) -> float:
    """Minutes of rest within which the core has its peak behind it: somewhat over 0.1 L^2 / diffusivity."""
    return 0.13 * min(roast.body.sizes_m) ** 2 / 1.3e-7 / 60.0 + 8.0


class Setup(NamedTuple):
    """A cook as it is to be run: roast, course, priors and the words for what they rest on."""

    roast: Roast
    course: running.Course
    priors: Priors
    cooker: Cooker
    pit_c: float
    start_c: float
    pull_c: float
    rest: Rest
    pulled: bool = False


def setup(piece: Piece | Roast, *, pit_c: float, pull_c: float, start_c: float = 4.0,
          cooker: Cooker | str | None = None, rest: Rest | None = None, wrap: Wrap | None = None,
          sear: Sear | None = None, temper: Temper | None = None,
          events: Sequence[Event] = (), pit_log: Sequence[tuple[float, float]] = (), now_min: float | None = None,
          from_now_c: float | None = None, priors: Mapping[str, tuple[float, float]] | None = None,
          pulled_min: float | None = None) -> Setup:
    """Checks the request and lays out the course."""
    checked(pit_c, start_c, pull_c)
    cooker, rest = Cooker(cooker) if isinstance(cooker, str) else cooker or Cooker(), rest or Rest()
    roast = piece if isinstance(piece, Roast) else roast_of_piece(piece)
    if cooker.hotter_k:
        roast = roast._replace(side_k=cooker.hotter_k)
    phases, pulled, before_s = phases_of(
        cooker, pull_c, temper=temper, wrap=wrap, sear=sear, rest=rest, pulled_min=pulled_min,
        standing_min=peak_after_min(roast) - rest.minutes)
    at_s, air_c = program(pit_c, events, pit_log, now_min, from_now_c)
    return Setup(roast, running.Course(phases, pulled, before_s, at_s, air_c),
                 own_priors(roast, cooker, start_c, priors), cooker, pit_c, start_c, pull_c, rest,
                 pulled_min is not None)


def forecast(piece: Piece | Roast, *, pit_c: float, pull_c: float, start_c: float = 4.0,
             cooker: Cooker | str | None = None, rest: Rest | None = None, wrap: Wrap | None = None,
             sear: Sear | None = None, temper: Temper | None = None, events: Sequence[Event] = (),
             pit_log: Sequence[tuple[float, float]] = (), from_now_c: float | None = None,
             priors: Mapping[str, tuple[float, float]] | None = None, learned_from: int = 0,
             readings: Sequence[Any] | None = None, pulled_min: float | None = None, members: int = 200,
             seed: int = 0) -> Forecast:
    """The forecast of a piece (`meat.Piece`) in a pit of `pit_c`, from `start_c` to a pull at `pull_c`, then `rest`.

    Temperatures in °C, minutes from the meat going on. `cooker` may be the name of its kind. `readings` (see
    `Reading`) condition the ensemble on the cook so far. Deterministic for a seed. Raises RequestError or PieceError
    for what cannot be cooked.
    """
    plan = setup(piece, pit_c=pit_c, pull_c=pull_c, start_c=start_c, cooker=cooker, rest=rest, wrap=wrap, sear=sear,
                 temper=temper, events=events, pit_log=pit_log, from_now_c=from_now_c, priors=priors,
                 pulled_min=pulled_min, now_min=float(readings[-1][0]) if readings else None)
    if plan.course.program_c.max() + 0.5 <= pull_c and pit_c <= pull_c:
        return never(plan, learned_from)
    if readings:
        from cookbook.heat.update import conditioned

        return conditioned(plan, readings, members=members, seed=seed, learned_from=learned_from).forecast
    drawn = members_of(draw(members, seed), plan.priors)
    return told(plan, running.ensemble(plan.roast, drawn, plan.course), learned_from)


def never(plan: Setup, learned_from: int = 0) -> Forecast:
    """The answer where the pit is no hotter than the target: it never gets there, and no number pretends it does."""
    none = Range(None, None, None)
    warning = (f"the core never reaches {tenth(plan.pull_c)} °C in a pit of {tenth(plan.pit_c)} °C: "
               "evaporation holds it below the pit; run the pit hotter or pull earlier")
    return Forecast(False, plan.pull_c, none, None, none, none, none, none, [], [], [], [],
                    grounds(plan, learned_from), [SAFETY], [warning])


def told(plan: Setup, spread: running.Spread, learned_from: int = 0, minutes: Array | None = None,
         slicing_c: Array | None = None) -> Forecast:
    """A forecast from an ensemble's run; `minutes` and `slicing_c` replace the members' where readings tell."""
    course, run = plan.course, spread.coarse
    to_pull = running.pull_minutes(run, course, spread.correction) if minutes is None else minutes
    done = np.isfinite(run.ended_s[_sliced(plan)])
    pulled = spread_of(to_pull)
    if pulled.p50 is None or not done.any():
        return never(plan, learned_from)
    peak_min = (run.peak_s - run.ended_s[course.pulled])[done] / 60.0
    slicing = running.core_after(run, course, plan.rest.minutes) if slicing_c is None else slicing_c
    loss = 100.0 * run.loss_end[course.pulled][done]
    between = bands(plan.roast.species)
    graph, highest = spread.coarse_cells.graph, run.highest_c[:, done]
    warnings = [] if pulled.p90 is not None else [
        "more than a tenth of what may be true never gets there: the pit is close to the target"]
    return Forecast(
        True, plan.pull_c, pulled, pulled.p10, spread_of(slicing[done]), spread_of(run.peak_c[done]),
        spread_of(np.maximum(peak_min, 0.0)), spread_of(loss),
        shares(highest, graph.volume_m3, between),
        shares(highest, graph.volume_m3, bands(plan.roast.species, "household")),
        slices(graph, highest, between, one_ended="y" in plan.roast.body.exposed),
        _curve(plan, spread), grounds(plan, learned_from), _notes(plan), warnings, _sides(plan, graph, highest))


def _sides(plan: Setup, graph: Graph, highest_c: Array) -> dict[str, list[Zone]]:
    """Zones of the half that faces the hot side and of the other; nothing while both are alike."""
    if not plan.roast.side_k:
        return {}
    hot, between = graph.centre_m[:, 0] > 0, bands(plan.roast.species)
    return {name: shares(highest_c[half], graph.volume_m3[half], between)
            for name, half in ((f"towards the {plan.cooker.warmer}", hot), ("away from it", ~hot))}


def _sliced(plan: Setup) -> int:
    """The phase after which the roast is cut."""
    return max(k for k, phase in enumerate(plan.course.phases) if not phase.standing)


def _curve(plan: Setup, spread: running.Spread, points: int = 60) -> list[Point]:
    """Core, surface and pit over the cook and the rest, each member on its own course."""
    run, course = spread.coarse, plan.course
    clock = (run.time_s - course.before_s) / 60.0 * spread.correction
    last = float(np.nanmedian(run.ended_s[_sliced(plan)]) - course.before_s) / 60.0 * spread.correction
    wanted = np.linspace(0.0, last, points)
    place = np.clip(np.searchsorted(clock, wanted), 0, clock.size - 1)
    core = np.percentile(run.core_c[place], _LEVELS, axis=1)
    pit = np.interp(wanted * 60.0, course.program_s, course.program_c)
    return [Point(round(float(minute), 1), Range(*(float(value) for value in core[:, k])),
                  float(run.surface_c[place[k], 0]), float(pit[k])) for k, minute in enumerate(wanted)]


def grounds(plan: Setup, learned_from: int) -> list[str]:
    """What the forecast rests on, in sentences."""
    roast = plan.roast
    sizes = f"measured: {', '.join(roast.measured)}" if roast.measured else "no dimension measured, all from the cut"
    cooks = "no earlier cook: the shipped priors"
    if learned_from:
        cooks = f"{learned_from} earlier cook{'s' if learned_from > 1 else ''}"
    offset = plan.priors["pit_k"]
    return [f"cooked as {roast.cooked_as}",
            f"dimensions: {sizes} (one sigma of the size {100 * roast.size_spread:.0f} %)", f"learned from {cooks}",
            f"pit probe at the {plan.cooker.place}: offset {round(offset.middle) + 0:g} ± {round(offset.spread):g} K",
            "constants fitted once on roasting tables and home logs, no tuning for this cut"]


def _notes(plan: Setup) -> list[str]:
    side, hotter_k = plan.cooker.hot_side, plan.cooker.hotter_k
    if hotter_k:
        fair = (f"this cooker runs {tenth(hotter_k)} K hotter at the {plan.cooker.warmer}: a long side of the meat "
                "is taken to face it for the whole cook; turned halfway, both sides come out alike")
    elif side is None:
        fair = "zones are symmetrical: this cooker's hot side is not known"
    else:
        fair = (f"this cooker's hot side is the {side}, nobody said by how much: meat there comes out further done "
                "than these zones, which stay symmetrical, the other side less; two probes on the grate tell")
    apart = ("slices from the middle and end cuts are listed apart; each spot counts by the highest temperature it "
             "reached, rest included")
    return [SAFETY, fair, apart]
