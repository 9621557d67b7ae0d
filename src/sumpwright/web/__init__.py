# SPDX-License-Identifier: Apache-2.0
"""The local page: a face like the commands, which shows what the studies answer."""
