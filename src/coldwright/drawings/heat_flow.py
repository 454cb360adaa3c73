"""Where the watts go, as a picture: a cut through place, cooler and outdoors.

Heat flows as bands whose width is watts, air as arrows, water as drops, electricity as a dotted
band from the plug. One SVG without scripts, drawn as plain text, fast enough to follow a slider.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from coldwright.answers.equations import Equation, Inputs, run
from coldwright.answers.watts import Watts
from coldwright.drawings import heat_flow_narrow, heat_flow_wide
from coldwright.drawings.heat_flow_bands import Band, flows
from coldwright.drawings.heat_flow_facts import Facts, heat
from coldwright.drawings.heat_flow_pen import opened
from coldwright.errors import OutputError

Layout = Literal["wide", "narrow"]


def heat_flow(watts: Watts, *, layout: Layout = "wide", live: bool = True) -> str:
    """Draw where the watts go.

    Parameters
    ----------
    watts
        The answer; needs its `sheet`.
    layout
        "wide" (place, cooler, outdoors from left to right) or "narrow" (from top to bottom,
        390 px wide).
    live
        Whether bands can be stepped to by keyboard, for a page that tells more about each
        (`band_notes`). Without it the whole is one image, for a file or a report.

    Returns
    -------
    str
        One SVG element. Colours are the page's (``--ink``, ``--soft``, ``--cold``, ``--hot``,
        ``--warm``, ``--outdoor``, ``--outdoor-fill``, ``--power``, ``--power-fill``, ``--edge``,
        ``--card``, ``--selected``, ``--on-band``), or else those of the light theme.

    Raises
    ------
    OutputError
        When the answer carries no sheet.
    """
    facts = _facts(watts)
    name = f"heat-{layout}"
    draw = heat_flow_wide.drawn if layout == "wide" else heat_flow_narrow.drawn
    box, inside = draw(facts, live=live)
    card = "" if live else _card(box)
    return opened(name, box, _title(watts), _said(facts), live=live) + card + inside + "</svg>"


@dataclass(frozen=True, slots=True)
class BandNote:
    """What there is to say about one band, for whoever points at it.

    Parameters
    ----------
    id : str
        The band's ``data-line`` in the picture.
    words : str
        What it is called.
    W : float
        Heat [W]; negative when it runs against its name.
    text : str
        The watts as the picture writes them.
    lines : list of tuple
        Node, line and share [W] of the ledger that add up to it; an empty node is a figure.
    laws : list of Equation
        The laws behind it, each with its equation and source.
    widens : list of tuple
        Key of the sheet and its share of what widens the interval of `figure`.
    figure : str
        The figure of the answer by which `widens` is judged.
    """

    id: str
    words: str
    W: float
    text: str
    lines: list[tuple[str, str, float]]
    laws: list[Equation]
    widens: list[tuple[str, float]]
    figure: str


def band_notes(watts: Watts) -> list[BandNote]:
    """Ledger lines, laws, sources and widest inputs of every band, in reading order.

    Raises
    ------
    OutputError
        When the answer carries no sheet.
    """
    return [_note(band, watts) for band in _facts(watts).flows.every()]


def _note(band: Band, watts: Watts) -> BandNote:
    return BandNote(
        id=band.id,
        words=band.words,
        W=band.W,
        text=heat(band),
        lines=[(term.node, term.what, term.sign * term.W) for term in band.terms],
        laws=[_laws()[name] for name in band.laws],
        widens=watts.widest.get(band.figure, []),
        figure=band.figure,
    )


def _facts(watts: Watts) -> Facts:
    if watts.sheet is None:
        raise OutputError("the picture needs the sheet of the answer")
    return Facts(watts, watts.sheet, flows(watts, watts.sheet))


@lru_cache(maxsize=1)
def _laws() -> dict[str, Equation]:
    return {one.name: one for one in run(Inputs()).equations}


def _card(box: tuple[float, float, float, float]) -> str:
    """Paper below a picture that stands alone, whatever a viewer has behind it."""
    x, y, wide, tall = box
    return f'<path class="fk" d="M{x:g},{y:g}h{wide:g}v{tall:g}h{-wide:g}z"/>'


def _title(watts: Watts) -> str:
    return f"Where the watts go: {watts.title}" if watts.title else "Where the watts go"


def _said(facts: Facts) -> str:
    """The picture in words, for a reader who cannot see it."""
    told = [f"{heat(band)} {band.words}" for band in facts.flows.every() if band.id != "moved"]
    return f"{facts.watts.headline} {'; '.join(told)}."
