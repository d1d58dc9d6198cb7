# SPDX-License-Identifier: MIT
"""What happened: the log of one fitting, its meaning, and the next instruction."""
