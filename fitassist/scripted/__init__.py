# SPDX-License-Identifier: MIT
"""A fitting over standard input and output, one JSON object a line: protocol 1.

``fitassist --scripted --form F.json --body B.json [--person P.json] [--learned-out F2.json]
[--verbose]``, or ``python -m fitassist.scripted`` with the same arguments.

Each line is one UTF-8 JSON object of at most 64 KB. The program writes what is to be done and
waits for one line. Standard output carries nothing but the protocol, standard error the log.
The same files and answers give the same lines: no clock and no random number is in them. Lengths
are in mm, rounded to 0.1; dial numbers are as the form prints them; chances lie in 0..1. Texts are
for people, in the body's unit, and may change; codes and names do not.

Out. Every line but ``error`` has a rising ``id``; an answer repeats it in ``to``.

``hello``    id, protocol, units, tolerance_mm {line: [below, above]}, confidence
``set``      id, row, dials [{dial, action open|close, from, number, clicks}], reason
``measure``  id, line, what girth|front|back|left_half|right_half|breadth|depth|length, expect_mm,
             spread_mm, target_mm, reason; each of the three lengths may be null
``ask``      id, code, about (the id in doubt, or null), choices, text
``note``     id, code too_big|symmetry|dial_limit|caution|step, line, amount_mm, text; no answer
``state``    id, lines, joint, next; only with --verbose; no answer
``error``    to (the id that is still open; null before there is one), code, field, text,
             state "unchanged". Never ends the session. Codes: bad_json, unknown_answer, wrong_id,
             bad_value, out_of_range, too_long; not_kept if the record could not be written.
``done``     id, verdict good_enough|as_near_as_dials_go|too_big|left, joint, readings, turns,
             walks, clicks, lines, dials; the last line

In ``state`` and ``done`` a line has ``what`` only where that is not the girth; in ``tolerance_mm``
it is then called ``line.what``.

In.

``{"to":7,"answer":"done"}``: all dials of the set stand at their numbers. With ``"except":
[{"dial":"bust.left","number":37.25,"why":"stopped|stuck|skipped"}]`` all but those. A stuck dial is
left out of the plans until ``{"answer":"free","dial":"bust.left"}``, the one answer that may come
without ``to``.
``{"to":8,"answer":"reading","value":"28 1/8","unit":"in"}``: a number or a text; unit in, cm or mm,
mm if there is none. A unit within the text goes first.
``{"to":8,"answer":"ribbon","marks":"overlap|apart","by":6,"unit":"mm"}``: apart if the form is
larger than the ribbon by that much.
``{"to":8,"answer":"volunteer","line":"hip","what":"girth","value":980}`` or ``"dial"`` and
``"number"``: what nobody asked for.
``{"to":9,"answer":"choose","choice":"again"}``, and ``skip``, ``undo``, ``leave``. Undoing a set
first yields the set back: the dials are real.

A field that is not described here is refused, so that a slip is not silently ignored. The body's
file may hold ``"preferences"``: {"confidence": 0.95, "units": "in", ...}, by the names of
``fitassist.domain.body.Preferences``; and ``"setting"``: nearest_girth, room_for_padding or
frame_first, by which the outlines of body and form say which seams open (girths alone without it).

With --person every answer is in the record before the next line is written, and the same command
goes on at the same instruction, with ids from 1 again. --learned-out writes the form with what was
learned and its dials where they stand now, also when the input ends early. Exit code 0 after
``done``, 2 for files that cannot be read or written (one error line first), 3 if input ended.
"""

from fitassist.scripted.start import main

__all__ = ["main"]
