# SPDX-License-Identifier: MIT
"""What shape results: sections of body and form, as pure functions on arrays."""
