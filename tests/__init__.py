# SPDX-License-Identifier: MIT
"""A package, so that ``tests.virtual`` is found before any other package called tests."""
