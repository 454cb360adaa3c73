"""Random direct-current networks, and a heat balance written down apart from the solver's."""

import itertools
import math
import random

from coldwright.machine.network_elements import (
    Battery,
    Charger,
    Conductor,
    Converter,
    Diode,
    Fan,
    Load,
    LossModel,
    LossTable,
    Panel,
    String,
    Supply,
)

PLACES = ("place", "exhaust", "outside", "cold air", "hot air")


def random_network(seed):
    """A source or several, a bus, branches, and converters with branches of their own."""
    dice = random.Random(seed)
    volts = dice.choice((5.0, 12.0, 13.2, 24.0, 36.0, 48.0)) * dice.uniform(0.9, 1.1)
    made = []
    kind = dice.random()
    if kind < 0.5:
        made.append(Supply("supply", "+", "-", volts, dice.choice((0.0, 0.01)), None, _loss(dice),
                           dice.choice(PLACES)))  # fmt: skip
    elif kind < 0.65:
        made.append(Battery("battery", "+", "-", volts, dice.uniform(0.002, 0.05)))
    elif kind < 0.75:
        made.append(Battery("battery", "+", "-", volts, dice.uniform(0.002, 0.05), charges=True))
        made.append(Charger("sun", "+", "-", dice.uniform(1.0, 200.0), 0.5 * volts))
    else:
        made.append(Battery("battery", "b+", "-", volts, dice.uniform(0.002, 0.05)))
        made.append(Diode("or 1", "b+", "+", dice.uniform(0.2, 0.7), at=dice.choice(PLACES)))
        made.append(Supply("supply", "s+", "-", volts * dice.uniform(0.95, 1.05), 0.0, None,
                           _loss(dice), "outside"))  # fmt: skip
        made.append(Diode("or 2", "s+", "+", dice.uniform(0.2, 0.7), at=dice.choice(PLACES)))
    if dice.random() < 0.3:
        made.append(Panel("panel", "p+", "-", dice.uniform(0.1, 3.0), 1.3 * volts, 0.05 * volts))
        made.append(Diode("panel diode", "p+", "+", 0.4))
    ohm = 0.02 * volts / 24.0
    made.append(Conductor("switch", "+", "s", dice.choice((0.0, ohm * dice.random())), "place"))
    made.append(Conductor("go", "s", "bus", ohm * dice.random() + 1e-4, "place"))
    made.append(Conductor("back", "0", "-", ohm * dice.random() + 1e-4, "outside"))
    _branches(dice, made, "bus", "0", volts, 60.0, depth=0)
    return made


def _branches(dice, made, plus, minus, volts, most_W, depth):
    for number in range(dice.randint(1, 4)):
        name = f"{plus}.{number}"
        ohm = 0.03 * volts**2 / most_W * dice.random() + 1e-4
        made.append(Conductor(f"{name} fuse", plus, f"{name} f", 0.3 * ohm, dice.choice(PLACES)))
        made.append(Conductor(f"{name} wire", f"{name} f", f"{name} +", ohm, dice.choice(PLACES)))
        ends = (f"{name} +", minus)
        if dice.random() < 0.5:
            made.append(Conductor(f"{name} return", f"{name} -", minus, ohm, "place"))
            ends = (f"{name} +", f"{name} -")
        power_W = most_W * dice.uniform(0.05, 0.6)
        kind = dice.choice(("string", "strings", "fan", "load", "converter", "lamp"))
        if kind == "string":
            made.append(String(f"{name} string", *ends, volts * dice.uniform(-0.3, 0.6),
                               volts**2 / power_W))  # fmt: skip
        elif kind == "strings":
            half = f"{name} half"
            each_ohm = 0.5 * volts**2 / power_W
            made.append(String(f"{name} one", ends[0], half, 0.2 * volts * dice.random(), each_ohm))
            made.append(String(f"{name} two", half, ends[1], 0.2 * volts * dice.random(), each_ohm))
        elif kind == "fan":
            made.append(Fan(f"{name} fan", *ends, volts, power_W / volts, dice.uniform(1.0, 2.0),
                            at=dice.choice(PLACES)))  # fmt: skip
        elif kind == "converter" and depth < 2:
            out = f"{name} out"
            out_V = volts * dice.uniform(0.3, 0.9)
            back = minus if ends[1] == minus and dice.random() < 0.5 else f"{name} out -"
            made.append(Converter(f"{name} converter", *ends, out, back, out_V, _loss(dice),
                                  at=dice.choice(PLACES)))  # fmt: skip
            _branches(dice, made, out, back, out_V, 0.3 * most_W, depth + 1)
        else:
            leaves = ()
            if kind == "lamp":
                leaves = (("light", dice.uniform(0.1, 0.5)), ("sound", 0.01), ("work", 0.05))
            made.append(Load(f"{name} load", *ends, power_W, dice.choice(PLACES), leaves))


