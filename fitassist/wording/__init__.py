# SPDX-License-Identifier: MIT
"""How it is said: plain sentences for every code, instruction and error, and nothing else."""
