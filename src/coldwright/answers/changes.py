"""What should I change? Changes to the design, each solved anew and ranked by what it gains."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from coldwright.answers.change.solved import Solved
from coldwright.answers.change_search import Made, Refused, Search, least
from coldwright.answers.change_sentences import (
    change_sentence,
    changes_headline,
    changes_reasons,
    effects_of,
    what_to_do,
)
from coldwright.answers.change_tries import Tried, tried
from coldwright.answers.design import SEED
from coldwright.answers.value import Value, in_ordinary_spaces, known, value_of
from coldwright.findings import Finding
from coldwright.sheet.models import OpenAir, Sheet

TRIES = 200
# For so many of the best single changes the intervals are computed.
SHOWN = 10


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the intervals and for how often a change is best; 0 for none."""
    seed: int = SEED


@dataclass(frozen=True)
class Option:
    """One change, or several made together, and what it does to the design."""

    names: list[str]
    does: list[str]
    """What to do, one for each change."""
    why: list[str]
    asks: list[str]
    """What it asks of the person, cautions included."""
    edits: dict[str, Any]
    """What to write into the sheet, by key."""
    sentence: str
    gain_K: Value | None
    """How much lower the place (or plate) levels off; None in open air."""
    gain_W: Value | None
    """More surplus at the goal (net cooling less all heat that comes in); None for a plate, whose
    heat is given, and for something smaller than the place."""
    plug_W: Value
    """More power from the plug."""
    price: float | None
    """What must be bought; 0.0: nothing, None: not known."""
    gain_per_W: float | None
    """Gain (K, in open air W) for each watt more from the plug; None where it takes no more."""
    gain_per_price: float | None
    """Gain for each unit of price; None where it is not known or nothing."""
    best_share: float | None
    """Share of the tries in which it is the best single change."""
    figures: dict[str, Value]
    """The figures of the changed design."""
    verdict: str | None
    reached: int | None
    breaks: list[str]
    """Limits of the sheet that it newly breaks."""
    effects: list[str]
    """Side effects, in words."""

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        data = {name: getattr(self, name) for name in self.__dataclass_fields__}
        for name in ("gain_K", "gain_W", "plug_W"):
            data[name] = None if data[name] is None else data[name].to_json()
        data["figures"] = {name: value.to_json() for name, value in self.figures.items()}
        return data


@dataclass(frozen=True)
class Changes:
    """The answer to "What should I change?"."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    verdict: str | None
    reached: int | None
    figures: dict[str, Value]
    """The figures of the sheet as it is."""
    options: list[Option]
    """Single changes that help and keep the sheet's limits, best first."""
    over_limit: list[Option]
    """Single changes that help, but break a limit."""
    pair: Option | None
    triple: Option | None
    smaller: list[Option]
    """What cools something smaller than the place."""
    no_help: list[tuple[str, float]]
    """Changes that do not help: name and gain."""
    refused: list[tuple[str, str]]
    """Changes that cannot be made, with the reason."""
    seen: int
    """How many changed designs were solved."""
    tries: int
    findings: list[Finding]

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, keys in SI by the glossary's names."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "verdict": self.verdict,
            "reached_tries": self.reached,
            "figures": {name: value.to_json() for name, value in self.figures.items()},
            **{
                name: [option.to_json() for option in getattr(self, name)]
                for name in ("options", "over_limit", "smaller")
            },
            "pair": None if self.pair is None else self.pair.to_json(),
            "triple": None if self.triple is None else self.triple.to_json(),
            "no_help": [{"name": name, "gain": gain} for name, gain in self.no_help],
            "refused": [{"name": name, "reason": reason} for name, reason in self.refused],
            "seen": self.seen,
            "tries": self.tries,
            "findings": [asdict(finding) for finding in self.findings],
        }


