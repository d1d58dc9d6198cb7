# SPDX-License-Identifier: MIT
"""The words: people, forms, readings and steps as frozen data. No numerics, no files, no Qt."""
