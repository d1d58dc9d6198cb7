# SPDX-License-Identifier: MIT
"""Pages to print, as plain lines, polygons and words in mm: pure functions, no files, no Qt."""
