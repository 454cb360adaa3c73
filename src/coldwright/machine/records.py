"""The numbers the compiled solver works on: one record per part, flat, SI, no objects.

A record of a whole cooler or place is filled once from the design sheet (`assemble`), in arrays
of one record per try, and read by the compiled code field by field. Every field carries its unit.
Codes (which correlation, which drive) are integers that `registries` in the same package name.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np

MAX_GROUPS = 4
MAX_SINKS = 3
MAX_POINTS = 16
MAX_SURFACES = 12
MAX_LAYERS = 6
MAX_NODES = 24

# Tables stand at the end of each record: what every solve reads lies close together.
_f = "f8"
_i = "i8"


class SinkKind(IntEnum):
    """What stands between a base plate and its air."""

    RESISTANCE = 0
    PLATE_FIN = 1
    TABLE = 2
    PLATE_LOAD = 3


class Drive(IntEnum):
    """What the person sets; every other electrical quantity follows."""

    OFF = 0
    VOLTAGE = 1
    CURRENT = 2
    POWER = 3
    CHOPPED = 4
    PUMPED = 5


class Properties(IntEnum):
    """How a module's Seebeck coefficient, resistance and conductance depend on temperature."""

    CONSTANT = 0
    BISMUTH_TELLURIDE = 1


class End(IntEnum):
    """Where an air stream comes from or goes to, and where a part stands."""

    PLACE = 0
    OUTDOORS = 1
    EXHAUST = 2


class Condensate(IntEnum):
    """What becomes of the water that the cold sink takes out of the air."""

    DRAINED = 0
    STAYS = 1
    ONTO_HOT_SINK = 2


class Status(IntEnum):
    """How a solve ended; everything but SOLVED carries no numbers."""

    SOLVED = 0
    RUNAWAY = 1
    NO_FLOW = 2
    SINK_TOO_GOOD = 3
    CANNOT_PUMP = 4
    NOT_CONVERGED = 5
    BAD_INPUT = 6
    OUT_OF_RANGE = 7


FAN = np.dtype(
    [
        ("given_flow", _i),  # 1: `flow_m3_s` is what passes; 0: the curve meets the path
        ("flow_m3_s", _f),
        ("points", _i),
        ("speed", _f),
        ("power_W", _f),  # electrical, at full speed and the curve's density
        ("after_sink", _i),
        ("curve_flow_m3_s", _f, (MAX_POINTS,)),
        ("curve_pressure_Pa", _f, (MAX_POINTS,)),
    ],
    align=True,
)

DUCT = np.dtype(
    [
        ("diameter_m", _f),  # 0: no duct
        ("length_m", _f),
        ("roughness_m", _f),
        ("loss_coefficient", _f),
        ("friction_factor_ratio", _f),  # compressed flexible duct, and the law's own error
        ("extra_Pa_s2_m6", _f),  # filter and grille: pressure per flow squared
        ("in_place", _i),
        ("insulation_m2K_W", _f),
        ("outer_W_m2K", _f),
        ("surface_K", _f),  # measured mean surface temperature; NaN: computed
    ],
    align=True,
)

SINK = np.dtype(
    [
        ("kind", _i),
        ("correlation", _i),
        ("resistance_K_W", _f),  # to the incoming air, at the reference flow
        ("reference_flow_m3_s", _f),
        ("flow_exponent", _f),
        ("channels", _f),
        ("gap_m", _f),
        ("fin_height_m", _f),
        ("length_m", _f),
        ("fin_thickness_m", _f),
        ("fin_conductivity_W_mK", _f),
        ("base_area_m2", _f),  # 0: no spreading (the sink's number holds to its base)
        ("base_thickness_m", _f),
        ("base_conductivity_W_mK", _f),
        ("points", _i),
        ("pressure_Pa_s2_m6", _f),  # pressure per flow squared, where only that is known
        ("water_W_K", _f),  # capacity rate of a water loop; 0: none
        ("block_K_W", _f),
        ("pump_heat_W", _f),
        ("heat_capacity_J_K", _f),
        ("conductance_ratio", _f),  # the correlation's own error
        ("pressure_ratio", _f),
        ("load_W", _f),  # PLATE_LOAD: given heat, and what the surroundings add
        ("load_conductance_W_K", _f),
        ("load_surroundings_K", _f),
        ("table_flow_m3_s", _f, (MAX_POINTS,)),
        ("table_conductance_W_K", _f, (MAX_POINTS,)),
        ("table_pressure_Pa", _f, (MAX_POINTS,)),
    ],
    align=True,
)

