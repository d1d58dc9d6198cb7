# SPDX-License-Identifier: MIT
"""Questions about readings say lengths as the one who typed them would."""

from fitassist.domain.plausibility import Question
from fitassist.wording.body_words import body_question


def test_a_length_in_the_wrong_unit_is_asked_about_in_the_unit_that_was_meant():
    # 25.4 mm to the inch (international inch, 1959): 30 cm typed as 30 in is 762 mm.
    asked = Question(
        code="slip_unit",
        keys=("back_neck_to_waist",),
        values={"back_neck_to_waist": 762.0, "instead_mm": 300.0},
    )
    labels = {"back_neck_to_waist": "Back neck to waist"}
    assert "30 in: or is 30.0 cm meant" in body_question(asked, labels, "in")
    swapped = asked.model_copy(update={"values": {"back_neck_to_waist": 300.0, "instead_mm": 762}})
    assert "30.0 cm: or is 30 in meant" in body_question(swapped, labels, "cm")
