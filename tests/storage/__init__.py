# SPDX-License-Identifier: MIT
"""Real files in temporary folders: cut, killed, fought over and taken away."""
