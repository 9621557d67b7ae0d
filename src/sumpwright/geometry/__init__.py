# SPDX-License-Identifier: Apache-2.0
"""Bodies, planes and distances on bare SI numbers: levels, clearances, frames, file readers."""
