# SPDX-License-Identifier: MIT
"""A dress form as physics, to judge fittings against; it knows nothing of how they are planned."""
