# SPDX-License-Identifier: MIT
"""The settings in use, kept on disk at each change; if that fails they count all the same."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path

from fitassist.errors import FitError
from fitassist.settings import Settings, save_settings

log = logging.getLogger(__name__)

# Not on the settings page: what the program notes for itself.
NOTED = ("window", "last_person", "last_page", "tour_seen", "paper")


class KeptSettings:
    """Settings of one profile.

    Parameters
    ----------
    refused
        Told the ``FitError`` when they could not be kept.
    """

    def __init__(
        self, profile: Path, settings: Settings, refused: Callable[[FitError], object]
    ) -> None:
        self._profile = profile
        self._settings = settings
        self._refused = refused
        self._watchers: list[Callable[[Settings], object]] = []

    def watch(self, told: Callable[[Settings], object]) -> None:
        """Tell somebody the settings now and whenever the user changes them."""
        self._watchers.append(told)
        told(self._settings)

    @property
    def now(self) -> Settings:
        """The settings as they are."""
        return self._settings

    def note(self, **changes: object) -> None:
        """Note something of ``NOTED`` and keep it."""
        changed = self._settings.model_copy(update=changes)
        if changed != self._settings:
            self._settings = changed
            self._keep()

    def choose(self, settings: Settings) -> None:
        """Take what the user chose, but none of what the program notes for itself."""
        ours = {key: getattr(self._settings, key) for key in NOTED}
        self._settings = settings.model_copy(update=ours)
        self._keep()
        for told in self._watchers:
            told(self._settings)

    def _keep(self) -> None:
        try:
            save_settings(self._profile, self._settings)
        except FitError as error:
            log.warning("settings_not_kept", extra={"facts": {"code": error.code}})
            self._refused(error)
