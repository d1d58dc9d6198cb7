# SPDX-License-Identifier: MIT
"""Asks the program that will print a PDF not to scale it (ISO 32000-1, 12.2, PrintScaling).

The writer cannot say so itself. What it wrote stays as it is: the catalog is written once more
after it, as an update of the file (7.5.6).
"""

from __future__ import annotations

import re

_ROOT = re.compile(rb"/Root (\d+) 0 R")
_SIZE = re.compile(rb"/Size (\d+)")
_START = re.compile(rb"startxref\s+(\d+)\s+%%EOF\s*\Z")
_WISH = b"/ViewerPreferences << /PrintScaling /None >>\n"


def with_true_size(pdf: bytes) -> bytes:
    """Return the document with the wish to be printed at 100 %.

    A document that is not written as expected is returned as it is: the wish is a help, and the
    pages say it in words as well.
    """
    start = _START.search(pdf)
    trailer = pdf[pdf.rfind(b"trailer") :] if start else b""
    root, size = _ROOT.search(trailer), _SIZE.search(trailer)
    if start is None or root is None or size is None:
        return pdf
    number = root[1]
    found = re.search(rb"(?m)^" + number + rb" 0 obj\s*<<(.*?)>>\s*endobj", pdf, re.DOTALL)
    if found is None or b"/Type /Catalog" not in found[1] or b"<<" in found[1]:
        return pdf
    body = pdf if pdf.endswith(b"\n") else pdf + b"\n"
    offset = len(body)
    catalog = number + b" 0 obj\n<<" + found[1].rstrip() + b"\n" + _WISH + b">>\nendobj\n"
    table = b"xref\n%s 1\n%010d 00000 n \n" % (number, offset)
    kept = trailer[trailer.find(b"<<") + 2 : trailer.rfind(b">>")] if b"<<" in trailer else b""
    if not kept:
        return pdf
    ending = b"trailer\n<<%s/Prev %s\n>>\nstartxref\n%d\n%%%%EOF\n" % (
        kept.rstrip() + b"\n",
        start[1],
        offset + len(catalog),
    )
    return body + catalog + table + ending
