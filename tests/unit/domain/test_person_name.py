# SPDX-License-Identifier: MIT
"""Names in any script are kept as written, unless they would disturb the text around them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.person_name import LONGEST_NAME, clean_name
from fitassist.errors import FitError

RIGHT_TO_LEFT_OVERRIDE = "\u202e"
FAMILY = "\U0001f469\u200d\U0001f469\u200d\U0001f467"  # one emoji of five code points


@pytest.mark.parametrize(
    "name",
    [
        *("Ada", "Ngọc Ánh", "שרה", "ليلى", "李雷", "O'Neill-Šimić", "3", "…"),
        *(
            f"Mum {FAMILY}",
            "\U0001f9f5",
            "<b>Ada</b> & co",
            "{name}",
            "%s",
            "../../etc",
            "a\u200fb",
        ),
        *("e\u0301", "می\u200cخواهم", "x" * LONGEST_NAME),
    ],
)
def test_a_name_in_any_script_is_kept_as_written(name):
    assert clean_name(name) == name
    assert clean_name(f" \t{name}\r\n\u00a0\ufeff ") == name


@pytest.mark.parametrize(
    "text", ["", "   ", "\n", "\u200b", "\u200d\u200e", "\u3164", "\u2800", "\u0301"]
)
def test_a_name_nobody_can_see_is_refused(text):
    with pytest.raises(FitError) as caught:
        clean_name(text)
    assert (caught.value.code, caught.value.field) == ("name_empty", "name")


@pytest.mark.parametrize(
    "hidden",
    [
        *(
            "\x00",
            "\x07",
            "\x1b",
            "\x7f",
            "\x85",
            "\n",
            "\t",
            "\u2028",
            "\u2029",
            "\ud800",
            "\uffff",
        ),
        *("\u202a", "\u202b", "\u202c", "\u202d", RIGHT_TO_LEFT_OVERRIDE),
        *("\u2066", "\u2067", "\u2068", "\u2069", "\ufdd0", "\U0010ffff"),
    ],
    ids=lambda char: f"U+{ord(char):04X}",
)
def test_a_hidden_character_that_disturbs_text_is_refused(hidden):
    with pytest.raises(FitError) as caught:
        clean_name(f"A{hidden}da", field="form_name")
    assert (caught.value.code, caught.value.field) == ("name_control", "form_name")


def test_a_name_of_more_than_120_characters_is_refused():
    with pytest.raises(FitError) as caught:
        clean_name("x" * 300)
    assert caught.value.code == "name_too_long"
    assert caught.value.values == {"longest": 120, "length": 300}


@given(st.text(st.characters(exclude_categories=()), max_size=140))
def test_whatever_is_typed_is_refused_with_a_code_or_cleaned_for_good(text):
    try:
        name = clean_name(text)
    except FitError as error:
        refused = error.code
        name = None
    if name is None:
        assert refused in {"name_empty", "name_too_long", "name_control"}
        return
    assert name in text
    assert clean_name(name) == name
    assert 0 < len(name) <= LONGEST_NAME
    assert name.encode("utf-8").decode("utf-8") == name
    assert len(name.splitlines()) == 1
