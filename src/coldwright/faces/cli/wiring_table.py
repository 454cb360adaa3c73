"""The tables of `coldwright wiring`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldwright.faces.cli.page import Page, joined, padded, shortened
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import display
from coldwright.report.figures import plain

if TYPE_CHECKING:
    from coldwright.answers.wiring import Wiring
    from coldwright.answers.wiring_loads import Loading
    from coldwright.answers.wiring_runs import Run

_NAME = 25
_LEAST_W = 0.005


def put_states(page: Page, answer: Wiring) -> None:
    """Currents and power in the three states of the modules."""
    page.heading("Currents")
    page.line()
    heads = "".join(padded(each.moment, 15, right=True) for each in answer.states)
    page.line((" " * (_NAME + 2) + heads, "soft"))
    rows = (
        ("Modules", "current", [each.module_A for each in answer.states]),
        ("From the source", "current", [each.source_A for each in answer.states]),
        (
            "From the plug" if answer.mains else "Power of the source",
            "power",
            [each.plug_W for each in answer.states],
        ),
    )
    for name, kind, numbers in rows:
        if any(number is not None for number in numbers):
            cells = "".join(
                padded("none" if number is None else display(kind, number), 15, right=True)
                for number in numbers
            )
            page.line("  ", padded(name, _NAME), (cells, "strong"))
    mains = answer.mains
    if mains is not None:
        page.line(
            "  ", padded("In the mains cord", _NAME),
            (padded(display("current", mains.line_A), 15, right=True), "strong"),
            f"   {mains.apparent_VA:.0f}{THIN_SPACE}VA at {display('voltage', mains.voltage_V)}, "
            f"power factor {mains.power_factor:.2f}",
        )  # fmt: skip
        if mains.inrush_A is not None:
            again = (
                ""
                if mains.restart_A is None
                else f", {display('current', mains.restart_A)} on a hot restart"
            )
            page.line(
                "  ", padded("First peak at the mains", _NAME),
                (padded(display("current", mains.inrush_A), 15, right=True), "strong"), again,
            )  # fmt: skip


def put_battery(page: Page, answer: Wiring) -> None:
    """The battery through its charge, and beside the sun."""
    side = answer.battery
    if side is None:
        return
    ohms = (
        "not known"
        if side.internal_ohm is None
        else f"{display('resistance', side.internal_ohm)} inside"
    )
    page.heading("Battery", ohms)
    page.line()
    heads = ("at rest", "loaded", "it gives", "panel", "modules", "cools by")
    page.line((" " * 16 + "".join(padded(head, 10, right=True) for head in heads), "soft"))
    for one in side.states:
        cells = (
            ("voltage", one.rest_V), ("voltage", one.terminal_V), ("current", one.battery_A),
            ("current", one.panel_A), ("current", one.modules_A), ("heat", one.net_cooling_W),
        )  # fmt: skip
        text = "".join(
            padded("" if number is None else display(kind, number), 10, right=True)
            for kind, number in cells
        )
        page.line("  ", padded(f"{one.name[:1].upper()}{one.name[1:]}", 14), (text, "strong"))


def put_loadings(page: Page, answer: Wiring) -> None:
    """Supply, converters and fan drives."""
    if not answer.loadings and not answer.fans:
        return
    page.heading("Supply and converters")
    page.line()
    page.line(
        (
            " " * (_NAME + 2)
            + padded("gives", 10, right=True)
            + padded("may give", 11, right=True)
            + padded("efficiency", 12, right=True)
            + padded("loses", 10, right=True),
            "soft",
        )
    )
    for one in answer.loadings:
        allowed = "not known" if one.allowed_W is None else display("power", one.allowed_W)
        name = f"{one.name[:1].upper()}{one.name[1:]}, {display('voltage', one.voltage_V)}"
        page.line(
            "  ",
            padded(shortened(name, _NAME), _NAME),
            padded(display("power", one.output_W), 10, right=True),
            padded(allowed, 11, right=True),
            padded(f"{100.0 * one.efficiency:.1f}{THIN_SPACE}%", 12, right=True),
            padded(display("heat", one.loss_W), 10, right=True),
        )
        _more(page, one)
    for fan in answer.fans:
        lost = f", its drive loses {display('heat', fan.drive_W)}" if fan.drive_W > 0.0 else ""
        drive = "" if fan.drive == "direct" else f", {_DRIVES[fan.drive]}"
        page.line(
            "  ",
            padded(fan.name[:1].upper() + fan.name[1:], _NAME),
            padded(display("power", fan.power_W), 10, right=True),
            f"   {display('current', fan.current_A)} at {display('voltage', fan.voltage_V)}"
            f"{drive}{lost}",
        )


_DRIVES = {
    "voltage": "a lower voltage",
    "pwm4": "four-wire signal",
    "chopped": "chopped",
    "linear": "linear stage",
    "converter": "own converter",
}


def _more(page: Page, one: Loading) -> None:
    said = []
    if one.switch_on_W is not None and one.switch_on_W > 1.02 * one.output_W:
        said.append(f"{display('power', one.switch_on_W)} at switch-on")
    if one.best_share is not None and one.best_efficiency is not None and one.idle_W is not None:
        said.append(
            f"best at {100.0 * one.best_share:.0f}{THIN_SPACE}% of its rating "
            f"({100.0 * one.best_efficiency:.1f}{THIN_SPACE}%), {display('heat', one.idle_W)} idle"
        )
    said.append(f"air around it {display('temperature', one.air_K)}")
    page.text("; ".join(said), style="soft", indent=4)


def put_runs(page: Page, answer: Wiring) -> None:
    """Every run of wire, line by line."""
    if not answer.runs:
        return
    page.heading("Runs of wire")
    for number, run in enumerate(answer.runs):
        page.line()
        page.line(
            "  ", (f"{number + 1}  {run.begins} to {run.feeds}", "strong"),
            f"   {display('length', run.length_m)} of {run.size}, {run.strands}",
        )  # fmt: skip
        for name, text in _rows(run):
            page.text(text, indent=17, first=f"     {padded(name, 12)}")


def _rows(run: Run) -> list[tuple[str, str]]:
    amps = [f"{display('current', run.running_A)} running"]
    if run.switch_on_A is not None and run.switch_on_A > 1.02 * run.running_A:
        amps.append(f"{display('current', run.switch_on_A)} at switch-on")
    if run.reversed_A is not None and run.reversed_A > 1.02 * run.running_A:
        amps.append(f"{display('current', run.reversed_A)} reversed")
    drop = (
        f"{display('voltage', run.drop_V)} of {display('voltage', run.start_V)} "
        f"({100.0 * run.drop_share:.1f}{THIN_SPACE}%), {display('heat', run.heat_W)} of heat"
    )
    if run.lost_cooling_W is not None and abs(run.lost_cooling_W) >= 0.05:
        cost = "costs" if run.lost_cooling_W > 0.0 else "gains"
        drop += f", {cost} {display('heat', abs(run.lost_cooling_W))} of net cooling"
    ohms = f"{display('resistance', run.copper_ohm)} of copper at "
    ohms += display("temperature", run.copper_K)
    if run.joints_ohm > 0.0:
        ohms += f", {display('resistance', run.joints_ohm)} of joints"
    rows = [("current", ", ".join(amps)), ("resistance", ohms), ("drop", drop)]
    if run.allowed_A is None:
        rows.append(("may carry", "not known: no table here has this size"))
    else:
        rows.append(("may carry", f"{display('current', run.allowed_A)} by {run.table}"))
        if run.base_A is not None:
            times = [f"{value:.2f} ({name})" for name, value in run.factors.items() if value != 1.0]
            rows[-1] = (
                "may carry",
                rows[-1][1]
                + (f": {display('current', run.base_A)} × {' × '.join(times)}" if times else ""),
            )
    rows.append(("fuse", _fuse(run)))
    beside = [
        f"{size} is the next {word}"
        for size, word in ((run.smaller, "thinner"), (run.larger, "thicker"))
        if size
    ]
    if beside:
        rows.append(("sizes", ", ".join(beside)))
    rows.append(
        ("labels", f"{run.label_plus} on plus ({run.plus}), {run.label_minus} on minus "
         f"({run.minus})")
    )  # fmt: skip
    return rows


def _fuse(run: Run) -> str:
    most = "" if run.fuse_most_A is None else f" and at most {display('current', run.fuse_most_A)}"
    wants = f"wants at least {display('current', run.fuse_least_A)}{most}"
    sizes = ""
    if run.fuse_sizes_A:
        listed = joined([f"{size:g}" for size in run.fuse_sizes_A[:4]], "or")
        sizes = f": {listed}{THIN_SPACE}A"
    standard = f" ({run.fuse_standard})" if run.fuse_standard else ""
    if run.fuse_A is None:
        return f"none; {wants}{sizes}, at the {run.begins}'s end"
    given = f"{run.fuse_A:g}{THIN_SPACE}A{standard} at the {run.begins}'s end"
    return f"{given}; it {wants}{sizes}"


def put_heat(page: Page, answer: Wiring) -> None:
    """Where each part's power ends."""
    page.heading("Where the power ends", "as heat, by place")
    page.line()
    places: dict[str, list[tuple[str, float]]] = {}
    for line in answer.heat:
        if line.W < _LEAST_W:
            continue  # less than the last digit shown
        places.setdefault(line.located, []).append((line.part, line.W))
    width = page.width - 15
    for place, rows in places.items():
        total = sum(watts for _, watts in rows)
        page.line("  ", (padded(_place(place), width), "strong"),
                  (padded(plain(total, 1), 10, right=True), "strong"), " W")  # fmt: skip
        if len(rows) > 1 or rows[0][0] != place:
            for part, watts in sorted(rows, key=lambda row: -row[1]):
                page.line(
                    (f"    {padded(shortened(part, width - 2), width - 2)}", "soft"),
                    (padded(plain(watts, 2 if watts < 0.95 else 1), 10, right=True), "soft"),
                )
    for what, watts in answer.leaves_W.items():
        page.line("  ", padded(f"Leaves as {what}", width), padded(plain(watts, 1), 10, right=True))
    page.line()
    page.text(
        f"Together {display('power', answer.plug_power_W)}, what the "
        f"{'plug' if answer.mains else 'source'} gives; the gap is "
        f"{display('ledger_residual_W', abs(answer.residual_W))}.",
        style="soft",
    )


def _place(place: str) -> str:
    return {
        "outside": "Outside",
        "place": "In the place",
        "exhaust": "Into the exhaust",
        "modules": "Into the modules, which pump heat with it",
    }.get(place, f"Into the {place}")


def put_cuts(page: Page, answer: Wiring) -> None:
    """The pieces of wire to cut."""
    if not answer.cuts:
        return
    page.heading("Wires to cut", "with 0.1 m more at each end; labels count, colours help")
    page.line()
    for cut in answer.cuts:
        page.line(
            f"    {padded(cut.label, 5)}{padded(cut.size, 12)}{padded(cut.strands, 10)}"
            f"{padded(cut.colour, 26)}{padded(display('length', cut.length_m), 9, right=True)}"
        )
    page.line()
    rows = [f"{one.plus} and {one.minus} by {one.standard}" for one in answer.colours]
    if len(rows) > 1:
        page.text(
            "Colours of plus and minus differ: " + "; ".join(rows) + ". Ask which holds where you "
            "live.",
            style="soft",
        )
    elif rows:
        page.text(f"Colours: {rows[0]}.", style="soft")
