# SPDX-License-Identifier: MIT
"""Choosing a form before buying it: ranges as printed, judged against one body or many."""
