# SPDX-License-Identifier: Apache-2.0
"""The job folder: schema, load, save, revisions."""
