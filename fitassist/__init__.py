# SPDX-License-Identifier: MIT
"""Fitassist: set an adjustable dress form to one real person, a step at a time."""

__version__ = "0.1.0"
