"""What else would do: compressor units at the least that regulations allow, to compare with.

These rules cover vapour compression. A thermoelectric cooler stands outside their scope, and no
result of this program is a rating under them.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from coldwright.physics.air_state import ZERO_C_K
from coldwright.physics.compiled import law

# 1 Btu/h in watts.
BTU_H_W = 0.29307107


class Minimum(NamedTuple):
    """Least efficiency a regulation allows, in W of cooling per W of electricity.

    A seasonal one ("SEER") is a mean over the cooling season; the other ("EER") holds at the rating
    state.
    """

    kind: str
    ordinary: float
    low_warming: float  # with a refrigerant of a warming potential of at most 150


# Commission Regulation (EU) No 206/2012, Annex I, table 6, in force since 2014.
EU_MINIMUM = {
    "split below 6 kW": Minimum("SEER", 4.60, 4.14),
    "split 6 to 12 kW": Minimum("SEER", 4.30, 3.87),
    "double duct": Minimum("EER", 2.60, 2.34),
    "single duct": Minimum("EER", 2.60, 2.34),
}
# The same, Annex IV: the best on the market in 2012.
EU_BEST_2012 = {"split": 8.50, "double duct": 3.00, "single duct": 3.15}
# The same, Annex I, table 3: sound power indoors of single and double ducts [dB(A)].
EU_SOUND_POWER_DB = 65.0
# The same, Annex III: by how much a unit may miss its declared EER or SEER in a check.
EU_CHECK_EER = 0.10
EU_CHECK_SEER = 0.08


class State(NamedTuple):
    """A rating state of the air: temperature and wet bulb."""

    air_K: float
    wet_bulb_K: float


# The same, Annex II, table 2. A single duct is rated with 35 °C on both sides, its condenser fed
# with indoor air, so that the outdoor air which its exhaust draws in never shows in the figure.
EU_INDOOR = State(ZERO_C_K + 27.0, ZERO_C_K + 19.0)
EU_OUTDOOR = State(ZERO_C_K + 35.0, ZERO_C_K + 24.0)
EU_SINGLE_DUCT_BOTH_SIDES = State(ZERO_C_K + 35.0, ZERO_C_K + 24.0)

# The same, Annex II: hours of the cooling season at each outdoor temperature from 17 to 40 °C.
_HOURS = (
    205, 227, 225, 225, 216, 215, 218, 197, 178, 158, 137, 109, 88, 63, 39, 31, 24, 17, 13, 9, 4,
    3, 1, 0,
)  # fmt: skip
COOLING_SEASON = tuple(
    (ZERO_C_K + 17.0 + above, 3600.0 * hours) for above, hours in enumerate(_HOURS)
)
"""Outdoor temperature [K] and how long it lasts in a European cooling season [s]."""


@law
def us_portable_cop(capacity_W: float) -> float:
    """Least efficiency of a portable compressor unit in the United States, infiltration inside.

    Parameters
    ----------
    capacity_W : float or array
        Seasonally adjusted cooling capacity [W]. Valid 500 to 5000.

    Returns
    -------
    float or array, same shape as the input
        Cooling over electricity [-]; NaN outside the valid range.

    Notes
    -----
    ``CEER = 1.04 SACC / (3.7117 SACC**0.6384)`` with SACC in Btu/h and CEER in Btu/(W h), here in
    watts per watt. Unlike a European rating it already takes off what the exhaust draws in and the
    duct gives back.

    Error: exact.
    Source: U.S. Code of Federal Regulations, 10 CFR 430.32, portable air conditioners made from
    10 January 2025 (from memory; method of Subpart B, Appendix CC).
    Checked against: the rule worked by hand at 5000, 8000 and 10000 Btu/h.

    Examples
    --------
    >>> round(float(us_portable_cop(8000.0 * BTU_H_W)), 2)
    2.12
    """
    if not 500.0 <= capacity_W <= 5000.0:
        return math.nan
    capacity = capacity_W / BTU_H_W
    return 1.04 * capacity / (3.7117 * math.pow(capacity, 0.6384)) * BTU_H_W
