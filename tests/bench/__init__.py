# SPDX-License-Identifier: MIT
"""Measurements of speed: ratios side by side in one run, by command, never timed tests."""
