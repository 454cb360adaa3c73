"""The results by their JSON names: what each means, for tables, plot axes and the reference."""

from __future__ import annotations

from dataclasses import replace

from coldwright.quantities.entries import Entry
from coldwright.quantities.kinds import KINDS

_RESULTS = (
    # name, kind, symbol, description
    ("current_A", "current", "I", "Current of the whole array at its terminals."),
    ("voltage_V", "voltage", "U", "Voltage of the whole array at its terminals."),
    ("module_power_W", "power", "P_mod", "Electrical power of the array: voltage times current."),
    ("plug_power_W", "power", "P_plug", "Everything taken at the mains plug or the battery."),
    ("pumped_W", "heat", "Q_c", "Heat into the cold faces of the modules."),
    ("cooling_W", "heat", "Q", "Fall of the air's enthalpy across the cold sink, before fan heat."),
    ("cooling_sensible_W", "heat", "Q_s", "The part of the cooling that lowers the temperature."),
    ("cooling_latent_W", "heat", "Q_l", "The part of the cooling that condenses water."),
    ("heat_rejected_W", "heat", "Q_h", "Heat into the hot air, before fan heat."),
    ("net_cooling_W", "heat", "Q_net",
     "Cooling less the infiltration that the exhaust causes and the cooler's own heat that "
     "lands in the place."),
    ("infiltration_sensible_W", "heat", "Q_inf,s",
     "Sensible heat of the outdoor air that the exhaust draws in."),
    ("infiltration_latent_W", "heat", "Q_inf,l",
     "Latent heat of the outdoor air that the exhaust draws in."),
    ("heat_load_W", "heat", "Q_load", "Heat that reaches the place at the goal."),
    ("ledger_residual_W", "heat", "", "What the ledger leaves open: zero but for rounding."),
    ("cold_outlet_K", "temperature", "T_out", "Air from the cold side, after sink and fan."),
    ("hot_outlet_K", "temperature", "T_exh", "Air from the hot side, after sink and fan."),
    ("cold_sink_K", "temperature", "T_cs", "Mean temperature of the cold sink's base."),
    ("hot_sink_K", "temperature", "T_hs", "Mean temperature of the hot sink's base."),
    ("cold_face_K", "temperature", "T_c", "Cold face of the modules."),
    ("hot_face_K", "temperature", "T_h", "Hot face of the modules."),
    ("dew_point_K", "temperature", "T_dp", "Temperature below which water condenses."),
    ("place_air_K", "temperature", "T_place", "Where the place levels off."),
    ("place_air_at_limit_K", "temperature", "T_limit", "The place at the goal's time."),
    ("place_air_off_K", "temperature", "T_off", "The place with the cooler absent."),
    ("place_air_stopped_K", "temperature", "T_stop",
     "The place with the modules switched off (open circuit) and the fans running."),
    ("load_at_goal_W", "heat", "Q_load", "All heat that comes into the place at the goal."),
    ("cooling_at_goal_W", "heat", "Q", "The cooling with the place held at the goal."),
    ("plate_K", "temperature", "T_plate", "Temperature of the plate."),
    ("goal_air_K", "temperature", "T_goal", "The goal for the place."),
    ("lift_K", "temperature_difference", "ΔT", "Temperature difference across the modules."),
    ("cold_outlet_humidity_ratio", "humidity_ratio", "W_out",
     "Water vapour in the air from the cold side."),
    ("cold_flow_m3_s", "flow", "V̇_c", "Air through the cold side, at the fan inlet's state."),
    ("hot_flow_m3_s", "flow", "V̇_h", "Air through the hot side, at the fan inlet's state."),
    ("condensate_kg_s", "moisture_rate", "ṁ_w", "Water that condenses on the cold sink."),
    ("cop_module", "ratio", "COP_mod", "Heat pumped over the power of the modules."),
    ("cop_system", "ratio", "COP_sys", "Cooling over the power from the plug."),
    ("cop_net", "ratio", "COP_net", "Net cooling over the power from the plug."),
    ("time_to_goal_s", "time", "t_goal", "Time until the place reaches the goal."),
    ("sound_dB", "sound_level", "L_A", "Sound level at 1 m, A-weighted."),
    ("relative_humidity", "humidity", "φ", "Relative humidity of the air."),
    ("place_mean_K", "temperature", "", "Mean of the place's air over the time shown."),
    ("place_highest_K", "temperature", "", "Hottest that the place's air becomes."),
    ("place_lowest_K", "temperature", "", "Coolest that the place's air becomes."),
    ("above_goal_per_day_s", "time", "", "Time of a day for which the place is above its goal."),
    ("plug_per_day_J", "energy", "", "Electrical energy of a day."),
    ("condensate_per_day_kg", "mass", "", "Water that runs off the cold sink in a day."),
    ("emissions_per_year_kg", "mass", "", "Greenhouse gas of a year, by the sheet's factor."),
    ("battery_s", "time", "", "How long the battery carries the cooler."),
    ("battery_rate_share", "share", "", "Share of its rated charge that a battery gives."),
    ("panel_needed_W", "power", "", "Rated power of panels that harvest the worst week's need."),
    ("panel_share", "ratio", "", "Share of that which the sheet's panel is."),
    ("price_per_day", "price", "", "Price of the electricity of a day of running."),
    ("price_per_year", "price", "", "Price of the electricity of a year of such days."),
    ("energy_J", "energy", "E", "Electrical energy used."),
)  # fmt: skip

RESULTS: dict[str, Entry] = {
    name: replace(KINDS[kind], name=name, symbol=symbol, description=description)
    for name, kind, symbol, description in _RESULTS
}
"""JSON name -> its entry. The price of a design has the kind's own name, "price"."""
