# SPDX-License-Identifier: MIT
"""Help for each page of the window: what it is for, and what can be done there."""

from __future__ import annotations

from typing import Final

from fitassist.wording.help_topic import Picture, Topic
from fitassist.wording.language import N_

PADDED: Final = (
    "strip_front", "shoulder", "cup", "rounded_back", "shoulder_blade", "side", "midriff",
    "small_of_back", "tummy", "front_hip", "hip", "seat",
)  # fmt: skip
PAGES: Final[tuple[Topic, ...]] = (
    Topic(
        "people",
        N_("People"),
        (
            N_("Everybody whose double a form is to become has a record here."),
            N_(
                "New person asks for a name and nothing else. Type a part of a name to find "
                "somebody; Enter opens the first one found."
            ),
            N_(
                "Each answer is on the disk before the next step shows, so a record can be closed "
                "at any time, in the middle of a fitting too. It opens again at the same step."
            ),
            N_(
                "Erase removes a record with all its measurements and fittings for good. It asks "
                "first."
            ),
        ),
        place="people",
    ),
    Topic(
        "measurements",
        N_("Measurements"),
        (
            N_(
                "A body is one person in one set of clothes. In a corset, or with pads, the same "
                "person is another body: press Another body for it."
            ),
            N_(
                "Quick asks for the least a fitting needs. Good and Full ask for more lines, "
                "halves, breadths and depths; the form then follows the body more closely."
            ),
            N_(
                "Type a length as 36 1/2, 36.5, 92.7 cm or 927 mm. The other unit stands beside "
                "it. Enter goes on to the next one."
            ),
            N_(
                "Measure twice where you can: press Again beside the field. The program takes the "
                "average and learns how far your readings scatter."
            ),
            N_(
                "A question about a reading is about the tape and the keys only. Keep is always "
                "an answer."
            ),
        ),
        place="measurements",
    ),
    Topic(
        "form",
        N_("Form"),
        (
            N_(
                "Describe the form once; it is remembered, with what each fitting teaches about "
                "how it moves."
            ),
            N_(
                "Begin from the form in the list that is most like yours. Under Dials stand the "
                "numbers from closed to fully open and how far one click turns."
            ),
            N_(
                "Before a fitting, copy the number beside each dial. Left and right are always "
                "the form's own, as if it were a person."
            ),
            N_(
                "Press a seam to say what is there: a dial, a dial whose numbers are worn away, a "
                "seam that follows its neighbour, or none."
            ),
            N_("Girths and heights may stay empty; the fitting measures what it needs."),
            N_(
                "What this form has taught tells how much its dials really give, for whom it was "
                "set last and which dials would not turn. It can be forgotten, and copied if asked."
            ),
            N_(
                "No form yet? Choose a form to buy compares what boxes and shops say with the "
                "people you tick, and names the fewest forms that serve them all."
            ),
        ),
        place="form",
    ),
    Topic(
        "fitting",
        N_("Fitting"),
        (
            N_(
                "One step at a time stands in the large card. Do it, then press Enter. How, "
                "beside it, explains the step in more words and with a drawing."
            ),
            N_(
                "Next, at the right, says what is likely to follow and why. It may change with "
                "each answer, because each answer teaches something about the form."
            ),
            N_(
                "Sections are the body and the form seen from above, both to one scale. Lines "
                "holds the same facts as numbers. Show chances adds how sure each one is."
            ),
            N_(
                "Not all dials says that a dial stopped, is stuck or was left. Something else "
                "takes what nobody asked for: a line you measured, a dial you turned."
            ),
            N_(
                "Undo takes the last answer back. If dials were turned, it first asks to turn "
                "them back, because they are real."
            ),
            N_(
                "It ends by itself: good enough, as near as the dials go, or the form too large. "
                "What is missing then is told for each line, to be padded."
            ),
        ),
        place="fitting",
    ),
    Topic(
        "shape",
        N_("Shape"),
        (
            N_(
                "The outlines of body and form, drawn from the girths and, where they were taken, "
                "breadths and depths. The band around an outline is how far it may really lie."
            ),
            N_(
                "Two bodies with the same girth can differ in shape. Breadth and depth between "
                "two flat boards tell most about it."
            ),
            N_("Turning the picture changes nothing but the view."),
        ),
        place="shape",
    ),
    Topic(
        "padding",
        N_("Padding"),
        (
            N_(
                "What the dials cannot do is done by padding: layers of soft sheet, largest on "
                "top, each with thinned edges, under a knit cover."
            ),
            N_(
                "The thickness of a sheet decides how many layers there are. Measure it: wrap the "
                "form a few times, measure the girth before and after, under the cover."
            ),
            N_(
                "Where the form stands out past the body, nothing can be laid on. Close it "
                "further first, or mark that line on the form."
            ),
        ),
        tuple(Picture(f"pad_{place}") for place in PADDED),
        place="padding",
    ),
    Topic(
        "sheets",
        N_("Sheets"),
        (
            N_("What can be printed: templates at true size, and pages to keep or to give away."),
            N_(
                "Print at 100 %, without fitting to the page. Then measure both check squares "
                "with your ruler before you cut anything."
            ),
            N_(
                "A large piece goes over several pages. Lay them over one another until the "
                "crosses meet, then tape them."
            ),
        ),
        place="sheets",
    ),
    Topic(
        "settings",
        N_("Settings"),
        (
            N_(
                "Each setting has a sentence under it, counts at once, and can be set back "
                "with the others by one button. People and forms are not touched by that."
            ),
            N_(
                "Larger type reaches 200 %. What no longer fits beside each other then stands "
                "below each other, and the fitting shows the step, the sections or the lines."
            ),
            N_(
                "High contrast draws words and lines at their strongest. As the system follows "
                "what the desktop asks for, also when it changes."
            ),
        ),
        place="settings",
    ),
    Topic(
        "help",
        N_("Help"),
        (
            N_(
                "Type a word to search all pages of help and the glossary. F1 opens the help of "
                "the page you are on; Escape goes back to it."
            ),
            N_("The first screens shows once more what was shown at the first start."),
        ),
        place="help",
    ),
    Topic(
        "beside",
        N_("Beside the form"),
        (
            N_(
                "F11 fills the screen with the step alone, to be read from two metres. How high "
                "the numbers stand is a preference."
            ),
            N_(
                "A small numeric pad is enough for all of it. 38*5 means 38 and five eighths. The "
                "keys for done, skip, undo and the others can be changed in Settings; the key for "
                "something else shows them all."
            ),
            N_("In two, one may turn the dials and call what the tape reads while one types."),
            N_("F11 or Escape shows the whole window again."),
        ),
    ),
    Topic(
        "private",
        N_("Private view"),
        (
            N_(
                "F9 does the same as F11 but shows and says no measure of the body: only what is "
                "left to do. A reading that is typed is not shown either."
            ),
            N_("Use it where others can see the screen."),
        ),
    ),
    Topic(
        "aloud",
        N_("Steps read aloud"),
        (
            N_(
                "In Settings, Read the steps aloud makes the computer read each step and repeat "
                "what was typed. It is off unless you ask for it."
            ),
            N_(
                "Where the computer has no voice, the program stays silent and says so once. "
                "Screen readers are told each new step in any case."
            ),
        ),
    ),
    Topic(
        "keys",
        N_("Keys"),
        (
            N_("Enter is always the large answer. Tab moves on, Shift and Tab back."),
            N_("Ctrl and a number goes to a page, in the order they stand in. Ctrl+Q ends."),
            N_("Escape puts an open panel away. Ctrl+Z undoes in a fitting."),
            N_("F1 is help, F11 beside the form, F9 the private view."),
        ),
    ),
    Topic(
        "files",
        N_("Where your work is kept"),
        (
            N_(
                "Everything is in plain, readable files in one folder of your own. Nothing is ever "
                "sent anywhere; the program does not use the network."
            ),
            N_(
                "Each person is one file. Earlier states are kept in the folder backups beside "
                "it: the last ten, and the last of each of thirty days."
            ),
            N_("To keep a copy of all of it, close the window and copy the folder."),
            N_(
                "If a file is damaged, it is left as it is and said so. The preferences are then "
                "the usual ones and the damaged file is kept beside."
            ),
        ),
    ),
    Topic(
        "safety",
        N_("At the form, with care"),
        (
            N_("Stop at the first resistance and never force a dial."),
            N_("Keep your fingers out of the seams when closing."),
            N_("Hold the torso before you free the height lock. It drops."),
            N_("A form on an offset pole tips. Keep a hand on it while you pull on the tape."),
            N_("Count the pins out and in."),
            N_("Follow the maker's instructions of your form wherever they differ."),
        ),
    ),
)
