# SPDX-License-Identifier: Apache-2.0
"""One file per question the person asks: job in, one frozen result out."""
