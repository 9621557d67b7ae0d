# SPDX-License-Identifier: Apache-2.0
"""What the job file is called; apart, so that who only watches for it loads nothing else."""

JOB_FILE = "job.yaml"
