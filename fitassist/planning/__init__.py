# SPDX-License-Identifier: MIT
"""What to do next: the belief about a form and the plan made from it, as pure functions on arrays."""
