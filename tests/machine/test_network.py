"""The network of direct current: closed forms, a general solver, the balance, what is refused."""

import collections
import math

import numpy as np
import pytest
from scipy.optimize import root

from coldwright.errors import NoSolution
from coldwright.machine.network import solve_network
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
from tests.machine.networks import random_network, taken_and_landed

OHM = "Ohm's and Kirchhoff's laws, worked by hand"


# --- Against hand and closed forms ---------------------------------------------------------------


@pytest.mark.published(OHM)
def test_a_battery_a_pair_of_wires_and_a_short_at_their_end():
    # 12.8 V, 10 mohm, 1 m each way of 2.5 mm2 class 5 (7.98 ohm/km): 25.96 mohm, 493 A.
    found = solve_network(
        [
            Battery("battery", "+", "-", 12.8, 0.010),
            Conductor("go", "+", "load +", 0.00798),
            Conductor("back", "load -", "-", 0.00798),
            String("fault", "load +", "load -", 0.0, 1e-9),
        ]
    )
    assert found.current_A["battery"] == pytest.approx(493.07, rel=1e-4)


@pytest.mark.published(OHM)
def test_a_string_answers_with_its_back_voltage():
    # Two modules of 0.05 V/K and 1.8 ohm over 25 K behind 0.2 ohm on 24 V:
    # (24 - 2.5) / 3.8 = 5.6579 A; no lift 6.3158 A; lift the other way round 6.9737 A.
    for lift_V, amps in ((2.5, 5.657895), (0.0, 6.315789), (-2.5, 6.973684)):
        found = solve_network(
            [
                Supply("supply", "+", "-", 24.0),
                Conductor("wire", "+", "m", 0.2),
                String("modules", "m", "-", lift_V, 3.6),
            ]
        )
        assert found.current_A["modules"] == pytest.approx(amps, rel=1e-6)
        assert found.heat_of("wire") == pytest.approx(0.2 * amps**2, rel=1e-6)


@pytest.mark.published("quadratic of a fixed power behind a resistance, solved by hand")
@pytest.mark.parametrize("power_W", [1.0, 20.0, 60.0, 71.99])
def test_a_fixed_power_behind_a_wire_takes_the_upper_root(power_W):
    # v^2 - E v + P R = 0: v = (E + sqrt(E^2 - 4 P R)) / 2, at most E^2 / 4 R = 72 W.
    found = solve_network(
        [
            Battery("battery", "+", "-", 12.0, 0.5),
            Load("load", "+", "-", power_W),
        ]
    )
    upper_V = 0.5 * (12.0 + math.sqrt(144.0 - 2.0 * power_W))
    assert found.across_V["load"] == pytest.approx(upper_V, rel=1e-9)


@pytest.mark.published("largest power behind a resistance, E^2 / 4 R")
@pytest.mark.parametrize("power_W", [72.01, 80.0, 1e3, 1e6])
def test_beyond_the_fold_it_browns_out_and_says_where(power_W):
    with pytest.raises(NoSolution, match=r"“load”.*brown-out.*CW-NET-07"):
        solve_network([Battery("battery", "+", "-", 12.0, 0.5), Load("load", "+", "-", power_W)])


@pytest.mark.published("step-down converter at 24 V to 12 V, 6 A, efficiency 0.93: 3.226 A in")
def test_a_converter_takes_the_power_it_gives_and_its_loss():
    found = solve_network(
        [
            Supply("supply", "+", "-", 24.0),
            Converter("buck", "+", "-", "out", "-", 12.0, LossModel(k1=1.0 / 0.93 - 1.0)),
            String("load", "out", "-", 0.0, 2.0),
        ]
    )
    assert found.input_A["buck"] == pytest.approx(3.2258, rel=1e-4)
    assert found.heat_of("buck") == pytest.approx(72.0 / 0.93 - 72.0, rel=1e-9)


