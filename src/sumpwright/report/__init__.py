# SPDX-License-Identifier: Apache-2.0
"""A result as pictures, one HTML file and one PDF."""