def run(inputs: Inputs) -> Changes:
    """Try every change on the design, then the best of them together.

    Raises
    ------
    SheetInvalid, NoSolution
        As for the other answers: the sheet's own design must have a steady state.
    """
    start = Solved(inputs.sheet)
    base = tried(inputs.sheet, start, start, inputs.tries, inputs.seed)
    found = Search(start).run()
    helps = [made for made in found.singles if made.gain >= least(start)]
    kept = [made for made in helps if not made.breaks]
    over = [made for made in helps if made.breaks]
    # More work is told of only where it gains more.
    pair = _more(found.pair, kept[0] if kept else None, start)
    triple = _more(found.triple, pair or (kept[0] if kept else None), start)
    shown = [*kept, *over][:SHOWN]
    cases = {
        id(made): tried(made.solved.sheet, made.solved, start, inputs.tries, inputs.seed)
        for made in (*shown, pair, triple, *found.smaller)
        if made is not None
    }
    shares = _best_shares(base, [cases[id(made)] for made in shown])

    def option(made: Made) -> Option:
        share = next(
            (share for each, share in zip(shown, shares, strict=True) if each is made), None
        )
        return _option(made, start, base, cases.get(id(made)), share)

    options = [option(made) for made in kept]
    two, three = (None if made is None else option(made) for made in (pair, triple))
    smaller = [option(made) for made in found.smaller]
    return Changes(
        title=inputs.sheet.title,
        file=inputs.sheet.file,
        headline=changes_headline(options),
        reasons=changes_reasons(inputs.sheet, base, options, two, three),
        verdict=base.verdict,
        reached=base.reached,
        figures=base.figures,
        options=options,
        over_limit=[option(made) for made in over],
        pair=two,
        triple=three,
        smaller=smaller,
        no_help=[(made.changes[0].name, made.gain) for made in found.singles if made not in helps],
        refused=[(_name(each), each.reason) for each in found.refused],
        seen=found.seen,
        tries=inputs.tries,
        findings=start.findings,
    )


def _option(
    made: Made, start: Solved, base: Tried, case: Tried | None, share: float | None
) -> Option:
    in_open_air = isinstance(start.sheet.place, OpenAir)
    after = case if case is not None else tried(made.solved.sheet, made.solved, start, 0, 0)
    gain_K = None if in_open_air else _difference(base, after, "level_K")
    gain_W = (
        _difference(after, base, "surplus_W")
        if base.net_known and not made.changes[0].smaller
        else None
    )
    plug_W = _difference(after, base, "plug_power_W")
    gained = gain_W if in_open_air else gain_K
    more_W = plug_W.value or 0.0
    figure = None if gained is None else gained.value
    edits: dict[str, Any] = {}
    for variant in made.variants:
        edits |= variant.edits
    shell = Option(
        names=[change.name for change in made.changes],
        does=what_to_do(made.variants),
        why=[change.reason(start.sheet) for change in made.changes],
        asks=[variant.asks for variant in made.variants if variant.asks],
        edits=edits,
        sentence="",
        gain_K=gain_K,
        gain_W=gain_W,
        plug_W=plug_W,
        price=made.price,
        gain_per_W=figure / more_W if figure is not None and more_W >= 0.5 else None,
        gain_per_price=figure / made.price if figure is not None and made.price else None,
        best_share=share,
        figures=after.figures,
        verdict=after.verdict,
        reached=after.reached,
        breaks=list(made.breaks),
        effects=effects_of(made, start),
    )
    return Option(**{**shell.__dict__, "sentence": change_sentence(shell, start.sheet)})


def _more(made: Made | None, less: Made | None, start: Solved) -> Made | None:
    """Changes made together, if they gain more than fewer of them do."""
    if made is None or less is None or made.breaks or made.gain < less.gain + least(start):
        return None
    return made


def _difference(first: Tried, second: Tried, name: str) -> Value:
    """First less second, with the interval of the differences over the same tries."""
    nominal = (first.nominal[name]) - (second.nominal[name])
    if first.tried is None or second.tried is None:
        return Value(known(nominal))
    apart = first.tried[name] - second.tried[name]
    solved = np.isfinite(apart)
    return value_of(nominal, apart, solved)


def _best_shares(base: Tried, cases: list[Tried]) -> list[float | None]:
    """In which share of the tries each of several cases gains most."""
    if base.tried is None or len(cases) < 2:
        return [None] * len(cases)
    name, sign = ("surplus_W", 1.0) if base.in_open_air else ("level_K", -1.0)
    gains = np.stack(
        [sign * (case.tried[name] - base.tried[name]) for case in cases if case.tried is not None]
    )
    counted = np.asarray(np.isfinite(gains).any(axis=0))
    if not counted.any():
        return [None] * len(cases)
    first = np.argmax(np.where(np.isfinite(gains), gains, -np.inf)[:, counted], axis=0)
    return [float(np.mean(first == at)) for at in range(len(cases))]


def _name(refused: Refused) -> str:
    return f"{refused.change.name}: {what_to_do([refused.variant])[0]}"


__all__ = ["Changes", "Inputs", "Option", "run"]
