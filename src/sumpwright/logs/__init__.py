# SPDX-License-Identifier: Apache-2.0
"""What loggers write, read into arrays."""