GROUP = np.dtype(
    [
        ("series", _f),
        ("parallel", _f),
        ("cold_sink", _i),
        ("hot_sink", _i),
        ("drive", _i),
        ("drive_value", _f),  # V, A or W of the whole array
        ("duty", _f),
        ("lead_ohm", _f),  # wire between what is set and the array
        ("properties", _i),
        ("seebeck", _f),  # V/K, or ratio to one leg's when BISMUTH_TELLURIDE
        ("resistance", _f),  # ohm, or per metre
        ("conductance", _f),  # W/K, or metre
        ("resistance_contact_ohm", _f),
        ("stages", _i),
        ("second_properties", _i),
        ("second_seebeck", _f),
        ("second_resistance", _f),
        ("second_conductance", _f),
        ("second_contact_ohm", _f),
        ("second_voltage_V", _f),  # per module; NaN: in series with the first stage
        ("between_K_W", _f),
        ("cold_interface_K_W", _f),
        ("hot_interface_K_W", _f),
        ("footprint_m2", _f),
    ],
    align=True,
)

POWER = np.dtype(
    [
        ("converter_points", _i),  # 0: none
        ("converter_rated_W", _f),
        ("converter_at", _i),
        ("supply_points", _i),  # 0: none
        ("supply_rated_W", _f),
        ("supply_at", _i),
        ("controller_W", _f),  # with `extra_W`
        ("extra_W", _f),  # of it: lost in fuses, joints, switch, drives and the fans' wires
        ("lead_at", _i),
        ("converter_load", _f, (MAX_POINTS,)),
        ("converter_efficiency", _f, (MAX_POINTS,)),
        ("supply_load", _f, (MAX_POINTS,)),
        ("supply_efficiency", _f, (MAX_POINTS,)),
    ],
    align=True,
)

COOLER = np.dtype(
    [
        ("pressure_Pa", _f),
        ("groups", _i),
        ("cold_sinks", _i),
        ("hot_sinks", _i),
        ("group", GROUP, (MAX_GROUPS,)),
        ("cold_sink", SINK, (MAX_SINKS,)),
        ("hot_sink", SINK, (MAX_SINKS,)),
        ("cold_fan", FAN),
        ("hot_fan", FAN),
        ("cold_duct", DUCT),
        ("hot_duct", DUCT),
        ("spacer_W_K", _f),
        ("cold_takes", _i),
        ("hot_takes", _i),
        ("hot_sends", _i),
        ("cold_recirculation", _f),
        ("hot_recirculation", _f),
        ("condensate", _i),
        ("power", POWER),
    ],
    align=True,
)

SURFACE = np.dtype(
    [
        ("area_m2", _f),
        ("other_K", _f),
        ("film_in_m2K_W", _f),
        ("film_out_m2K_W", _f),
        ("layers", _i),  # 0: a plain U-value in `u_W_m2K`
        ("u_W_m2K", _f),
        ("layer_m2K_W", _f, (MAX_LAYERS,)),
        ("layer_J_m2K", _f, (MAX_LAYERS,)),
        ("layer_volumes", _i, (MAX_LAYERS,)),
    ],
    align=True,
)

