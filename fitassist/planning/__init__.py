# SPDX-License-Identifier: MIT
"""What to do next: a belief about the form and a plan from it, as pure functions on arrays."""
