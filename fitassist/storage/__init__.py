# SPDX-License-Identifier: MIT
"""How it is kept: one readable file a person, a journal beside it, locks and backups."""