PLACE = np.dtype(
    [
        ("enclosed", _i),  # 0: open air or a plate; its air is given
        ("pressure_Pa", _f),
        ("air_K", _f),  # given air (open air), or the air at the start
        ("humidity_ratio", _f),
        ("outdoor_K", _f),
        ("outdoor_humidity_ratio", _f),
        ("volume_m3", _f),
        ("surfaces", _i),
        ("surface", SURFACE, (MAX_SURFACES,)),
        ("loss_W_K", _f),  # windows, edges and leaks, without mass, to the outdoors
        ("sun_W", _f),
        ("gain_W", _f),  # sensible
        ("moisture_kg_s", _f),
        ("leak_m3_s_Pan", _f),
        ("leak_exponent", _f),
        ("leak_area_m2", _f),  # at 4 Pa
        ("stack_coefficient", _f),
        ("wind_coefficient", _f),
        ("wind_m_s", _f),
        ("natural_m3_s", _f),  # given natural flow and doors, besides what the gaps let in
        # A known loss of the whole place, which counts the warmth of the air through the gaps
        # already, but not its moisture; 0: `loss_W_K` counts no air.
        ("counted_W_K", _f),
        ("contents_J_K", _f),
        ("contents_W_K", _f),
        ("contents_K", _f),  # at the start; 0: as the air
        ("buffer_kg", _f),  # moisture buffer as kilograms of dry air of equal capacity
        ("buffer_kg_s", _f),
        ("sweat_kg_s", _f),  # mass transfer to the walls when the air is beyond saturation
    ],
    align=True,
)

MAX_UNKNOWNS = 2 * MAX_SINKS + 4 * MAX_GROUPS + 3 + 2
OUTPUTS = 21 + 2 * MAX_SINKS
# Last of the outputs: natural inflow whose warmth a known heat loss counts already [kg/s].
COUNTED = 20 + 2 * MAX_SINKS
# Many cases are shared out in so many pieces, each with scratch space of its own.
BLOCKS = 64

# What stays fixed while the temperatures are found: flows and what depends on them alone.
FRAME = np.dtype(
    [
        ("cold_flow_m3_s", _f),
        ("hot_flow_m3_s", _f),
        ("cold_square", _f),  # how either path's pressure bends with its flow (`air_path`)
        ("hot_square", _f),
        ("cold_kg_s", _f),  # dry air
        ("hot_kg_s", _f),
        ("cold_fresh_kg_s", _f),  # of it what is not drawn in again: exchanged with its source
        ("hot_fresh_kg_s", _f),
        ("cold_conductance_W_K", _f, (MAX_SINKS,)),
        ("hot_conductance_W_K", _f, (MAX_SINKS,)),
        ("cold_interface_K_W", _f, (MAX_GROUPS,)),  # with spreading, per module
        ("hot_interface_K_W", _f, (MAX_GROUPS,)),
        ("cold_fan_W", _f),
        ("hot_fan_W", _f),
        ("pumps_W", _f),
        ("duct_W_K", _f),
        ("place_pressure_Pa", _f),
        # Exponentials of the sinks, and the humidity ratio they were found for; NaN: not yet.
        ("cold_bypass", _f, (MAX_SINKS,)),
        ("cold_bypass_at", _f, (MAX_SINKS,)),
        ("hot_share", _f, (MAX_SINKS,)),
        ("hot_share_at", _f, (MAX_SINKS,)),
        # The place as it is seen from its air: heat and water that come in are a + b x.
        ("wall_W", _f),
        ("wall_W_K", _f),
        ("contents_W", _f),
        ("contents_W_K", _f),
        ("buffer_kg_s", _f),
        ("buffer_per_kg_s", _f),
        ("inverse_step_1_s", _f),  # 0: steady
        ("held_K", _f),  # air temperature that is held whatever the heat balance; 0: it is free
        ("place_J_old", _f),
        ("place_kg_old", _f),
        ("cold_base_old_K", _f, (MAX_SINKS,)),
        ("hot_base_old_K", _f, (MAX_SINKS,)),
        ("slopes_kept", _i),  # 1: factors of the last Jacobian lie in `work`, for this step:
        ("slopes_step_1_s", _f),
        # Scratch of one case: unknowns, outputs, and what Newton's method needs. It lies here
        # because an array made in compiled code is counted by atomic operations wherever it is
        # handed on, which took a third of the time of a solve.
        ("x", _f, (MAX_UNKNOWNS,)),
        ("o", _f, (OUTPUTS,)),
        ("work", _f, (MAX_UNKNOWNS + 6, MAX_UNKNOWNS)),
    ],
    align=True,
)
