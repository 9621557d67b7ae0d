# SPDX-License-Identifier: Apache-2.0
"""How the car moves: paths, manoeuvres and engine speed, on bare SI numbers."""
