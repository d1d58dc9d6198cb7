# SPDX-License-Identifier: MIT
"""What is laid on a form so that it becomes as large as the body: pure functions on arrays."""
