"""The house style of plots, and the one door to the plotting library (opened late)."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from coldwright.errors import OutputError

PALETTE = {
    "paper": "#faf8f3",
    "card": "#ffffff",
    "ink": "#22272e",
    "soft": "#5a5f67",
    "cold": "#1b4c7e",
    "hot": "#b0401c",
    "warm": "#c87617",
    "outdoor": "#1d7a5f",
    "outdoor_fill": "#d5ece4",
    "power": "#6b3f94",
    "power_fill": "#ece6f6",
    "alarm": "#8c1a4b",
    "edge": "#7d786a",
    "selected": "#efe9da",
}
_LINE_PT = 11.0
FORMATS = (".png", ".svg", ".pdf")


@contextmanager
def picture(path: Path, *, width_mm: float = 180.0, height_mm: float = 110.0) -> Iterator[Any]:
    """A figure in the house style, written to `path` (PNG, SVG or PDF) at the end.

    Raises
    ------
    OutputError
        When the plotting library is not installed, the ending is unknown, or writing fails.
    """
    check_picture(path)
    import matplotlib as mpl
    from matplotlib.figure import Figure

    style: Any = {
        "svg.fonttype": "path",
        "svg.hashsalt": "coldwright",
        "font.size": 9.0,
        "axes.edgecolor": PALETTE["soft"],
        "axes.labelcolor": PALETTE["ink"],
        "axes.linewidth": 0.7,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "axes.facecolor": PALETTE["card"],
        "axes.titlesize": 10.0,
        "axes.titleweight": "bold",
        "axes.titlelocation": "left",
        "text.color": PALETTE["ink"],
        "xtick.color": PALETTE["soft"],
        "ytick.color": PALETTE["soft"],
        "xtick.labelcolor": PALETTE["ink"],
        "ytick.labelcolor": PALETTE["ink"],
        "lines.linewidth": 1.6,
        "lines.solid_capstyle": "round",
        "figure.facecolor": PALETTE["card"],
        "hatch.linewidth": 0.6,
        "hatch.color": "#a09a8a",
    }
    with mpl.rc_context(style):
        figure = Figure(figsize=(width_mm / 25.4, height_mm / 25.4), layout="constrained")
        yield figure
        # No date inside, so that the same answer gives the same file.
        metadata = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}.get(
            path.suffix.lower(), {}
        )
        try:
            figure.savefig(path, dpi=160, metadata=metadata)
        except OSError as error:
            raise OutputError(f"{path}: cannot be written ({error.strerror})") from error


def check_picture(path: Path) -> None:
    """Raise `OutputError` when no picture could be written to `path`, before anything is computed.

    A picture that stands there already is replaced.
    """
    if path.suffix.lower() not in FORMATS:
        raise OutputError(f"{path.name}: a picture ends in .png, .svg or .pdf")
    if not path.parent.is_dir():
        raise OutputError(f"{path}: there is no folder {path.parent}")
    if path.is_dir():
        raise OutputError(f"{path}: is a folder")
    if importlib.util.find_spec("matplotlib") is None:
        raise OutputError("Pictures need the plotting library: pip install 'coldwright[plot]'")


def mark_limit(axes: Any, at: float, text: str) -> None:
    """A limit or goal as a dashed line with its name on it, behind the curves."""
    axes.axhline(at, color=PALETTE["edge"], linewidth=1.0, linestyle=(0, (4, 3)))
    axes.annotate(
        text, (0.0, at), xycoords=("axes fraction", "data"), xytext=(3, 4),
        textcoords="offset points", color=PALETTE["soft"], fontsize=8, bbox=_on_card(), zorder=1.5,
    )  # fmt: skip


def label_margin(axes: Any, named: Sequence[tuple[float, str, str]]) -> None:
    """Names of curves right of the axes, each at its (end, text, colour), none over another.

    The limits of the axis must stand before.
    """
    low, high = axes.get_ylim()
    height_pt = 72.0 * axes.get_position().height * axes.figure.get_figheight()
    least = _LINE_PT * (high - low) / height_pt
    rows = sorted(named, key=lambda one: one[0])
    places = [end for end, _, _ in rows]
    for at in range(1, len(places)):
        places[at] = max(places[at], places[at - 1] + least)
    # What was pushed beyond the top comes down again, and its neighbours with it.
    over = max(0.0, places[-1] - high) if places else 0.0
    for at in range(len(places) - 1, -1, -1):
        room = places[at + 1] - least if at + 1 < len(places) else places[at] - over
        places[at] = min(places[at], room)
    for (_, text, color), place in zip(rows, places, strict=True):
        axes.annotate(
            text, (1.0, place), xycoords=("axes fraction", "data"), xytext=(4, 0), va="center",
            textcoords="offset points", color=color, fontsize=8.5, annotation_clip=False,
        )  # fmt: skip


def mark_point(axes: Any, x: float, y: float, text: str) -> None:
    """The person's own point, its words behind the curves, on the side where there is room."""
    (left, right), (low, high) = axes.get_xlim(), axes.get_ylim()
    near_top = y > low + 0.9 * (high - low)
    near_right = x > left + 0.75 * (right - left)
    axes.plot([x], [y], marker="o", markersize=6, color=PALETTE["ink"], zorder=7, clip_on=False)
    axes.annotate(
        text, (x, y), xytext=(-7 if near_right else 7, -15 if near_top else 18),
        textcoords="offset points", ha="right" if near_right else "left", color=PALETTE["ink"],
        fontsize=8.5, bbox=_on_card(), zorder=1.5,
    )  # fmt: skip


def _on_card() -> dict[str, Any]:
    """What keeps words readable where they cross a line."""
    return {"boxstyle": "round,pad=0.15", "facecolor": PALETTE["card"], "edgecolor": "none"}
