"""Exact rooms: one temperature by the exponential, several by the matrix exponential."""

from __future__ import annotations

import math

import numpy as np
from scipy.linalg import expm


def one_node_room(
    time_s, start_K: float, outdoor_K: float, heat_W: float, loss_W_K: float, capacity_J_K: float
):
    """Temperature of a room of one capacity: it nears To + Q/UA with the time constant C/UA."""
    level_K = outdoor_K + heat_W / loss_W_K
    decay = np.exp(-np.asarray(time_s) * loss_W_K / capacity_J_K)
    return level_K + (start_K - level_K) * decay


def one_node_time(
    goal_K: float, start_K: float, outdoor_K: float, heat_W: float, loss_W_K: float,
    capacity_J_K: float,
) -> float:  # fmt: skip
    """Time until that room reaches a temperature on its way."""
    level_K = outdoor_K + heat_W / loss_W_K
    return capacity_J_K / loss_W_K * math.log((start_K - level_K) / (goal_K - level_K))


def network_room(
    time_s: float, start_K, capacity_J_K, conductance_W_K, outdoor_W_K, outdoor_K: float, heat_W
) -> np.ndarray:
    """Temperatures of n coupled capacities after a time, all inputs steady.

    `conductance_W_K` is symmetric with shape (n, n), the links between the nodes (diagonal unused);
    `outdoor_W_K` and `heat_W` have shape (n,): each node's link to the outdoor air and its heat.
    The inputs ride along as one more state, so that one exponential holds the whole step.
    """
    capacity = np.asarray(capacity_J_K, dtype=float)
    links = np.array(conductance_W_K, dtype=float)
    np.fill_diagonal(links, 0.0)
    out = np.asarray(outdoor_W_K, dtype=float)
    rates = links - np.diag(links.sum(axis=1) + out)
    push = out * outdoor_K + np.asarray(heat_W, dtype=float)
    n = len(capacity)
    whole = np.zeros((n + 1, n + 1))
    whole[:n, :n] = rates / capacity[:, None]
    whole[:n, n] = push / capacity
    return (expm(whole * time_s) @ np.append(np.asarray(start_K, dtype=float), 1.0))[:n]
