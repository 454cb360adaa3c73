"""From what a person knows of a module to the properties the solver uses.

Ratings are two ends of one line: the greatest lift (at no heat) and the greatest heat (at no
lift), both at the rated current. A module of bismuth telluride has three free numbers (its Seebeck
coefficient, resistance and conductance relative to the material's); four ratings overdetermine
them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_conductivity,
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
)
from coldwright.physics.module_ratings import (
    conductance_from_ratings,
    resistance_from_ratings,
    seebeck_from_ratings,
)

# Above this the ratings do not belong to one module, and the person is told.
MISFIT_ALLOWED = 0.08


@dataclass(frozen=True)
class ModuleProperties:
    """Ratios to the material's properties; `misfit` is the largest relative misfit of a rating."""

    seebeck: Any
    resistance: Any
    conductance: Any
    contact_ohm: Any = 0.0
    misfit: Any = 0.0


def from_ratings(
    hot_K: Any,
    max_current_A: Any,
    max_voltage_V: Any,
    max_difference_K: Any,
    max_heat_W: Any | None = None,
) -> ModuleProperties:
    """Fit a bismuth-telluride module to its ratings.

    Parameters
    ----------
    hot_K
        Temperature of the hot face at which the ratings hold [K].
    max_current_A, max_voltage_V, max_difference_K
        Current where the lift is greatest [A], voltage there [V], and that lift [K].
    max_heat_W
        Heat at that current and no lift [W], or None.

    Returns
    -------
    Ratios of the module's properties to the material's, broadcast shape of the inputs. Without
    `max_heat_W` they meet the three ratings exactly at the mean temperature of the greatest lift;
    with it, least squares on the relative misfits of voltage, lift, best current and heat.

    Notes
    -----
    All four conditions are linear in the three ratios, so the fit is one 3 x 3 system.
    """
    mean_K = hot_K - 0.5 * max_difference_K
    cold_K = hot_K - max_difference_K
    alpha = bismuth_telluride_seebeck(mean_K)
    rho = bismuth_telluride_resistivity(mean_K)
    kappa = bismuth_telluride_conductivity(mean_K)
    S = seebeck_from_ratings(hot_K, max_voltage_V)
    R = resistance_from_ratings(hot_K, max_difference_K, max_current_A, max_voltage_V)
    K = conductance_from_ratings(hot_K, max_difference_K, max_current_A, max_voltage_V)
    start = [S / alpha, R / rho, K / kappa]
    if max_heat_W is None:
        return ModuleProperties(*start)
    current = max_current_A
    hot_alpha = bismuth_telluride_seebeck(hot_K)
    hot_rho = bismuth_telluride_resistivity(hot_K)
    peltier_W = S * current * cold_K
    # Unknowns are the three ratios relative to `start`, so that all are near one.
    rows = [
        # Voltage at the greatest lift.
        [S * max_difference_K / max_voltage_V, current * R / max_voltage_V, 0.0, 1.0],
        # No heat at the greatest lift, as a share of the Peltier heat there.
        [1.0, -0.5 * current**2 * R / peltier_W, -K * max_difference_K / peltier_W, 0.0],
        # The rated current is the one where the lift is greatest: S Tc = I R.
        [1.0, -current * R / (S * cold_K), 0.0, 0.0],
        # Heat at the rated current without lift.
        [
            start[0] * hot_alpha * current * hot_K / max_heat_W,
            -0.5 * current**2 * start[1] * hot_rho / max_heat_W,
            0.0,
            1.0,
        ],
    ]
    shape = np.broadcast_shapes(*(np.shape(item) for row in rows for item in row))
    matrix = np.stack(
        [np.stack([np.broadcast_to(x, shape) for x in row[:3]], axis=-1) for row in rows], axis=-2
    )
    wanted = np.stack([np.broadcast_to(row[3], shape) for row in rows], axis=-1)
    normal = np.einsum("...ki,...kj->...ij", matrix, matrix)
    right = np.einsum("...ki,...k->...i", matrix, wanted)
    ratio = np.linalg.solve(normal, right[..., None])[..., 0]
    misfit = np.abs(np.einsum("...ki,...i->...k", matrix, ratio) - wanted).max(axis=-1)
    return ModuleProperties(
        start[0] * ratio[..., 0],
        start[1] * ratio[..., 1],
        start[2] * ratio[..., 2],
        misfit=misfit[()],
    )