@pytest.mark.published("three-point loss of a supply: 5.170 W, 0.0716, 2.0197e-4 1/W at 60 W")
def test_a_supply_takes_its_loss_from_the_plug():
    # Efficiency 0.8548 at 60 W.
    found = solve_network(
        [
            Supply("supply", "+", "-", 24.0, loss=LossModel(5.1702, 0.0716, 2.01972e-4)),
            Load("load", "+", "-", 60.0),
        ]
    )
    assert 60.0 / found.plug_W == pytest.approx(0.85478, rel=1e-4)


@pytest.mark.published("10 A through a diode of 0.5 V: 5 W")
def test_a_diode_costs_its_drop_times_the_current():
    found = solve_network(
        [
            Battery("battery", "+", "-", 12.5, 1e-6),
            Diode("diode", "+", "load", 0.45, 0.005),  # 0.5 V at 10 A
            String("load", "load", "-", 0.0, 1.2),
        ]
    )
    # The rounded knee makes the drop 3 mV of 500 mV larger than the straight line it stands for.
    assert found.heat_of("diode") == pytest.approx(5.0, rel=1e-2)
    back = solve_network(
        [
            Battery("battery", "-", "+", 12.5, 1e-6),
            Diode("diode", "+", "load", 0.45, 0.005),
            String("load", "load", "-", 0.0, 1.2),
        ]
    )
    assert abs(back.current_A["load"]) < 1e-7


@pytest.mark.published("Ohm's law and the balance of power, worked by hand")
@pytest.mark.parametrize(("load_ohm", "fed"), [(12.0, True), (0.6, False)])
def test_a_panel_behind_its_controller_charges_the_battery_or_helps_it(load_ohm, fed):
    # 12 V behind 0.1 ohm, 60 W of sun. At v volts: 60 / v = v / R + (v - 12) / 0.1.
    found = solve_network(
        [
            Battery("battery", "+", "-", 12.0, 0.1, charges=True),
            Charger("panel", "+", "-", 60.0, 6.0),
            String("load", "+", "-", 0.0, load_ohm),
        ]
    )
    # The quadratic (1/R + 10) v^2 - 120 v - 60 = 0.
    a = 1.0 / load_ohm + 10.0
    volts = (120.0 + math.sqrt(120.0**2 + 240.0 * a)) / (2.0 * a)
    assert found.across_V["load"] == pytest.approx(volts, rel=1e-12)
    assert found.current_A["panel"] == pytest.approx(60.0 / volts, rel=1e-12)
    assert found.current_A["battery"] == pytest.approx((12.0 - volts) / 0.1, rel=1e-9)
    assert (found.current_A["battery"] < 0.0) is fed
    stored_W = max(12.0 * (volts - 12.0) / 0.1, 0.0)
    assert sum(found.leaves_W.values()) == pytest.approx(stored_W, rel=1e-9)
    assert found.plug_W == pytest.approx(60.0 + max(12.0 * (12.0 - volts) / 0.1, 0.0), rel=1e-9)
    assert abs(found.residual_W()) <= 1e-9 * found.plug_W


def test_a_battery_that_is_not_said_to_charge_is_not_fed():
    with pytest.raises(NoSolution, match=r"“battery”.*CW-NET-04"):
        solve_network(
            [
                Battery("battery", "+", "-", 12.0, 0.1),
                Charger("panel", "+", "-", 60.0, 6.0),
                String("load", "+", "-", 0.0, 12.0),
            ]
        )


def test_of_two_batteries_behind_diodes_the_higher_one_gives():
    found = solve_network(
        [
            Battery("old", "a", "-", 12.0, 0.01),
            Battery("full", "b", "-", 13.2, 0.01),
            Diode("one", "a", "+", 0.5),
            Diode("two", "b", "+", 0.5),
            String("load", "+", "-", 0.0, 6.0),
        ]
    )
    assert found.current_A["full"] == pytest.approx((13.2 - 0.5) / 6.0, rel=0.02)
    assert abs(found.current_A["old"]) < 1e-6


