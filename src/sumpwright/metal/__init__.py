# SPDX-License-Identifier: Apache-2.0
"""Making the part: bends, flat patterns, stock, cutters, welds, prints, lists. SI, no files."""
