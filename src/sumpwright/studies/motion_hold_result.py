# SPDX-License-Identifier: Apache-2.0
"""How much g a pan holds in motion: frozen, SI, ready for JSON, as in result.py."""

from dataclasses import dataclass


@dataclass(frozen=True)
class MotionHold:
    """Largest g each way that the pan holds in motion for long enough, from a settled start."""

    rpm: float
    temperature_k: float
    hold_time_s: float
    """In turns"""
    hold_time_straight_s: float
    """Under braking and accelerating"""
    left_g: float
    right_g: float
    brake_g: float
    accelerate_g: float
    """Every smaller g that was looked at is held as well"""
    looked_to_g: float
    compartments: int
    level_table_m: float
    """Largest difference of the tabulated levels from exact ones, as sampled"""
