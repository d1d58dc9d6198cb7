# SPDX-License-Identifier: MIT
"""What is seen: the window. The only place with Qt besides the start of the program."""
