# SPDX-License-Identifier: MIT
"""The main job against the world outside: measured people, synthetic bodies, published limits."""
