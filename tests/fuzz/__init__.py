# SPDX-License-Identifier: MIT
"""Hostile files and hostile answers: whatever comes in, the program says so and goes on."""
