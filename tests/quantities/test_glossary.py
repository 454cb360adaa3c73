import math
import subprocess
import sys

import pytest

from coldwright.errors import QuantityError
from coldwright.quantities.glossary import GLOSSARY, KINDS, RESULTS, display, entry
from coldwright.quantities.units import conversion

THIN = "\u2009"


@pytest.mark.parametrize(
    ("name", "value_SI", "text"),
    [
        # By hand: subtract 273.15, multiply by 3600, divide by the size of the unit.
        ("place_air_K", 307.25, f"34.1{THIN}°C"),
        ("temperature", 263.15, f"−10.0{THIN}°C"),
        ("temperature", 273.12, f"0.0{THIN}°C"),
        ("lift_K", 41.26, f"41.3{THIN}K"),
        ("thermal_resistance", 0.35, f"0.350{THIN}K/W"),
        ("cold_flow_m3_s", 80 / 3600, f"80.0{THIN}m³/h"),
        ("plug_power_W", 1234.4, f"1234{THIN}W"),
        ("plug_power_W", 12_345.0, f"12.3{THIN}kW"),
        ("net_cooling_W", -53.04, f"−53.0{THIN}W"),
        ("cooling_W", 0.0, f"0{THIN}W"),
        ("cooling_W", 9.996, f"10.0{THIN}W"),
        ("ledger_residual_W", 1.234e-9, f"1.23×10⁻⁹{THIN}W"),
        ("cop_module", 0.512, "0.512"),
        ("time_to_goal_s", 42.0, f"42.0{THIN}s"),
        ("time_to_goal_s", 3000.0, f"50.0{THIN}min"),
        ("time_to_goal_s", 7199.9999999, f"2.00{THIN}h"),
        ("time_to_goal_s", math.inf, "never"),
        ("time_to_goal_s", None, "not known"),
        ("cooling_W", math.nan, "not known"),
        ("cooling_W", math.inf, "∞"),
        ("condensate_kg_s", 0.06 / 3600, f"60.0{THIN}g/h"),
        ("relative_humidity", 0.4, f"40.0{THIN}%"),
        ("cold_outlet_humidity_ratio", 0.008, f"8.00{THIN}g/kg"),
        ("length", 0.3, f"300{THIN}mm"),
        ("length", 1.8, f"1.80{THIN}m"),
        ("sound_dB", 46.04, f"46.0{THIN}dB"),
        ("price", 12.5, "12.50"),
        ("price_per_energy", 0.25 / 3.6e6, f"0.250{THIN}per kWh"),
        ("count", 12.0, "12"),
        ("angle", math.pi, f"180.0{THIN}°"),
        ("wire_size", 2.5e-6, f"2.50{THIN}mm²"),
        ("seebeck", 0.0513, f"51.3{THIN}mV/K"),
    ],
)
def test_numbers_are_written_for_people(name, value_SI, text):
    assert display(name, value_SI) == text


def test_digits_after_the_point_may_be_asked_for():
    assert display("place_air_K", 307.256, digits=2) == f"34.11{THIN}°C"
    assert display("cooling_W", 53.04, digits=0) == f"53{THIN}W"
    assert display("cooling_W", -0.04, digits=0) == f"0{THIN}W"


def test_an_unknown_name_is_answered_with_the_nearest():
    with pytest.raises(QuantityError, match="plug_power_W"):
        entry("plug_power")
    with pytest.raises(QuantityError):
        display("nonsense", 1.0)


def test_every_row_is_complete():
    for name, row in GLOSSARY.items():
        assert row.name == name
        assert row.kind in KINDS
        assert row.description.endswith(".")
        assert row.low < row.high
        assert row.low > 0.0 or row.point
        assert row.least < row.most
        starts = [start for start, _ in row.steps]
        assert starts == sorted(starts)
        assert not starts or starts[0] == 0.0


SUFFIXES = {
    "_m3_s": "m^3/s", "_kg_s": "kg/s", "_dB": "dB", "_A": "A", "_V": "V", "_W": "W", "_K": "K",
    "_s": "s", "_J": "J", "_kg": "kg",
}  # fmt: skip


def test_the_name_of_a_result_carries_its_si_unit():
    for name, row in RESULTS.items():
        suffix = next((unit for end, unit in SUFFIXES.items() if name.endswith(end)), "")
        if suffix:
            assert conversion(suffix, row.kind) == (1.0, 0.0), name
        else:
            # Money has no SI unit; its currency stands in the sheet's own text.
            assert row.si_unit in ("", "price"), name


# The names that the design agrees for JSON, with one `price` among the kinds.
AGREED = [
    "current_A",
    "voltage_V",
    "module_power_W",
    "plug_power_W",
    "pumped_W",
    "cooling_W",
    "cooling_sensible_W",
    "cooling_latent_W",
    "heat_rejected_W",
    "cold_outlet_K",
    "hot_outlet_K",
    "cold_sink_K",
    "hot_sink_K",
    "cold_face_K",
    "hot_face_K",
    "cold_outlet_humidity_ratio",
    "cold_flow_m3_s",
    "hot_flow_m3_s",
    "condensate_kg_s",
    "cop_module",
    "cop_system",
    "cop_net",
    "net_cooling_W",
    "infiltration_sensible_W",
    "infiltration_latent_W",
    "ledger_residual_W",
    "place_air_K",
    "place_air_at_limit_K",
    "place_air_off_K",
    "goal_air_K",
    "time_to_goal_s",
    "heat_load_W",
    "sound_dB",
    "price",
]


@pytest.mark.parametrize("name", AGREED)
def test_every_agreed_result_has_an_entry(name):
    assert entry(name).description


def test_common_units_need_no_other_library():
    code = (
        "import sys\n"
        "from coldwright.quantities.glossary import display\n"
        "from coldwright.quantities.parsing import parse\n"
        "parse('80 m^3/h +/- 10 %', 'flow'); parse('35 degC', 'temperature')\n"
        "display('flow', 0.02)\n"
        "print(sorted({'numpy', 'pint', 'numba', 'scipy'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
