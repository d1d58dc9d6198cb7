# SPDX-License-Identifier: MIT
"""Whether the tests see a fault: small changes to the core, each of which must make a test fail."""
