# SPDX-License-Identifier: Apache-2.0
"""Sumpwright: compute, check and release a low-profile wet-sump oil pan."""

__version__ = "0.1.0"
