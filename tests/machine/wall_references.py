"""Exact solutions of heat conduction in walls, to hold a numerical wall against.

Nothing here uses the program's own walls. Temperatures are rises above a uniform start, for a step
or a swing of 1 K; walls are listed from inside to outside, each layer with its properties, and
films as resistances. All SI.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq
from scipy.special import erfc

DAY_S = 86400.0


class Layer(NamedTuple):
    """One homogeneous layer; a film or an air gap is one of no capacity (`resistance_layer`)."""

    thickness_m: float
    conductivity_W_mK: float
    density_kg_m3: float
    heat_J_kgK: float

    @property
    def diffusivity_m2_s(self) -> float:
        return self.conductivity_W_mK / (self.density_kg_m3 * self.heat_J_kgK)

    @property
    def resistance_m2K_W(self) -> float:
        return self.thickness_m / self.conductivity_W_mK


def resistance_layer(resistance_m2K_W: float) -> Layer:
    """A layer that only resists."""
    return Layer(1.0, 1.0 / resistance_m2K_W, 0.0, 0.0)


# Steps in one material. H. S. Carslaw and J. C. Jaeger, "Conduction of Heat in Solids", 1959,
# sections 2.5 and 3.4; F. P. Incropera et al., "Fundamentals of Heat and Mass Transfer", sections
# on the semi-infinite solid and on the plane wall with convection.


def semi_infinite_step(depth_m, time_s, layer: Layer):
    """Rise at a depth after the surface was raised by 1 K and held: erfc(x / (2 sqrt(a t)))."""
    return erfc(np.asarray(depth_m) / (2.0 * np.sqrt(layer.diffusivity_m2_s * np.asarray(time_s))))


def semi_infinite_flux(time_s, layer: Layer):
    """Heat into that surface [W/m2]: k / sqrt(pi a t)."""
    return layer.conductivity_W_mK / np.sqrt(math.pi * layer.diffusivity_m2_s * np.asarray(time_s))


def slab_step(depth_m: float, time_s: float, layer: Layer, terms: int = 400) -> float:
    """Rise at a depth below a face raised by 1 K and held, the other face held at the start."""
    share = depth_m / layer.thickness_m
    fourier = layer.diffusivity_m2_s * time_s / layer.thickness_m**2
    n = np.arange(1, terms + 1)
    decay = np.exp(-((n * math.pi) ** 2) * fourier)
    return 1.0 - share - float(np.sum(2.0 / (n * math.pi) * np.sin(n * math.pi * share) * decay))


def slab_flux_far(time_s: float, layer: Layer, terms: int = 400) -> float:
    """Heat out of the held far face of that slab [W/m2]."""
    fourier = layer.diffusivity_m2_s * time_s / layer.thickness_m**2
    n = np.arange(1, terms + 1)
    series = 1.0 + 2.0 * float(np.sum((-1.0) ** n * np.exp(-((n * math.pi) ** 2) * fourier)))
    return series / layer.resistance_m2K_W


def plate_roots(biot: float, count: int) -> list[float]:
    """Roots of z tan z = Bi, one in each (n pi, n pi + pi/2)."""
    return [
        brentq(
            lambda z: z * math.sin(z) - biot * math.cos(z), n * math.pi, (n + 0.5) * math.pi,
            xtol=1e-14,
        )
        for n in range(count)
    ]  # fmt: skip


def plate_in_air(share: float, time_s: float, layer: Layer, film_W_m2K: float) -> float:
    """What is left of 1 K in a plate put into air, film on each face; `share` 0 middle, 1 face."""
    half_m = 0.5 * layer.thickness_m
    biot = film_W_m2K * half_m / layer.conductivity_W_mK
    fourier = layer.diffusivity_m2_s * time_s / half_m**2
    left = 0.0
    for z in plate_roots(biot, 60):
        weight = 4.0 * math.sin(z) / (2.0 * z + math.sin(2.0 * z))
        left += weight * math.exp(-z * z * fourier) * math.cos(z * share)
    return left


# Swings, and steps through any number of layers, by transfer matrices. EN ISO 13786:2017, section
# on the heat transfer matrix; the same matrix in the Laplace variable for steps.


def transfer_matrix(layers: Sequence[Layer], s: complex) -> np.ndarray:
    """Matrix from temperature and heat flux inside to those outside, at a frequency s [1/s].

    ``[T2, q2] = Z [T1, q1]``, flux counted from inside to outside.
    """
    whole = np.eye(2, dtype=complex)
    for layer in layers:
        capacity = layer.density_kg_m3 * layer.heat_J_kgK
        if capacity == 0.0 or s == 0:
            one = np.array([[1.0, -layer.resistance_m2K_W], [0.0, 1.0]], dtype=complex)
        else:
            sigma = cmath.sqrt(s * capacity / layer.conductivity_W_mK)
            reach = sigma * layer.thickness_m
            admittance = layer.conductivity_W_mK * sigma
            one = np.array(
                [
                    [cmath.cosh(reach), -cmath.sinh(reach) / admittance],
                    [-admittance * cmath.sinh(reach), cmath.cosh(reach)],
                ]
            )
        whole = one @ whole
    return whole


class Periodic(NamedTuple):
    """Dynamic characteristics of a wall for one period."""

    admittance_inside_W_m2K: float
    admittance_outside_W_m2K: float
    transmittance_W_m2K: float  # heat into the room per kelvin of outdoor swing
    decrement: float  # that over the steady U-value
    delay_s: float  # of its peak behind the outdoor one
    capacity_inside_J_m2K: float
    capacity_outside_J_m2K: float


def periodic_wall(layers: Sequence[Layer], period_s: float = DAY_S) -> Periodic:
    """Characteristics as EN ISO 13786 defines them; films are layers of the list."""
    z = transfer_matrix(layers, 2j * math.pi / period_s)
    steady = sum(layer.resistance_m2K_W for layer in layers)
    through = 1.0 / -z[0, 1]
    reach = period_s / (2.0 * math.pi)
    return Periodic(
        abs(z[0, 0] / z[0, 1]),
        abs(z[1, 1] / z[0, 1]),
        abs(through),
        abs(through) * steady,
        (-cmath.phase(through) % (2.0 * math.pi)) * reach,
        reach * abs((z[0, 0] - 1.0) / z[0, 1]),
        reach * abs((z[1, 1] - 1.0) / z[0, 1]),
    )


def wall_step_flux(layers: Sequence[Layer], time_s: float, points: int = 40) -> float:
    """Heat into the room [W/m2] after the outdoor side rose by 1 K, the room held; any layers."""
    return _inverted(lambda s: 1.0 / (s * -transfer_matrix(layers, s)[0, 1]), time_s, points)


def wall_step_insulated(layers: Sequence[Layer], time_s: float, points: int = 40) -> float:
    """Rise of the inner end after the outdoor side rose by 1 K, nothing passing the inner end."""
    return _inverted(lambda s: 1.0 / (s * transfer_matrix(layers, s)[0, 0]), time_s, points)


def _inverted(image, time_s: float, points: int) -> float:
    """Inverse Laplace transform on the fixed Talbot contour.

    J. Abate and P. P. Valko, "Multi-precision Laplace transform inversion", Int. J. Numer. Meth.
    Engng 60, 2004.
    """
    rate = 2.0 * points / (5.0 * time_s)
    total = 0.5 * (image(complex(rate)) * cmath.exp(rate * time_s)).real
    for k in range(1, points):
        angle = k * math.pi / points
        cotangent = 1.0 / math.tan(angle)
        s = rate * angle * (cotangent + 1j)
        slope = angle + (angle * cotangent - 1.0) * cotangent
        total += (cmath.exp(time_s * s) * image(s) * (1.0 + 1j * slope)).real
    return rate / points * total