def _loss(dice):
    if dice.random() < 0.3:
        points = sorted(dice.uniform(0.05, 1.0) for _ in range(3))
        return LossTable(tuple(points), tuple(dice.uniform(0.7, 0.95) for _ in points), 100.0)
    return LossModel(dice.uniform(0.0, 4.0), dice.uniform(0.0, 0.1), dice.uniform(0.0, 3e-4))


def taken_and_landed(elements, volts, current):
    """What comes in from outside, and what lands as heat or leaves [W], element by element.

    Written down from the meaning of each part and the solved node voltages alone (currents only
    where a voltage does not fix them), with no code of the package.
    """
    taken, landed = [], []
    for each in elements:
        kind = type(each).__name__
        v = volts[each.plus] - volts[each.minus]
        if kind == "Conductor":
            landed.append(v * v / each.ohm if each.ohm else 0.0)
        elif kind == "Diode":
            x = (v - each.drop_V) / 0.025
            soft = max(x, 0.0) + math.log1p(math.exp(-abs(x)))
            landed.append(v * (soft * 0.025 / each.ohm + 1e-9 * v))
        elif kind == "String":
            landed.append(v * (v - each.back_V) / each.ohm)
        elif kind == "Fan":
            leak_A = 1e-6 * each.rated_A / each.rated_V * v
            landed.append(v * (each.rated_A * (v / each.rated_V) ** each.exponent + leak_A))
        elif kind == "Load":
            landed.append(each.power_W)
        elif kind == "Panel":
            x = (v - each.open_V) / each.knee_V
            taken.append(v * each.short_A * (-x if x > 0.0 else 1.0 - math.exp(x)))
        elif kind == "Charger":
            taken.append(each.power_W if v > each.floor_V else v * each.power_W / each.floor_V)
        else:
            amps = current[each.name]
            if kind == "Battery":
                stored = amps < 0.0 and each.charges
                if stored:
                    landed.append(-each.voltage_V * amps)
                else:
                    taken.append(each.voltage_V * amps)
                landed.append(each.ohm * amps**2)
                continue
            out_W = (each.voltage_V if kind == "Converter" else v) * amps
            lost_W = _lost(each.loss, out_W)
            if kind == "Supply":
                lost_W += each.ohm * amps**2
                taken.append(out_W + lost_W)
            landed.append(lost_W)
    return math.fsum(taken), math.fsum(landed)


def _lost(loss, out_W):
    if isinstance(loss, LossModel):
        return loss.k0_W + loss.k1 * out_W + loss.k2_1_W * out_W**2
    share = out_W / loss.rated_W
    rows = list(zip(loss.loads, loss.efficiencies, strict=True))
    if share <= rows[0][0]:
        return out_W * (1.0 / rows[0][1] - 1.0)
    for (x0, y0), (x1, y1) in itertools.pairwise(rows):
        if share <= x1:
            return out_W * (1.0 / (y0 + (y1 - y0) * (share - x0) / (x1 - x0)) - 1.0)
    return out_W * (1.0 / rows[-1][1] - 1.0)