@pytest.mark.published("general solver: scipy.optimize.root on the same equations")
def test_a_branched_network_agrees_with_a_general_solver():
    loss = LossModel(1.5, 0.03, 2e-4)
    found = solve_network(
        [
            Battery("battery", "b", "-", 25.0, 0.02),
            Conductor("trunk", "b", "bus", 0.03),
            Converter("buck", "bus", "-", "out", "-", 14.0, loss),
            Conductor("lead", "out", "m", 0.05),
            String("modules", "m", "-", 3.0, 2.2),
            Conductor("fan wire", "bus", "f", 0.2),
            Fan("fan", "f", "-", 24.0, 0.8, 1.6),
            Load("controller", "bus", "-", 3.0),
            Panel("panel", "bus", "-", 2.0, 30.0, 1.5),
        ]
    )

    def equations(x):
        bus, fan, modules = x
        amps = (14.0 - modules) / 0.05
        buck_W = 14.0 * amps
        buck_W += 1.5 + 0.03 * buck_W + 2e-4 * buck_W**2
        panel_A = 2.0 * (1.0 - math.exp((bus - 30.0) / 1.5))
        fan_A = 0.8 * (fan / 24.0) ** 1.6 + 1e-6 * 0.8 / 24.0 * fan
        return [
            (25.0 - bus) / 0.05 - buck_W / bus - (bus - fan) / 0.2 - 3.0 / bus + panel_A,
            (bus - fan) / 0.2 - fan_A,
            amps - (modules - 3.0) / 2.2,
        ]

    apart = root(equations, [24.0, 24.0, 13.0], tol=1e-12)
    assert apart.success
    for node, volts in zip(("bus", "f", "m"), apart.x, strict=True):
        assert found.voltage_V[node] == pytest.approx(volts, rel=1e-9)


# --- The balance ---------------------------------------------------------------------------------


@pytest.mark.parametrize("part", range(4))  # 10,000 in all, shared out
def test_ten_thousand_random_networks_balance(part):
    solved = 0
    refused = collections.Counter()
    seed = 100_000 * part
    while solved < 2_500:
        elements = random_network(seed)
        seed += 1
        try:
            found = solve_network(elements)
        except NoSolution as error:
            refused[error.code] += 1
            continue
        solved += 1
        taken_W, landed_W = taken_and_landed(elements, found.voltage_V, found.current_A)
        assert found.plug_W == pytest.approx(taken_W, rel=1e-9), f"seed {seed - 1}"
        assert taken_W == pytest.approx(landed_W, rel=1e-9), f"seed {seed - 1}"
        assert abs(found.residual_W()) <= 1e-9 * taken_W, f"seed {seed - 1}"
        at_places = sum(found.heat_at().values()) + sum(found.leaves_W.values())
        assert at_places == pytest.approx(landed_W, rel=1e-9), f"seed {seed - 1}"
    # A generator that mostly makes nonsense would prove little.
    assert sum(refused.values()) < 0.2 * solved, refused
    assert set(refused) <= {"CW-NET-04", "CW-NET-07"}, refused


def test_the_balance_can_fail():
    elements = random_network(3)
    found = solve_network(elements)
    shifted = {node: volts * (1.0 + 1e-6) for node, volts in found.voltage_V.items()}
    taken_W, landed_W = taken_and_landed(elements, shifted, found.current_A)
    assert taken_W != pytest.approx(landed_W, rel=1e-9)


def test_light_sound_and_work_leave_and_the_rest_is_heat():
    found = solve_network(
        [
            Supply("supply", "+", "-", 12.0, loss=LossModel(2.0)),
            Load("lamp", "+", "-", 10.0, "place", (("light", 0.3), ("sound", 0.01))),
        ]
    )
    assert found.leaves_W == pytest.approx({"light": 3.0, "sound": 0.1})
    assert found.heat_at() == pytest.approx({"outside": 2.0, "place": 6.9})
    assert found.plug_W == pytest.approx(12.0)


# --- What cannot be ------------------------------------------------------------------------------

