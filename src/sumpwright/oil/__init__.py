# SPDX-License-Identifier: Apache-2.0
"""What the oil does, by published formulas on bare SI numbers."""
