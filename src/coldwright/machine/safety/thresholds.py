"""Where each rule begins to speak: practice and code values, each with its source.

All of them are advice. The local code, the marking on the part and a licensed person outrank them.
"""

from __future__ import annotations

ZERO_C_K = 273.15

# --- Air

# Under-pressure that may reverse the flue of a natural-draught appliance [Pa]. Working limit of
# depressurisation tests (BPI practice, CAN/CGSB-51.71), from memory; ASTM E1998 is the method.
FLUE_LIMIT_PA = 2.0
# Pressure of a leaky place goes with flow^(1/n). Usual exponent n: ASHRAE Fundamentals ch. 16.
LEAKAGE_EXPONENT = 0.65
# Outdoor air for one person [m3/s]: EN 16798-1:2019, category III, 4 L/s, from memory.
FRESH_AIR_M3_S = 4.0e-3
# Carbon dioxide that one sleeper breathes out [m3/s]: about 13 L/h. Persily and de Jonge 2017,
# Indoor Air 27, table 4, near 1 met; from memory.
SLEEPER_CO2_M3_S = 13.0e-3 / 3600.0
OUTDOOR_CO2_PPM = 420.0

# --- Heat and fire

# Long-term hot side of modules with low-melting solder [K]. Common practice, no source.
HOT_FACE_LIMIT_K = ZERO_C_K + 80.0
# Bare metal that is touched briefly burns from about here [K]. ISO 13732-1, from memory.
TOUCH_LIMIT_K = ZERO_C_K + 55.0
# Expanded and extruded polystyrene in the long run [K]; makers' declarations say 75 degC.
FOAM_LIMIT_K = ZERO_C_K + 75.0
# For hours at most [K], by material; EPS by makers' declarations (180 degF). Others: as above.
SHORT_FOAM_LIMITS_K = {"EPS": ZERO_C_K + 82.0, "EPS dense": ZERO_C_K + 82.0}
# A cut-out shall open 15 to 20 K above the hottest normal value: common practice, no source. Below
# this distance it is told that it may open in normal work.
CUT_OUT_MARGIN_K = 5.0
FROST_K = ZERO_C_K

# --- Electricity

# Safety extra-low voltage: up to 120 V smooth direct current (IEV 826-12-31, IEC 61140).
SELV_DC_V = 120.0
# Class 2 circuits of the National Electrical Code (NEC): up to 100 VA at up to 30 V.
CLASS_2_VA, CLASS_2_V = 100.0, 30.0
# Leakage current of a portable appliance with an earthed plug [A]: IEC 60335-1, clause 13.2.
LEAKAGE_LIMIT_A = 0.75e-3
# A supply of which nothing is known: two capacitors of 2.2 nF between mains and earth. Practice.
EARTH_CAPACITANCE_F = 2 * 2.2e-9
# Leakage is measured at 1.06 times the rated voltage: IEC 60335-1, clause 13.2.
LEAKAGE_TEST_RATIO = 1.06
# Regions whose plugs go in one way only: BS 1363, AS/NZS 3112; from memory.
ONE_WAY_PLUGS = ("United Kingdom", "Australia")
# Many supplies give less than rated in warmer air than this [K]. Common practice: 50 degC.
SUPPLY_AIR_K = ZERO_C_K + 50.0

# --- What is kept

# Cold holding of food: US Food Code 3-501.16, 5 degC (41 degF); from memory.
FOOD_K = ZERO_C_K + 5.0
# Medicine "in a refrigerator": 2 to 8 degC, the pharmacopoeias; from memory.
MEDICINE_K = (ZERO_C_K + 2.0, ZERO_C_K + 8.0)