SUPPLY = Supply("supply", "+", "-", 12.0)
LAMP = Load("lamp", "+", "-", 10.0)
IMPOSSIBLE = {
    "a short by one wire": (
        "CW-NET-01", "bare wire", [SUPPLY, LAMP, Conductor("bare wire", "+", "-", 0.01)],
    ),
    "a short by two": (
        "CW-NET-01", "switch",
        [SUPPLY, LAMP, Conductor("switch", "+", "a", 0.01), Conductor("fuse", "a", "-", 0.01)],
    ),
    "a load with both ends at one node": (
        "CW-NET-01", "lamp", [SUPPLY, Load("lamp", "+", "+", 1.0)],
    ),
    "no wire back": (
        "CW-NET-02", "lamp",
        [SUPPLY, Load("other", "+", "-", 1.0), Conductor("wire", "+", "a", 0.1),
         Load("lamp", "a", "b", 1.0)],
    ),
    "a wire that leads nowhere": (
        "CW-NET-02", "loose wire", [SUPPLY, LAMP, Conductor("loose wire", "+", "x", 0.1)],
    ),
    "nothing feeds it": (
        "CW-NET-03", "heater",
        [SUPPLY, LAMP, String("heater", "a", "b", 0.0, 1.0), String("other", "a", "b", 0.0, 1.0)],
    ),
    "two supplies side by side": (
        "CW-NET-04", "second", [SUPPLY, LAMP, Supply("second", "+", "-", 12.0)],
    ),
    "two supplies in opposition": (
        "CW-NET-04", "second", [SUPPLY, LAMP, Supply("second", "-", "+", 12.0)],
    ),
    "a battery charged by a supply": (
        "CW-NET-04", "battery",
        [Supply("supply", "+", "-", 14.0), LAMP, Battery("battery", "+", "-", 12.0, 0.01)],
    ),
    "converters that feed each other": (
        "CW-NET-05", "first",
        [Converter("first", "a", "-", "b", "-", 12.0),
         Converter("second", "b", "-", "a", "-", 12.0)],
    ),
    "a converter that feeds itself": (
        "CW-NET-05", "buck",
        [Converter("buck", "a", "0", "b", "0", 12.0), Conductor("wire", "a", "b", 0.1)],
    ),
    "more than the supply can give": (
        "CW-NET-06", "supply", [Supply("supply", "+", "-", 12.0, limit_A=0.5), LAMP],
    ),
    "a wire too thin for its power": (
        "CW-NET-07", "lamp",
        [SUPPLY, Conductor("hair", "+", "a", 10.0), Load("lamp", "a", "-", 10.0)],
    ),
    "ideal joints in a ring": (
        "CW-NET-08", "link 2",
        [SUPPLY, Conductor("link 1", "+", "a", 0.0), Conductor("link 2", "+", "a", 0.0),
         Load("lamp", "a", "-", 1.0)],
    ),
    "a converter with too little input": (
        "CW-NET-09", "buck",
        [SUPPLY, Converter("buck", "+", "-", "out", "-", 11.5, least_V=13.0),
         Load("lamp", "out", "-", 1.0)],
    ),
}  # fmt: skip


@pytest.mark.parametrize(
    ("code", "named", "elements"), list(IMPOSSIBLE.values()), ids=list(IMPOSSIBLE)
)
def test_what_cannot_be_is_refused_by_name(code, named, elements):
    with pytest.raises(NoSolution) as raised:
        solve_network(elements)
    assert raised.value.code == code
    assert f"“{named}”" in str(raised.value)


def test_two_parts_with_one_name_are_refused():
    with pytest.raises(ValueError, match="“lamp”"):
        solve_network([SUPPLY, LAMP, LAMP])


def test_a_chain_of_converters_is_no_ring():
    found = solve_network(
        [
            Supply("supply", "+", "-", 36.0),
            Converter("first", "+", "-", "a", "-", 12.0, LossTable((0.1, 1.0), (0.8, 0.9), 50.0)),
            Converter("second", "a", "-", "b", "0", 5.0, LossModel(0.1)),
            Load("logic", "b", "0", 2.0),
        ]
    )
    second_W = 2.1
    first = np.interp(second_W / 50.0, (0.1, 1.0), (0.8, 0.9))
    assert found.plug_W == pytest.approx(second_W / first, rel=1e-9)
