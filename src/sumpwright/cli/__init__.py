# SPDX-License-Identifier: Apache-2.0
"""The commands. Arguments in, text out; nothing is computed here."""
