# SPDX-License-Identifier: MIT
"""Whether the program can be trusted with one's records: nothing lost, nothing told to anybody."""
