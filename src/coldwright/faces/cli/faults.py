"""`coldwright faults`: what if something fails?"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json
from coldwright.faces.cli.page import columns, padded, shortened

if TYPE_CHECKING:
    from coldwright.answers.faults import Faults, Followed, Guard
    from coldwright.faces.cli.page import Page

Tries = Annotated[
    int,
    typer.Option(
        "--tries", min=20, max=2000, metavar="N",
        help="How many tries the intervals come from (20 to 2000; 100 unless given): in each, the "
        "sheet's values vary within their tolerances.",
    ),
]  # fmt: skip
Name = Annotated[
    str,
    typer.Option(
        "--fault", metavar="NAME",
        help="One fault in full, such as “hot fan stops”; the beginning of its name will do.",
        show_default=False,
    ),
]  # fmt: skip
_TRIES = 100
_MANY_TRIES = 500
# So little water a day needs no guard.
_NO_WATER_KG = 0.02
# How bad it is to pass a limit, as a sign in the table (`answers.fault.limits`).
_MARKS = {5: ("▲", "alarm"), 4: ("▲", "alarm"), 3: ("△", "hot"), 2: ("△", "hot")}


def faults(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    fault: Name = "",
    tries: Tries = _TRIES,
    seed: of.Seed = of.DEFAULT_SEED,
    no_intervals: of.NoIntervals = False,
    plain: of.Plain = False,
) -> None:
    """What if something fails? Each fault followed in time: how soon it harms, what catches it."""
    with answering(as_json=as_json, plain=plain):
        answer = _answer(sheet, 0 if no_intervals else tries, seed, fault, as_json=as_json)
        if as_json:
            put_json(answer.to_json())
        else:
            put_faults(answer, sheet, plain=plain)


def put_faults(answer: Faults, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, matrix, the worst in full, guards, findings."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings

    page = Page(plain=plain)
    put_opening(page, answer)
    told = [each for each in answer.followed if not each.refused]
    _put_matrix(page, told, answer)
    named = answer.worst if len(answer.followed) > 1 else [each.name for each in told]
    for name in named:
        _put_full(page, next(each for each in told if each.name == name))
    _put_guards(page, answer)
    refused = [each for each in answer.followed if each.refused]
    if refused:
        page.heading("Not followed")
        page.line()
        for each in refused:
            page.text(f"{_capital(each.name)}: {each.said}", indent=4, first="  · ")
    put_other_findings(page, answer.findings)
    others = [each.name for each in told if each.name not in named]
    command = of.command_line("faults", path)
    steps = [(of.command_line("changes", path), "what would make it cooler")]
    if others:
        steps.insert(0, (f'{command} --fault "{others[0]}"', "another fault in full"))
    elif len(answer.followed) == 1:
        steps.insert(0, (command, "all faults side by side"))
    put_next(page, steps)
    page.show()


def _put_matrix(page: Page, told: list[Followed], answer: Faults) -> None:
    """Fault against consequence against what catches it."""
    if not told:
        return
    from coldwright.answers.fault.words import degrees, in_time
    from coldwright.answers.fault_sentences import consequence
    from coldwright.report.figures import plain

    head = ("", "", "what it does", "after", "hottest", "place", "caught by")
    guards = {guard.key: guard for guard in answer.guards}
    rows = []
    for each in told:
        what, at_s = consequence(each)
        face_K = each.figures["hot_face_K"].value
        ends = "no end" if each.ends == "runs away" or face_K is None else degrees(face_K)
        rise_K = None if each.place_rise_K is None else each.place_rise_K.value
        rise = "" if rise_K is None else plain(rise_K, 1)
        if rise_K is not None and rise_K >= 0.05:
            rise = f"+{rise}"
        first = each.caught_by
        guard = "nothing" if first is None else _guard(guards.get(first.guard), first.guard)
        if first is None and each.water_kg is not None and each.water_kg < _NO_WATER_KG:
            guard = ""
        if first is not None and not each.in_time:
            guard += ", late"
        after = "" if at_s is None else in_time(at_s)
        mark, _ = _MARKS.get(each.harm, ("", ""))
        rows.append((mark, each.name, what, after, ends, rise, guard))
    shown = [at for at in range(len(head)) if at == 0 or any(row[at] for row in rows)]
    widths = {at: max(columns(row[at]) for row in (head, *rows)) for at in shown}
    note = "in the running machine, with nothing to stop it"
    page.heading("Fault by fault", note)
    page.line()
    right = (3, 4, 5)
    for number, row in enumerate((head, *rows)):
        cells = [padded(row[at], widths[at], right=at in right) for at in shown if at > 1]
        name = padded(row[1], widths[1])
        style = _MARKS[told[number - 1].harm][1] if number and row[0] else ""
        figures = "  ".join(cells).rstrip()
        room = page.width - 5 - widths[1]
        page.line(
            " ", (row[0] or " ", style), f" {name}  ",
            (shortened(figures, room), "soft" if number == 0 else "strong"),
        )  # fmt: skip
    page.line()
    page.text(
        "▲ burns or destroys, △ hurts or spoils. “hottest”: where the hottest face of a module "
        "ends; “place”: how much warmer the place ends, in K."
        + (f" Intervals below: 90 of 100 tries, of {answer.tries}." if answer.tries else ""),
        style="soft",
    )


def _put_full(page: Page, one: Followed) -> None:
    from coldwright.answers.fault_sentences import fault_paragraph

    page.heading(_capital(one.name))
    page.text(" ".join(fault_paragraph(one)))


def _put_guards(page: Page, answer: Faults) -> None:
    """What to fit, what to set it to, and where."""
    if not answer.guards:
        return
    page.heading("What to fit", "each acts on at least one of these faults, or on a dead short")
    page.line()
    for guard in answer.guards:
        head = _capital(guard.key if guard.key != "cut-out" else "thermal cut-out")
        told = f"{head}: {guard.set_to}. " if guard.set_to else f"{head}. "
        page.text(f"{told}{guard.why}. {_capital(guard.fit)}.", indent=4, first="  · ")


# Names that fit the table's last column.
_SHORT = {
    "fan-fail interlock": "fan interlock",
    "cold-side cut-out": "cold cut-out",
    "low-voltage cut-off": "low-volt stop",
    "second thermostat": "2nd thermostat",
    "delayed restart": "restart delay",
    "current reading": "current meter",
}


def _guard(guard: Guard | None, key: str) -> str:
    """A guard in the table: short, and with its number where that fits."""
    from coldwright.answers.fault.words import degrees

    if guard is not None and guard.number is not None and key == "cut-out":
        return f"{key} {degrees(guard.number)}"
    if guard is not None and guard.number is not None and key.endswith("fuse"):
        return f"fuse {guard.number:g}\u2009A"
    return _SHORT.get(key, key)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _answer(path: str, tries: int, seed: int, fault: str, *, as_json: bool) -> Faults:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Following every fault ...", many=tries >= _MANY_TRIES):
        from coldwright.answers import faults as answer

        known = answer.names()
        found = [name for name in known if name.startswith(fault.strip().lower())]
        if fault and len(found) != 1:
            told = ", ".join(f"“{name}”" for name in found or known)
            why = "begins several names" if found else "begins no name of a fault"
            fail(f"--fault: “{fault}” {why}. There are {told}.", Exit.WRONG_USE, as_json=as_json)
        return answer.run(answer.Inputs(design, tries, seed, found[0] if fault else ""))
