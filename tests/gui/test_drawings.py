# SPDX-License-Identifier: MIT
"""The drawings: complete, harmless, recoloured, lit where they should be, rebuilt from curves."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from fitassist.domain.lines import NAMED_LINES, Seam
from fitassist.errors import BadFile
from fitassist.files import resources_dir
from fitassist.gui import theme
from fitassist.gui.drawings import (
    PLACEHOLDERS,
    DrawingView,
    coloured_text,
    drawing_image,
    drawing_names,
    drawing_text,
    element_path,
    parse_drawing,
    role_pairs,
    view_box,
)
from fitassist.gui.padding_card import drawing_of
from fitassist.gui.topic_view import TopicView
from fitassist.padding.places import ALL_ROUND, PLACES
from fitassist.wording.help_pages import PAGES
from tests.gui.pictures import channels, pixels_of, shot

PROJECT = Path(__file__).resolve().parents[2]
RESOURCES = resources_dir()
BESIDE_MEASURES = [
    "check_undergarment", "check_marks", "check_torso_length", "ribbon_apart", "ribbon_overlap",
    *(f"{figure}_{view}" for figure in ("form", "body") for view in ("front", "side", "back")),
]  # fmt: skip


def catalogue_pictures() -> list[str]:
    found = json.loads((RESOURCES / "measurements.json").read_text(encoding="utf-8"))
    return [entry["picture"] for entry in found["measurements"]]


def test_each_measurement_and_check_has_a_drawing_that_paints(qapp):
    names = sorted({*catalogue_pictures(), *BESIDE_MEASURES})
    assert set(names) <= set(drawing_names())
    for name in names:
        image = drawing_image(name, QSize(120, 160), theme.LIGHT)
        assert channels(image)[:, :, 3].max() == 255, name
        assert QSvgRenderer(drawing_text(name).encode()).isValid(), name


def padding_pictures() -> dict[str, str]:
    """The drawing of each step that can be asked for at a place of padding, and its place."""
    sides = [f"{side}_{p.name}" for p in PLACES if p.is_pair for side in ("left", "right")]
    shoulders = ["left_shoulder", "right_shoulder"]
    places = [*(p.name for p in PLACES), *sides, *shoulders, ALL_ROUND]
    laid = {place: drawing_of("piece", place) for place in places}
    strips = {f"strip {seam.value}": drawing_of("strip", seam.value) for seam in Seam}
    return laid | strips


@pytest.mark.parametrize("palette", [theme.LIGHT, theme.DARK], ids=lambda p: p.name)
def test_each_place_of_padding_has_a_drawing_of_its_own_with_the_place_marked(palette, qapp):
    shown = padding_pictures()
    assert all(shown.values()), [place for place, name in shown.items() if not name]
    assert len(set(shown.values())) == len(shown)
    for place, name in shown.items():
        marked = pixels_of(drawing_image(name, QSize(215, 410), palette), palette.pad)
        assert marked, place
        assert element_path(name, "hatch-1").elementCount() > 3, place


def test_left_and_right_of_a_pair_lie_on_their_own_side_of_the_form():
    # From the front the wearer's left is on the right of the page, from the back on the left.
    for place in PLACES:
        if not place.is_pair:
            continue
        is_front = 'id="seam-front"' in drawing_text(f"pad_{place.name}")
        left, right = (
            element_path(f"pad_{side}_{place.name}", "pad-1").boundingRect().center().x()
            for side in ("left", "right")
        )
        assert (left > 0 > right) if is_front else (left < 0 < right), place.name


def test_each_place_of_padding_is_shown_in_its_help():
    topic = next(topic for topic in PAGES if topic.place == "padding")
    shown = {picture.drawing for picture in topic.pictures}
    wanted = {f"pad_{place.name}" for place in PLACES} | {"pad_shoulder", "pad_strip_front"}
    assert wanted <= shown


def test_each_drawing_in_the_help_of_padding_names_its_place(qtbot):
    view = TopicView()
    qtbot.addWidget(view)
    view.show_topic(next(topic for topic in PAGES if topic.place == "padding"))
    said = [drawing.accessibleName() for drawing in view.findChildren(DrawingView)]
    assert len(said) == len(set(said)) > 10
    assert {"Tummy", "Front gap", "Left shoulder and right shoulder"} <= set(said)


def test_a_drawing_holds_no_text_no_entity_no_script_and_no_colour_of_its_own():
    unwanted = r"<text|<tspan|<title|<desc|<script|<style|<!DOCTYPE|<!ENTITY|href"
    for name in drawing_names():
        text = drawing_text(name)
        assert not re.search(unwanted, text), name
        assert set(re.findall(r"#[0-9A-Fa-f]{3,8}", text)) <= set(PLACEHOLDERS), name
        ids = re.findall(r'id="([^"]+)"', text)
        assert len(ids) == len(set(ids)), name


@pytest.mark.parametrize(
    "harm",
    [
        '<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg xmlns="http://www.w3.org/2000/svg"/>',
        '<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>',
        '<svg xmlns="http://www.w3.org/2000/svg"><text>bust</text></svg>',
        '<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/hosts"/></svg>',
        '<svg xmlns="http://www.w3.org/2000/svg"><path onclick="x()" d="M0 0"/></svg>',
        '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"/>bust</svg>',
        "<svg",
    ],
)
def test_anything_but_paths_and_circles_is_refused(harm):
    with pytest.raises(BadFile, match="drawing_unreadable"):
        parse_drawing(harm)


def test_a_drawing_that_is_not_there_is_refused_by_name():
    with pytest.raises(BadFile) as caught:
        drawing_text("no_such_drawing")
    assert caught.value.values == {"drawing": "no_such_drawing"}


@pytest.mark.parametrize("palette", [theme.LIGHT, theme.DARK, theme.CONTRAST], ids=lambda p: p.name)
def test_a_drawing_takes_the_colours_of_the_theme(palette, qapp):
    image = drawing_image("bust_girth", QSize(200, 320), palette, ratio=2.0)
    assert image.size() == QSize(400, 640)
    assert pixels_of(image, palette.thread)
    assert pixels_of(image, palette.ink)
    for other in {theme.LIGHT, theme.DARK} - {palette}:
        assert not pixels_of(image, other.thread)


def test_a_plain_mapping_of_roles_serves_as_well_as_a_palette():
    roles = {"ink": "#101010", "fine": "#202020", "thread": "#303030", "card": "#404040"}
    roles["pad"] = "#505050"
    text = coloured_text(drawing_text("form_front"), role_pairs(roles))
    assert set(re.findall(r"#[0-9A-Fa-f]{6}", text)) == {"#101010", "#202020", "#404040"}


def test_what_is_lit_is_in_thread_and_thicker_and_the_rest_stays_as_it_was():
    text, roles = drawing_text("form_front"), role_pairs(theme.LIGHT)
    plain, lit = (
        {e.get("id"): dict(e.attrib) for e in parse_drawing(coloured_text(text, roles, ids)).iter()}
        for ids in (frozenset(), frozenset({"line-bust"}))
    )
    changed = {name for name in plain if plain[name] != lit[name]}
    assert changed == {"line-bust"}
    assert lit["line-bust"]["stroke"] == theme.LIGHT.thread
    assert float(lit["line-bust"]["stroke-width"]) > float(plain["line-bust"]["stroke-width"])


def test_what_is_hidden_is_left_out():
    text = coloured_text(
        drawing_text("form_back"), role_pairs(theme.LIGHT), hidden=frozenset({"line-hip"})
    )
    assert 'id="line-hip"' not in text
    assert 'id="line-bust"' in text


@pytest.mark.parametrize("width", [100, 200, 400])
def test_lines_keep_their_weight_at_any_size(width, qapp):
    # A straight upright line of 2.5 px is looked for in a row of pixels that crosses it.
    box = view_box("back_neck_to_waist")
    height = round(width * box.height() / box.width())
    image = drawing_image("back_neck_to_waist", QSize(width, height), theme.LIGHT)
    y = round((-150 - box.y()) / box.height() * height)
    middle = range(width // 2 - 8, width // 2 + 8)
    covered = sum(image.pixelColor(x, y).alphaF() for x in middle)
    assert covered == pytest.approx(2.5, abs=0.3)


def test_the_form_has_each_named_line_in_each_view():
    for view in ("front", "side", "back"):
        for line in NAMED_LINES:
            assert element_path(f"form_{view}", f"line-{line}").elementCount() > 1, (view, line)


@pytest.mark.parametrize("name", ["body_front", "body_back"])
def test_a_body_seen_from_front_or_back_is_the_same_on_both_sides(name, qapp):
    cover = channels(drawing_image(name, QSize(250, 406), theme.LIGHT))[:, :, 3].astype(float)
    assert cover.mean() > 2
    assert np.abs(cover - cover[:, ::-1]).mean() < 0.5


def test_the_drawings_are_those_the_curves_give(tmp_path):
    script = PROJECT / "packaging" / "make_drawings.py"
    subprocess.run([sys.executable, str(script), str(tmp_path)], check=True, timeout=60)
    made = {p.relative_to(tmp_path): p.read_bytes() for p in tmp_path.rglob("*.svg")}
    kept = {
        p.relative_to(RESOURCES): p.read_bytes()
        for folder in ("drawings", "icon")
        for p in (RESOURCES / folder).glob("*.svg")
    }
    assert made == kept


def test_the_icon_is_256_pixels_and_the_same_as_its_drawing(qapp):
    icon = QImage(str(RESOURCES / "icon" / "fitassist.png"))
    assert icon.size() == QSize(256, 256)
    fresh = QImage(256, 256, QImage.Format.Format_ARGB32)
    fresh.fill(Qt.GlobalColor.transparent)
    painter = QPainter(fresh)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    QSvgRenderer(str(RESOURCES / "icon" / "fitassist.svg")).render(painter)
    painter.end()
    apart = np.abs(channels(icon).astype(int) - channels(fresh).astype(int)).max(axis=2)
    assert (apart > 24).mean() < 0.002


def test_a_picture_widget_shows_the_drawing_it_is_given_and_says_what_it_is(qtbot):
    view = DrawingView("bust_girth", theme.LIGHT, "Tape level round the fullest part")
    qtbot.addWidget(view)
    view.resize(200, 300)
    assert pixels_of(shot(view), theme.LIGHT.thread)
    assert view.accessibleName() == "Tape level round the fullest part"
    hint, box = view.sizeHint(), view_box("bust_girth")
    assert hint.width() / hint.height() == pytest.approx(box.width() / box.height(), rel=0.02)
    view.set_colours(theme.DARK)
    assert pixels_of(shot(view), theme.DARK.thread)
    view.show_drawing("")
    assert not pixels_of(shot(view), theme.DARK.thread)
