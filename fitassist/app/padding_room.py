# SPDX-License-Identifier: MIT
"""What the padding page works with: the open record, its fitting, shapes and materials."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitassist.app.torso_shapes import torso_shapes
from fitassist.files import resources_dir
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.padding_desk import PaddingDesk
from fitassist.gui.padding_page import PaddingPage
from fitassist.padding.materials import read_materials

if TYPE_CHECKING:
    from fitassist.app.workroom import Workroom


def padding_page(room: Workroom) -> PaddingPage:
    """Return the page, tied to whatever fitting is open from now on."""
    materials = read_materials((resources_dir() / "materials.json").read_bytes())
    desk = PaddingDesk(torso_shapes, materials)
    page = PaddingPage(desk, room.settings.units)

    def show(bridge: FittingBridge | None) -> None:
        desk.show_fitting(room.record, bridge)

    room.room.opened.connect(show)
    page.form_asked.connect(lambda: room.window.go_to("form"))
    page.fitting_asked.connect(lambda: room.window.go_to("fitting"))
    page.sheets_asked.connect(lambda: room.window.go_to("sheets"))
    page.failed.connect(room.on_failed)
    show(room.room.bridge)
    return page
