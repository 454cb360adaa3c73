"""A design made ready to be answered: its records, nominal and tried, and what both have to say."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.safety_state import worst_state
from coldwright.answers.sheet_records import records_before_chain
from coldwright.answers.sound import sound_level
from coldwright.answers.steady_hour import Moment, worst_moment
from coldwright.answers.unsolved import IMPOSSIBLE, unsolved_tries, why_unsolved
from coldwright.answers.value import Value, value_of
from coldwright.errors import NoSolution, SheetInvalid, SolverError
from coldwright.findings import Finding, worst_first
from coldwright.machine.assemble_cooler import module_properties
from coldwright.machine.chain_map import ChainMap
from coldwright.machine.cooler import operate
from coldwright.machine.coupled import Landed, before_chain, land, losses_of
from coldwright.machine.ledger import Ledger, ledger
from coldwright.machine.outcome import outcome
from coldwright.machine.ratings import MISFIT_ALLOWED
from coldwright.machine.records import Drive, Status
from coldwright.machine.safety import before_solving, of_state, without_an_answer
from coldwright.machine.sink_bound import sinks_too_good
from coldwright.machine.sinks import CORRELATIONS
from coldwright.machine.supply_air import supply_air
from coldwright.machine.values import Values
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.check import check
from coldwright.sheet.models import Box, PlateFinSink, Room, Sheet, SteadyClimate

TRIES = 2000
SEED = 20

Change = dict[str, Any] | Callable[[Any], None]


@dataclass
class Point:
    """One solved state of the design, nominal and in the tries."""

    nominal: dict[str, float]
    tried: dict[str, NDArray[np.float64]] | None
    solved: NDArray[np.bool_] | None
    book: Ledger
    results: Any
    """The nominal `RESULT` record array, shape (1,)."""
    reasons: dict[Status, int] = field(default_factory=dict)
    """Why tries have no steady state, and how many."""
    counted: NDArray[np.bool_] | None = None
    """Tries that count when shares are told: all but those of things that cannot be."""
    tried_results: Any = None
    """The `RESULT` records of the tries, shape (tries,); those that are not solved among them."""

    def value(self, name: str) -> Value:
        """One figure with its interval."""
        tried = None if self.tried is None else self.tried[name]
        return value_of(self.nominal[name], tried, self.solved)


@dataclass
class Design:
    """Records of a sheet: nominal (one case) and tried (many), and its findings so far."""

    sheet: Sheet
    tries: int
    seed: int
    values: Values = field(init=False)
    varied: Values = field(init=False)
    cooler: Any = field(init=False)
    place: Any = field(init=False)
    moment: Moment | None = field(init=False, default=None)
    """The judged moment, where the sheet's weather changes."""
    coolers: Any = field(init=False, default=None)
    places: Any = field(init=False, default=None)
    losses: Landed | None = field(init=False, default=None)
    """What the power chain loses; None for a sheet that says nothing of it."""
    _chain: ChainMap | None = field(init=False, default=None, repr=False)
    set_drive: float = field(init=False)
    """What the sheet sets the first group to: of its array [V, A, W] or [1] when chopped. In the
    records it stands behind the power chain, which takes its part of a voltage."""

    def __post_init__(self) -> None:
        refuse(
            [
                *check(self.sheet), *sinks_too_good(self.sheet), *self._correlations(),
                *without_an_answer(self.sheet),
            ]
        )  # fmt: skip
        if not isinstance(self.sheet.climate, SteadyClimate):
            # A steady answer in changing weather is the answer of its worst moment.
            self.moment = worst_moment(self.sheet)
            self.sheet = self.moment.sheet
        sheet = self.sheet
        self.values = Values(0)
        self.cooler, self.place = records_before_chain(sheet, self.values)
        self._open_doors(self.place)
        group = self.cooler["group"][0, 0]
        chopped = int(group["drive"]) == Drive.CHOPPED
        self.set_drive = float(group["duty"] if chopped else group["drive_value"])
        self.losses = losses_of(sheet, self.cooler, self.place)
        land(self.cooler, self.losses)
        refuse(supply_air(sheet, self.cooler, self.place))
        self.varied = Values(self.tries, self.seed)
        if self.tries > 0:
            self.coolers, self.places = records_before_chain(sheet, self.varied)
            self._open_doors(self.places)
            land(self.coolers, self.losses)

    def at(self, change: Callable[[Any], None]) -> Design:
        """The same design with its knobs elsewhere, and its power chain brought to agree there.

        `change` sets the knobs in records that it may alter, as before the chain.
        """
        other = copy.copy(self)
        other.cooler = before_chain(self.cooler, self.losses)
        change(other.cooler)
        other.losses = losses_of(self.sheet, other.cooler, self.place)
        land(other.cooler, other.losses)
        if self.coolers is not None:
            other.coolers = before_chain(self.coolers, self.losses)
            change(other.coolers)
            land(other.coolers, other.losses)
        return other

    def chain_over(self, least: float, most: float) -> ChainMap | None:
        """What the chain loses between two factors on what is set; None where nothing says so."""
        if self.losses is None:
            return None
        if self._chain is None or not self._chain.covers(least, most):
            bare = before_chain(self.cooler, self.losses)
            self._chain = ChainMap.around(self._chain, self.sheet, bare, self.place, least, most)
        return self._chain

    def _open_doors(self, places: Any) -> None:
        """Add what doors let in at the judged moment."""
        if self.moment is not None:
            places["natural_m3_s"] += self.moment.door_m3_s

    @property
    def enclosed(self) -> bool:
        """Whether the place has a balance of its own."""
        return isinstance(self.sheet.place, Room | Box)

    def solve(
        self,
        *,
        with_place: bool,
        air: float | None = None,
        held: bool = False,
        changed: Change | None = None,
    ) -> Point:
        """Solve the operating point: with the steady place, at given air, or with the air held.

        Parameters
        ----------
        with_place, held
            As for `machine.cooler.operate`.
        air
            Place air [K]; None: as the sheet starts.
        changed
            What to change in the cooler's records first: fields by name ("part.field"), or a
            function that changes a copy (what dual duct would do, modules off, other volts).

        Raises
        ------
        NoSolution
            Where the nominal design has no steady state; with the reason.
        """
        cooler = _changed(self.cooler, changed)
        results = self._operate(cooler, self.place, with_place, air, held)
        status = Status(int(results["status"][0]))
        if status == Status.NOT_CONVERGED:
            raise SolverError(why_unsolved(self.sheet, status), residual_W=np.nan)
        if status != Status.SOLVED:
            found_at = (cooler, self.place, results)
            raise NoSolution("CW-SOLVE-01", why_unsolved(self.sheet, status, found_at))
        book = ledger(cooler, self.place, results, with_place=with_place and not held)
        book.require_closed()
        nominal = {
            name: float(np.ravel(number)[0])
            for name, number in outcome(cooler, self.place, results).items()
        }
        nominal["place_K"] = float(results["place_K"][0])
        tried = solved = None
        counted = many = None
        reasons: dict[Status, int] = {}
        if self.coolers is not None:
            coolers = _changed(self.coolers, changed)
            many = self._operate(coolers, self.places, with_place, air, held)
            solved = many["status"] == Status.SOLVED
            counted = ~np.isin(many["status"], IMPOSSIBLE)
            reasons = {
                status: int((many["status"] == status).sum())
                for status in Status
                if status != Status.SOLVED and (many["status"] == status).any()
            }
            kept = np.flatnonzero(solved)
            if len(kept):
                records = (coolers, self.places, many)
                if not solved.all():  # records are large: none is copied without need
                    records = tuple(each[kept] for each in records)
                ledger(*records, with_place=with_place and not held).require_closed()
                found = outcome(*records)
                found["place_K"] = records[2]["place_K"]
                tried = {}
                for name, numbers in found.items():
                    tried[name] = np.full(self.tries, np.nan)
                    tried[name][kept] = numbers
        return Point(nominal, tried, solved, book, results, reasons, counted, many)

    def _operate(
        self,
        coolers: Any,
        places: Any,
        with_place: bool,
        air: float | None,
        held: bool,
    ) -> Any:
        return operate(
            coolers,
            places,
            places["air_K"] if air is None else air,
            places["humidity_ratio"],
            with_place=with_place,
            held=held,
        )

    def sound(self) -> Value:
        """A-weighted level at 1 m [dB] of all fans at their speeds; None when no fan tells."""
        nominal = sound_level(self.sheet, self.values)
        return value_of(np.nan if nominal is None else nominal, self.sound_tried())

    def sound_tried(self) -> NDArray[np.float64] | None:
        """The level per try; None without tries or without any fan that tells."""
        found = sound_level(self.sheet, self.varied) if self.tries > 0 else None
        return None if found is None else np.broadcast_to(np.asarray(found), (self.tries,))

    def widest(self, point: Point, names: Iterable[str]) -> dict[str, list[tuple[str, float]]]:
        """Which inputs widen the interval of each figure: the three largest shares of variance.

        Inputs are varied independently, so the squared correlation of a figure with an input is
        the share of its variance that this input explains by itself.
        """
        if point.tried is None or point.solved is None:
            return {}
        figures = {name: point.tried[name] for name in names if name in point.tried}
        return self.widest_of(figures, point.solved)

    def widest_of(
        self, figures: dict[str, Any], solved: NDArray[np.bool_]
    ) -> dict[str, list[tuple[str, float]]]:
        """The same for any figures over the tries."""
        inputs = {
            name: numbers[solved]
            for name, numbers in self.varied.varied.items()
            if np.ptp(numbers) > 0.0
        }
        if not inputs or solved.sum() < 50:
            return {}
        table = np.stack(list(inputs.values()))
        table = (table - table.mean(axis=1, keepdims=True)) / table.std(axis=1, keepdims=True)
        shares: dict[str, list[tuple[str, float]]] = {}
        for name, numbers in figures.items():
            figure = np.asarray(numbers)[solved]
            good = np.isfinite(figure)
            if good.sum() < 50 or np.ptp(figure[good]) <= 1e-9 * np.abs(figure[good]).max():
                continue
            figure = figure[good]
            scaled = (figure - figure.mean()) / figure.std()
            explained = (table[:, good] @ scaled / good.sum()) ** 2
            order = np.argsort(explained)[::-1][:3]
            names_in = list(inputs)
            shares[name] = [
                (names_in[i], float(explained[i])) for i in order if explained[i] > 0.01
            ]
        return shares

    def findings(self, *points: Point) -> list[Finding]:
        """Everything the program has to say about the design, worst first."""
        # What an exhaust does beside a flame is said by its pressure, below; of changing weather
        # the judged moment has its own hours.
        told_else = {"CW-SAFE-04"} if self.moment is None else {"CW-SAFE-04", "CW-CLIMATE-05"}
        first = [*check(self.sheet), *before_solving(self.sheet)]
        found = [each for each in first if each.code not in told_else]
        found += self._modules(points)
        found += supply_air(self.sheet, self.cooler, self.place)
        found += self._beyond_best(points[0])
        state = worst_state(self.sheet, self.place, points)
        found += of_state(self.sheet, state)
        found += unsolved_tries(self.sheet, points[0].reasons, self.tries)
        return worst_first(found)

    def finding(
        self,
        code: str,
        severity: Any,
        where: str,
        given: str,
        *,
        allowed: str = "",
        why: str = "",
        action: str = "",
    ) -> Finding:
        """A finding with the line of its key."""
        sheet = self.sheet
        return Finding(
            code, severity, where, given, allowed, why, action, sheet.line(where), sheet.file
        )

    def _beyond_best(self, point: Point) -> list[Finding]:
        """Whether a tenth less of what is set would cool more: past the top of the hill."""
        if (self.cooler["group"]["drive"][0] == Drive.PUMPED).any():
            return []  # a wish for heat is met or not; it has no top
        less = self.cooler.copy()
        less["group"]["drive_value"] *= 0.9
        result = operate(
            less, self.place, self.place["air_K"], self.place["humidity_ratio"],
            with_place=self.enclosed,
        )  # fmt: skip
        if result["status"][0] != Status.SOLVED:
            return []
        now, then = point.results, result
        if self.enclosed:
            warmer_K = float((now["place_K"] - then["place_K"])[0])
        else:
            warmer_K = float((now["cold_base_K"] - then["cold_base_K"])[0, 0])
        if warmer_K <= 0.02:
            return []
        return [
            self.finding(
                "CW-MODULE-04", "warning", "cooler.run_at",
                f"A tenth less would cool {warmer_K:.1f} K more",
                why="Past the top more volts heat the hot side faster than the modules pump",
                action="what `coldwright tune` finds",
            )
        ]  # fmt: skip

    def _correlations(self) -> list[Finding]:
        """Heat transfer correlations that do not exist; the sheet cannot know which do."""
        found = []
        for side in ("cold_sink", "hot_sink"):
            sinks = getattr(self.sheet.cooler, side) or ()
            for number, sink in enumerate(sinks):
                if isinstance(sink, PlateFinSink) and sink.correlation not in CORRELATIONS:
                    where = f"cooler.{side}" + (f"[{number}]" if len(sinks) > 1 else "")
                    found.append(
                        self.finding(
                            "CW-SINK-06", "stop", f"{where}.correlation", f"“{sink.correlation}”",
                            allowed="one of " + ", ".join(f"“{name}”" for name in CORRELATIONS),
                            action="leaving the key out",
                        )
                    )  # fmt: skip
        return found

    def _modules(self, points: tuple[Point, ...]) -> list[Finding]:
        found = []
        for number, modules in enumerate(self.sheet.cooler.modules):
            ratings = modules.ratings
            if ratings is None:
                continue
            _, fitted = module_properties(modules, self.values)
            misfit = float(np.max(fitted.misfit))
            where = (
                "cooler.modules"
                if len(self.sheet.cooler.modules) == 1
                else (f"cooler.modules[{number}]")
            )
            if misfit > MISFIT_ALLOWED:
                found.append(
                    self.finding(
                        "CW-MODULE-02", "warning", f"{where}.ratings",
                        f"The ratings miss each other by {100 * misfit:.0f} %",
                        allowed="within 8 %",
                        why="No one module has all of them; the nearest one is taken",
                        action="the maker's curves, or a test of your own",
                    )
                )  # fmt: skip
            highest_A = max(float(point.results["module_A"][0, number]) for point in points)
            if highest_A > ratings.max_current.value * 1.001:
                found.append(
                    self.finding(
                        "CW-MODULE-03", "warning", f"{where}.run_at",
                        f"Each module takes {highest_A:.1f} A",
                        allowed=f"at most the rated {ratings.max_current.value:.1f} A",
                        why="Beyond it more current only heats",
                        action="fewer volts",
                    )
                )  # fmt: skip
        return found


