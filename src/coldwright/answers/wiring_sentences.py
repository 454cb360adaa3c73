"""The answer on wiring in words: what the chain carries, where it is tight, what a drop costs."""

from __future__ import annotations

from coldwright.answers.wiring_loads import FanFeed, Loading, MainsSide
from coldwright.answers.wiring_runs import Run
from coldwright.answers.wiring_states import States
from coldwright.machine.assemble_network import Moment
from coldwright.quantities.glossary import display

_TIGHT = 0.8


def wiring_headline(
    states: States, mains: MainsSide | None, runs: list[Run], loads: list[Loading]
) -> str:
    """One sentence: what the source gives, and what stands in the way."""
    source = states.chain.elements[0]
    amps = states.running.current_A[source.name]
    plug = display("power", states.running.plug_W)
    over = [one.name for one in loads if _share(one) > 1.0]
    thin = [one.name for one in runs if one.allowed_A is not None and one.running_A > one.allowed_A]
    gives = (
        f"{display('power', mains.real_W)} from the plug"
        if mains is not None
        else f"{plug} from the {source.name}"
    )
    if over:
        return f"{gives}, and the {' and the '.join(over)} cannot give that for long."
    if thin:
        return f"{gives}, and the wire to the {' and the '.join(thin)} is too thin for its current."
    said = f"{gives}: the {source.name} gives {display('current', amps)}"
    if runs and all(one.allowed_A is not None for one in runs):
        return f"{said}, and its wires may carry that."
    return f"{said}."


def wiring_reasons(
    states: States, loads: list[Loading], mains: MainsSide | None, runs: list[Run]
) -> list[str]:
    """What a person must know of the chain, the weightiest first."""
    said = []
    said += _starting(states)
    for one in loads[:2]:
        if one.allowed_W:
            air = display("temperature", one.air_K)
            less = ""
            if one.rated_W is not None and one.allowed_W < 0.999 * one.rated_W:
                less = f" (rated {display('power', one.rated_W)}, less in air of {air})"
            said.append(
                f"The {one.name} gives {display('power', one.output_W)} of the "
                f"{display('power', one.allowed_W)} that it may{less} and turns "
                f"{display('power', one.loss_W)} into heat {_where(one.located)}."
            )
        else:
            said.append(
                f"The {one.name} gives {display('power', one.output_W)} and turns "
                f"{display('power', one.loss_W)} into heat {_where(one.located)}."
            )
    if mains is not None and mains.apparent_VA > 1.15 * mains.real_W:
        said.append(
            f"Wires, fuse and inlet carry {mains.apparent_VA:.0f} VA "
            f"({display('current', mains.line_A)}), though only "
            f"{display('power', mains.real_W)} are paid for: the power factor is "
            f"{mains.power_factor:.2f}."
        )
    if mains is not None and mains.inrush_A is not None:
        again = ""
        if mains.restart_A is not None:
            again = (
                f"; up to {display('current', mains.restart_A)} when it comes back after a blink, "
                "while its limiter is hot: wait a minute"
            )
        said.append(f"Switching on takes {display('current', mains.inrush_A)} for a moment{again}.")
    said += [_drop(one) for one in runs if one.feeds == "modules"]
    return said


def fans_sentence(fans: list[FanFeed]) -> list[str]:
    """What the fans take until they turn."""
    if not fans:
        return []
    low, high, most = (sum(fan.start_A[k] for fan in fans) for k in range(3))
    return [
        f"Until they turn the fans take {display('current', low)} to {display('current', high)} "
        f"for some seconds, by common practice; with stopped rotors up to "
        f"{display('current', most)}."
    ]


def _starting(states: States) -> list[str]:
    now, start, back = (states.current_A("modules", moment) for moment in Moment)
    if now is None:
        return []
    said = f"The modules take {display('current', now)} while they run"
    if start is not None and start > 1.02 * now:
        said += (
            f" and {display('current', start)} when they are switched on: without a temperature "
            "difference nothing works against the voltage"
        )
    sentences = [said + "."]
    if back is not None and back > 1.02 * now:
        sentences.append(
            f"With plus and minus exchanged while they run they would take "
            f"{display('current', back)} at first: let the temperatures even out before that."
        )
    for moment, error in states.refused.items():
        sentences.append(f"{str(moment).capitalize()} there is no steady current: {error.reason}")
    return sentences


def _drop(run: Run) -> str:
    cost = ""
    if run.lost_cooling_W is not None and run.lost_cooling_W > 0.05:
        cost = f" and cost {display('heat', run.lost_cooling_W)} of net cooling"
    elif run.lost_cooling_W is not None and run.lost_cooling_W < -0.05:
        cost = (
            f"; the lower voltage even helps, by {display('heat', -run.lost_cooling_W)} of net "
            "cooling"
        )
    return (
        f"The wires to the modules lose {display('voltage', run.drop_V)} of "
        f"{display('voltage', run.start_V)} ({100.0 * run.drop_share:.1f} %), make "
        f"{display('heat', run.heat_W)} of heat{cost}."
    )


def _where(located: str) -> str:
    return {"place": "in the place", "exhaust": "in the exhaust"}.get(located, "outside")


def _share(one: Loading) -> float:
    return one.output_W / one.allowed_W if one.allowed_W else 0.0
