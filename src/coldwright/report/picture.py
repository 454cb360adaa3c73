"""The house style of plots, and the one door to the plotting library (opened late)."""

from __future__ import annotations

from collections.abc import Iterator
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
FORMATS = (".png", ".svg", ".pdf")


@contextmanager
def picture(path: Path, *, width_mm: float = 180.0, height_mm: float = 110.0) -> Iterator[Any]:
    """A figure in the house style, written to `path` (PNG, SVG or PDF) at the end.

    Raises
    ------
    OutputError
        When the plotting library is not installed, the ending is unknown, or writing fails.
    """
    if path.suffix.lower() not in FORMATS:
        raise OutputError(f"{path.name}: a picture ends in .png, .svg or .pdf")
    try:
        import matplotlib as mpl
        from matplotlib.figure import Figure
    except ImportError as missing:
        raise OutputError(
            "Pictures need the plotting library: pip install 'coldwright[plot]'"
        ) from missing
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


def mark_limit(axes: Any, at: float, text: str, *, vertical: bool = False) -> None:
    """A limit or goal as a dashed line with its name on it."""
    if vertical:
        axes.axvline(at, color=PALETTE["edge"], linewidth=1.0, linestyle=(0, (4, 3)))
        axes.annotate(
            text, (at, 1.0), xycoords=("data", "axes fraction"), xytext=(3, -2),
            textcoords="offset points", va="top", color=PALETTE["soft"], fontsize=8,
        )  # fmt: skip
    else:
        axes.axhline(at, color=PALETTE["edge"], linewidth=1.0, linestyle=(0, (4, 3)))
        axes.annotate(
            text, (0.0, at), xycoords=("axes fraction", "data"), xytext=(3, 3),
            textcoords="offset points", color=PALETTE["soft"], fontsize=8,
        )  # fmt: skip


def label_end(axes: Any, x: Any, y: Any, text: str, color: str, *, above: bool = True) -> None:
    """The name of a curve at its end, instead of a legend."""
    axes.annotate(
        text, (x[-1], y[-1]), xytext=(4, 3 if above else -9), textcoords="offset points",
        color=color, fontsize=8.5, annotation_clip=False,
    )  # fmt: skip


def mark_point(axes: Any, x: float, y: float, text: str) -> None:
    """The person's own point, its words on the side where there is room."""
    low, high = axes.get_ylim()
    near_top = y > low + 0.9 * (high - low)
    axes.plot([x], [y], marker="o", markersize=6, color=PALETTE["ink"], zorder=5)
    axes.annotate(
        text, (x, y), xytext=(7, -15 if near_top else 7), textcoords="offset points",
        color=PALETTE["ink"], fontsize=8.5,
        bbox={"boxstyle": "round,pad=0.15", "facecolor": PALETTE["card"], "edgecolor": "none"},
        zorder=6,
    )  # fmt: skip
