# SPDX-License-Identifier: MIT
"""The fewest forms that serve everybody: set cover, exactly.

Branch and bound over the body that the fewest forms serve. A form whose people another serves as
well is still looked at, because of two covers of one size the one that leaves less padding is
better. That comparison is given up beyond a budget; the number of forms is exact always.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitassist.choosing.judging import Judged

MOST_LOOKED_AT = 100_000  # nodes; beyond them a cover of equal size is no longer looked for


@dataclass(frozen=True)
class Cover:
    """The forms to have, which one for whom, and whom none of them serves."""

    chosen: tuple[int, ...]  # places among the candidates, in their order
    of_body: tuple[int | None, ...]  # by body: which candidate; None: nobody serves it
    padding_mm: float

    @property
    def unserved(self) -> tuple[int, ...]:
        """Bodies no candidate serves."""
        return tuple(i for i, one in enumerate(self.of_body) if one is None)


def fewest(judged: Sequence[Judged]) -> Cover:
    """Return the smallest set of candidates that serves every body any of them serves.

    Parameters
    ----------
    judged
        Every candidate for the same bodies in the same order.
    """
    serves = [sum(1 << body for body in one.served) for one in judged]
    padding = [[body.padding_mm for body in one.bodies] for one in judged]
    best = _Search(serves, padding).run()
    n_bodies = len(judged[0].bodies) if judged else 0
    of_body: list[int | None] = []
    for body in range(n_bodies):
        able = [(padding[i][body], i) for i in best if serves[i] >> body & 1]
        of_body.append(min(able)[1] if able else None)
    total = sum(padding[i][body] for body, i in enumerate(of_body) if i is not None)
    return Cover(tuple(sorted(best)), tuple(of_body), total)


class _Search:
    """One search, with the best cover found so far."""

    def __init__(self, serves: Sequence[int], padding: Sequence[Sequence[float]]) -> None:
        self._serves = serves
        self._padding = padding
        self._everybody = 0
        for mask in serves:
            self._everybody |= mask
        self._best: tuple[int, ...] = ()
        self._best_padding = float("inf")
        self._looked_at = 0

    def run(self) -> tuple[int, ...]:
        if self._everybody:
            self._best = self._greedy()
            self._best_padding = self._left(self._best)
            self._look((), self._everybody, 0)
        return self._best

    def _greedy(self) -> tuple[int, ...]:
        """Return a cover by always taking whoever serves most of those left."""
        left, chosen = self._everybody, []
        while left:
            pick = max(range(len(self._serves)), key=lambda i: (self._serves[i] & left).bit_count())
            chosen.append(pick)
            left &= ~self._serves[pick]
        return tuple(chosen)

    def _look(self, chosen: tuple[int, ...], left: int, banned: int) -> None:
        self._looked_at += 1
        if not left:
            padding = self._left(chosen)
            if (len(chosen), padding) < (len(self._best), self._best_padding):
                self._best, self._best_padding = chosen, padding
            return
        free = [i for i, mask in enumerate(self._serves) if mask & left and not banned >> i & 1]
        if not free:
            return
        most = max((self._serves[i] & left).bit_count() for i in free)
        needed = len(chosen) + -(-left.bit_count() // most)
        equal_is_worth_it = self._looked_at < MOST_LOOKED_AT
        if needed > len(self._best) or (needed == len(self._best) and not equal_is_worth_it):
            return
        able = self._scarcest(left, free)
        for i in sorted(able, key=lambda i: -(self._serves[i] & left).bit_count()):
            self._look((*chosen, i), left & ~self._serves[i], banned)
            banned |= 1 << i  # covers with it have all been looked at

    def _scarcest(self, left: int, free: Sequence[int]) -> list[int]:
        """Return who serves the body that the fewest serve."""
        found: list[int] | None = None
        body = 0
        while left >> body:
            if left >> body & 1:
                able = [i for i in free if self._serves[i] >> body & 1]
                if found is None or len(able) < len(found):
                    found = able
            body += 1
        return found or []

    def _left(self, chosen: Sequence[int]) -> float:
        """Return the padding left if everybody has the best of the chosen."""
        total = 0.0
        for body in range(self._everybody.bit_length()):
            able = [self._padding[i][body] for i in chosen if self._serves[i] >> body & 1]
            total += min(able, default=0.0)
        return total