def refuse(findings: list[Finding]) -> None:
    """Raise `SheetInvalid` with all findings if one of them allows no answer."""
    if any(finding.severity == "stop" for finding in findings):
        raise SheetInvalid(worst_first(findings))


def limits_kept(
    design: Design, figures: dict[str, Any], sound: Any, price: float | None
) -> NDArray[np.bool_]:
    """For each case, whether every limit of the sheet is kept; figures broadcast to one shape."""
    sheet = design.sheet
    kept = np.ones(np.shape(figures["plug_power_W"]), dtype=bool)

    def at_most(name: str, limit: Quantity | None) -> None:
        nonlocal kept
        if limit is not None:
            kept &= ~(figures[name] > limit.value)

    def at_least(name: str, limit: Quantity | None) -> None:
        nonlocal kept
        if limit is not None:
            kept &= ~(figures[name] < limit.value)

    at_most("plug_power_W", sheet.goal.max_plug_power)
    at_most("hot_face_K", sheet.limits.hot_face)
    at_least("cold_face_K", sheet.limits.cold_face)
    at_most("hot_sink_K", sheet.limits.hot_sink)
    at_least("cold_sink_K", sheet.limits.cold_sink)
    if sheet.limits.dew_point_margin is not None:
        margin = sheet.limits.dew_point_margin.value
        kept &= ~(figures["cold_sink_K"] - figures["dew_point_K"] < margin)
    if sheet.goal.max_sound is not None and sound is not None:
        kept &= ~(np.asarray(sound) > sheet.goal.max_sound.value)
    if sheet.goal.max_price is not None and price is not None:
        kept &= price <= sheet.goal.max_price.value
    return kept


def _changed(coolers: Any, changed: Change | None) -> Any:
    if not changed:
        return coolers
    copy = coolers.copy()
    if callable(changed):
        changed(copy)
        return copy
    for name, value in changed.items():
        if "." in name:
            part, field_name = name.split(".")
            copy[part][field_name] = value
        else:
            copy[name] = value
    return copy
