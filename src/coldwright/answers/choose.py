"""What should I buy? A search over a parts list, each design run as well as its limits allow."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.change.amounts import sheet_currency
from coldwright.answers.choice.beaten import finite, names_of
from coldwright.answers.choice.choose_sentences import (
    HOPELESS,
    LEAST_NET_W,
    choose_headline,
    choose_reasons,
)
from coldwright.answers.choice.engine import Engine, engine_of
from coldwright.answers.choice.faults import SearchError, Stopped
from coldwright.answers.choice.finals import Final, final_of, share_best
from coldwright.answers.choice.hunt import Hunt, Report, Seen
from coldwright.answers.choice.near import (
    beaten_designs,
    by_goal,
    different,
    names_in,
    refined,
    shown_of,
)
from coldwright.answers.choice.options import Options, options_of
from coldwright.answers.choice.store import STORE_NAME, Store, key_of
from coldwright.answers.choice.told import BeatenDesign, Candidate, Choose, FrontPoint
from coldwright.answers.choice.wanted import NAMES, Wanted, aim_of, wanted_of
from coldwright.answers.choice.write import check_out, new_folder, write_designs
from coldwright.answers.design import SEED, Design
from coldwright.answers.value import Value
from coldwright.machine.search import Aim
from coldwright.sheet.models import OpenAir, Plate, Sheet
from coldwright.sheet.parts_file import PartsList, typical_parts
from coldwright.sheet.written import sheet_text

TRIES = 200
AIMS = tuple(NAMES)


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    parts: PartsList | None = None
    """What there is to choose from; None: the typical parts of the library."""
    aim: str = "coldest"
    """One of `AIMS`."""
    most: int | None = None
    """Most designs to solve; None: all of a space up to two million, else a sample."""
    tries: int = TRIES
    """Tries for the best designs; 0 for none."""
    seed: int = SEED
    resume: bool = False
    """Whether to go on with what an earlier search has left in the store."""
    store: Path | None = None
    """File for finished batches, kept afterwards; None: one in the project's folder until done."""
    scheduler: str | None = None
    """Address of a scheduler whose workers solve the batches."""
    out: Path | None = None
    """New file (.csv, .parquet) for all solved designs."""
    write: Path | None = None
    """New folder for the best design's sheet."""


def _quiet(_seen: int, _of: int, _what: str) -> None:
    return None


def run(
    inputs: Inputs,
    report: Report = _quiet,
    stop: Callable[[], bool] = lambda: False,
) -> Choose:
    """Search the parts list for the aim's best design.

    Parameters
    ----------
    inputs
        What is asked.
    report
        Called now and then with designs solved, designs to be solved, and what is being done.
    stop
        Asked between batches; when it says so, `Stopped` is raised and finished batches are kept.

    Raises
    ------
    SheetInvalid, NoSolution
        As for the other answers.
    SearchError
        When the store, the scheduler or a file to be written cannot be used, or the aim makes no
        sense for the sheet.
    Stopped
        When `stop` said so.
    """
    sheet = inputs.sheet
    aim = _checked(inputs)
    parts = typical_parts() if inputs.parts is None else inputs.parts
    design = Design(sheet, inputs.tries, inputs.seed)
    options = options_of(design.sheet, parts)
    wanted = wanted_of(design, aim)
    engine = engine_of(design, options, wanted.limits, aim, wanted.held_K, wanted.load)
    key = key_of(sheet, parts, aim=inputs.aim, most=inputs.most, seed=inputs.seed,
                 tries=inputs.tries)  # fmt: skip
    notes = list(options.notes)
    with ExitStack() as held:
        store = held.enter_context(_store(inputs, key, notes))
        hunt = Hunt(engine, store, inputs.most, inputs.seed, report, stop)
        if inputs.scheduler is not None:
            from coldwright.answers.choice.cluster import Cluster

            hunt.over = held.enter_context(Cluster(inputs.scheduler, engine)).solve
        seen = hunt.run()
        report(seen.solved, seen.solved, "running the best at their best")
        rows = refined(engine, seen)
        if inputs.out is not None:
            write_designs(inputs.out, options, engine, store, seen.front)
        finals = [
            final_of(options, engine, wanted, sheet, row, inputs.tries, inputs.seed)
            for row in different(engine, rows)
        ]
        share_best(finals)
        if inputs.store is None:
            store.forget()
    return _answer(inputs, options, engine, wanted, seen, rows, finals, notes)


def _checked(inputs: Inputs) -> Aim:
    if inputs.aim not in NAMES:
        raise SearchError(f"“{inputs.aim}” is no aim: {', '.join(AIMS)}.")
    if inputs.out is not None:
        check_out(inputs.out)
    if inputs.write is not None and inputs.write.exists():
        raise SearchError(f"{inputs.write} is there already; nothing was done.")
    aim = aim_of(inputs.sheet, inputs.aim)
    if isinstance(inputs.sheet.place, Plate) and aim in (Aim.NET, Aim.COP):
        raise SearchError(
            f"The heat of a plate is given, so “{inputs.aim}” says nothing here: ask for coldest, "
            "cheapest or quietest."
        )
    fans = (inputs.sheet.cooler.cold_fan, inputs.sheet.cooler.hot_fan)
    listed = () if inputs.parts is None else inputs.parts.fan
    if aim == Aim.QUIETEST and inputs.parts is not None:
        told = [fan for fan in (*fans, *listed) if fan is not None and fan.sound_at_1m is not None]
        if not told:
            raise SearchError("No fan tells its sound, so no design can be called the quietest.")
    return aim


