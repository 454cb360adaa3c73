"""The faults in words: the sentence that answers, the reasons, a paragraph for each."""

from __future__ import annotations

from coldwright.answers.fault.followed import Followed, Reached
from coldwright.answers.fault.guards import Guards
from coldwright.answers.fault.limits import RUIN, SPOIL
from coldwright.answers.fault.start import Start
from coldwright.answers.fault.words import degrees, in_time, litres
from coldwright.answers.value import Value
from coldwright.quantities.display import NEVER, THIN_SPACE


def faults_headline(worst: list[Followed], guards: Guards) -> str:
    """The sentence that answers: how many faults do harm, and what the worst one does."""
    if not worst:
        return "No fault could be followed on this design."
    if len(worst) == 1:
        return _of_one(worst[0])
    harmful = [each for each in worst if each.harm >= RUIN]
    spoil = [each for each in worst if each.harm == SPOIL]
    first = worst[0]
    if harmful and first.worst is not None:
        many = "One fault does" if len(harmful) == 1 else f"{_count(len(harmful))} faults do"
        cut = "no cut-out fits"
        if guards.cut_out_K is not None:
            opens = degrees(guards.cut_out_K)
            cut = f"a thermal cut-out that opens at {opens} belongs on the hot sink"
        return (
            f"{many} lasting harm; the worst is “{first.name}”: {first.worst.name} after "
            f"{_span(first.worst)}. {cut[:1].upper()}{cut[1:]}."
        )
    if spoil:
        return f"Nothing burns; “{spoil[0].name}” is the worst fault of {len(worst)}."
    return f"None of {len(worst)} faults does lasting harm by itself."


def _of_one(one: Followed) -> str:
    """The sentence where one fault was asked for."""
    does = (
        "passes no limit" if one.worst is None else (f"{one.worst.name} after {_span(one.worst)}")
    )
    if one.caught_by is None:
        return f"“{one.name}”: {does}. No guard here surely catches it."
    late = "" if one.in_time else ", too late"
    return f"“{one.name}”: {does}. {one.caught_by.said.rstrip('.')}{late}."


def faults_reasons(start: Start, told: list[Followed], guards: Guards) -> list[str]:
    """What matters most, in a few lines."""
    reasons = []
    on_A, run_A = float(start.switch_on_A[0]), float(start.running_A[0])
    reasons.append(
        f"In normal use the hot sink reaches {degrees(guards.normal_K)}; the modules take "
        f"{run_A:.3g}\u2009A, and {on_A:.3g}\u2009A at switch-on when all is warm."
    )
    heats = [
        each
        for each in told
        if each.place_rise_K is not None and (each.place_rise_K.value or 0.0) >= 1.0
    ]
    if heats:
        hottest = max(heats, key=lambda each: (each.place_rise_K or Value(0.0)).value or 0.0)
        assert hottest.place_rise_K is not None
        reasons.append(f"“{hottest.name}” warms the place most, by {_rise(hottest.place_rise_K)}.")
    nothing = [each for each in told if each.harm >= SPOIL and each.caught_by is None]
    if nothing:
        names = ", ".join(f"“{each.name}”" for each in nothing)
        reasons.append(f"No guard here surely catches {names}.")
    late = [each for each in told if each.harm >= SPOIL and not each.in_time]
    if late:
        names = ", ".join(f"“{each.name}”" for each in late)
        reasons.append(f"A guard acts, but after the first harm, with {names}.")
    reasons.append(
        "Times count from the moment of the fault in the running machine, with no guard. Local "
        "codes and a licensed person decide what a build must have."
    )
    return reasons


def fault_paragraph(one: Followed) -> list[str]:
    """A followed fault in full: what breaks, what is passed and when, the end, the guards."""
    passed = [each for each in one.reached if each.time_s.value is not None]
    passed.sort(key=lambda each: each.time_s.value or 0.0)
    return [
        one.said,
        *(f"After {_span(each)} it passes {each.name}: {each.what}." for each in passed),
        *(
            f"In {100 * each.share:.0f} of 100 tries it passes {each.name}: {each.what}."
            for each in one.reached
            if each.time_s.value is None and each.share is not None
        ),
        _end(one),
        *(each.said for each in one.caught),
        *(
            []
            if one.peak_K is None
            else [
                "Followed with the thermal cut-out in the lead, no face gets hotter than "
                f"{degrees(one.peak_K)}."
            ]
        ),
        one.caution,
    ]


def consequence(one: Followed) -> tuple[str, float | None]:
    """What a table says that the fault does, and after how long [s] where that is told."""
    if one.worst is not None:
        return one.worst.name, one.worst.time_s.value
    if one.ends == "runs away":
        return "hotter, no end", 0.0
    if one.water_kg is not None:
        return f"{litres(one.water_kg)} in a day", None
    if one.current_ratio is not None and one.current_ratio >= 1.15:
        return f"{one.current_ratio:.2g} × current", None
    rise_K = None if one.place_rise_K is None else one.place_rise_K.value
    if rise_K is not None and abs(rise_K) >= 0.2:
        return f"place {rise_K:.1f}\u2009K".replace("-", "−"), None
    return "no limit passed", None


def _end(one: Followed) -> str:
    face_K = one.figures["hot_face_K"].value
    if one.ends == "runs away":
        return "It finds no level: the modules get hotter until they come apart."
    if one.ends == "past the solder":
        return (
            f"On paper the modules would level off at {degrees(face_K or 0.0)}; their solder "
            "has melted before."
        )
    text = f"Unstopped, the hottest face levels off at {degrees(face_K or 0.0)}"
    place_K = one.figures["place_air_K"].value
    if one.place_rise_K is not None and place_K is not None:
        rise = one.place_rise_K.value or 0.0
        word = "warmer" if rise >= 0.0 else "cooler"
        text += f" and the place at {degrees(place_K)}, {abs(rise):.1f}\u2009K {word} than before"
    return f"{text}."


def _span(one: Reached) -> str:
    at = in_time(one.time_s.value)
    if one.time_s.low is None:
        return at
    low, high = in_time(one.time_s.low), in_time(one.time_s.high)
    number, _, unit = low.partition(THIN_SPACE)
    if high.endswith(THIN_SPACE + unit):
        low = number
    return f"{at} ({low}–{high})" if high != NEVER else f"{at} ({low} to {high})"


def _rise(value: Value) -> str:
    text = f"{value.value or 0.0:.1f}\u2009K"
    if value.low is not None and value.high is not None:
        text += f" ({value.low:.1f}–{value.high:.1f})"
    return text


def _count(number: int) -> str:
    words = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")
    return words[number] if number < len(words) else f"{number}"