@contextmanager
def _store(inputs: Inputs, key: str, notes: list[str]) -> Iterator[Store]:
    """The store beside the sheet, the one asked for, or none where nothing can be written."""
    file = inputs.store
    if file is None and inputs.sheet.file:
        file = Path(inputs.sheet.file).resolve().parent / STORE_NAME
    try:
        opened = Store(file, key, resume=inputs.resume)
    except SearchError:
        if inputs.store is not None:
            raise
        notes.append("The project's folder cannot be written: a stopped search would be lost.")
        opened = Store(None, key)
    with opened:
        yield opened


def _answer(
    inputs: Inputs,
    options: Options,
    engine: Engine,
    wanted: Wanted,
    seen: Seen,
    rows: NDArray[Any],
    finals: list[Final],
    notes: list[str],
) -> Choose:
    sheet = inputs.sheet
    currency = sheet_currency(sheet)
    hopeless = bool(finals) and engine.aim == Aim.NET and not _cools(finals[0])
    if hopeless:
        finals = []
        seen.front = seen.front[:0]
    best = [_candidate(engine, final) for final in finals]
    held = by_goal(seen.front)
    by_net = engine.aim == Aim.NET or isinstance(sheet.place, OpenAir)
    shown = shown_of(held, finals, wanted, engine)
    front = [_front_point(options, engine, row) for row in held]
    beaten = beaten_designs(options, engine, seen, rows, finals, held, shown, by_net)
    text = sheet_text(sheet, finals[0].edits) if finals else ""
    written = ""
    if inputs.write is not None and finals:
        written = str(new_folder(inputs.write, sheet, text, finals[0].bill, currency))
    nearest = None
    if not finals and len(rows) and not hopeless:
        row = rows[0]
        nearest = {
            "parts": names_in(options, engine, int(row["flat"])),
            "figures": {
                name: finite(row[name])
                for name in ("drive_V", "cold_speed", "hot_speed", "level_K", "net_W", "plug_W",
                             "sound_dB", "price")
            },
            "breaks": names_of(int(row["broken"])),
        }  # fmt: skip
    shell = Choose(
        title=sheet.title,
        file=sheet.file,
        aim=inputs.aim,
        headline="",
        reasons=[],
        best=best,
        nearest=nearest,
        own=_own(wanted, engine),
        front=front,
        shown=shown,
        beaten=beaten,
        combinations=seen.total,
        possible=seen.possible,
        solved=seen.solved,
        ruled_out=seen.ruled_out,
        whole=seen.whole,
        unimproved=seen.unimproved,
        currency=currency,
        options={name: len(held) for name, held in options.axes.items()},
        fan_volts=_fan_volts(finals[0].sheet) if finals else {},
        sheet_text=text,
        written=written,
        notes=notes,
        findings=finals[0].design.findings(finals[0].point) if finals else [],
        tries=inputs.tries,
    )
    told = dict(shell.__dict__)
    told["headline"] = HOPELESS if hopeless else choose_headline(shell, sheet, engine.aim, wanted)
    told["reasons"] = choose_reasons(shell, sheet, wanted)
    return Choose(**told)


def _cools(final: Final) -> bool:
    return (final.figures["net_cooling_W"].value or 0.0) >= LEAST_NET_W


def _candidate(engine: Engine, final: Final) -> Candidate:
    parts = engine.grid.parts(np.array([final.flat]))
    return Candidate(
        parts=final.parts,
        modules=int(engine.grid.count[parts["wiring"]][0]),
        drive_V=final.drive_V,
        cold_speed=final.cold_speed,
        hot_speed=final.hot_speed,
        figures=final.figures,
        price=final.price,
        best_share=final.best_share,
        kept_share=final.kept_share,
        edits=final.edits,
        bill=final.bill,
    )


def _front_point(options: Options, engine: Engine, row: Any) -> FrontPoint:
    flat = int(row["flat"])
    parts = engine.grid.parts(np.array([flat]))
    return FrontPoint(
        parts=names_in(options, engine, flat),
        modules=int(engine.grid.count[parts["wiring"]][0]),
        drive_V=round(float(row["drive_V"]), 4),
        cold_speed=round(float(row["cold_speed"]), 4),
        hot_speed=round(float(row["hot_speed"]), 4),
        level_K=float(row["level_K"]),
        net_W=float(row["net_W"]),
        plug_W=float(row["plug_W"]),
        sound_dB=finite(row["sound_dB"]),
        price=finite(row["price"]),
    )


def _fan_volts(sheet: Sheet) -> dict[str, float]:
    if sheet.power is None or sheet.power.supply is None:
        return {}
    found = {"supply": sheet.power.supply.voltage.value}
    for side in ("cold", "hot"):
        fan = getattr(sheet.cooler, f"{side}_fan")
        if fan is not None and fan.voltage is not None:
            found[side] = fan.voltage.value
    return found


def _own(wanted: Wanted, engine: Engine) -> dict[str, Value]:
    point = wanted.own
    if point is None:
        return {}
    found = {
        name: point.value(name)
        for name in ("cold_sink_K", "cold_outlet_K", "net_cooling_W", "plug_power_W")
    }
    if engine.with_place:
        found["place_air_K"] = Value(float(point.nominal["place_K"]))
    return found


__all__ = [
    "AIMS", "BeatenDesign", "Candidate", "Choose", "FrontPoint", "Inputs", "SearchError", "Stopped",
    "run",
]  # fmt: skip
