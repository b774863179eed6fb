"""Whole packs over a shortage: least money, then fewest packs, by looking at every count that could still be best."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm

from scheduler.labels import Pack

PackCounts = tuple[tuple[Pack, int], ...]


def least_packs(packs: Sequence[Pack], ml: Decimal) -> PackCounts:
    """Packs that hold at least so many ml together: least money, then fewest packs, larger ones first where both tie.

    () where nothing is short.
    """
    if ml <= 0:
        return ()
    search = _Search(packs, Fraction(ml))
    search.look(0, search.need, 0, 0)
    return tuple((pack, count) for pack, count in zip(search.packs, search.found, strict=True) if count)


class _Search:
    """Branch and bound over the packs, cheapest a millilitre first; ml and prices as multiples of a common measure."""

    def __init__(self, packs: Sequence[Pack], ml: Fraction) -> None:
        self.packs = sorted(packs, key=lambda pack: (Fraction(pack.price) / Fraction(pack.ml), -pack.ml))
        measure, coin = _measure(pack.ml for pack in packs), _measure(pack.price for pack in packs)
        self.need = -int(-(ml / measure) // 1)
        self.sizes = [int(Fraction(pack.ml) / measure) for pack in self.packs]
        self.prices = [int(Fraction(pack.price) / coin) for pack in self.packs]
        self.counts = [0] * len(self.packs)
        self.found: list[int] = []
        self.best: tuple[int, int] | None = None

    def look(self, place: int, need: int, money: int, count: int) -> None:
        """Tries every count of the packs from `place` on that might beat the best so far."""
        if need <= 0:
            self._keep(money, count)
        elif place < len(self.packs):
            for number in range(_ceil(need, self.sizes[place]), -1, -1):
                self.counts[place] = number
                rest, paid = need - number * self.sizes[place], money + number * self.prices[place]
                if self.best is not None and rest > 0 and self._money_bound(place + 1, rest, paid) > self.best[0]:
                    break  # with fewer of these packs the bound only rises
                if self._may_win(place + 1, rest, paid, count + number):
                    self.look(place + 1, rest, paid, count + number)
            self.counts[place] = 0

    def _keep(self, money: int, count: int) -> None:
        if self.best is None or (money, count) < self.best:
            self.best, self.found = (money, count), list(self.counts)

    def _money_bound(self, place: int, need: int, money: int) -> int:
        """Least money: the packs that follow are no cheaper a millilitre than the one at `place`."""
        if need <= 0 or place == len(self.packs):
            return money
        return money + _ceil(need * self.prices[place], self.sizes[place])

    def _may_win(self, place: int, need: int, money: int, count: int) -> bool:
        if self.best is None or need <= 0:
            return True
        if place == len(self.packs):
            return False
        return (self._money_bound(place, need, money), count + _ceil(need, max(self.sizes[place:]))) < self.best


def _ceil(amount: int, size: int) -> int:
    return -(-amount // size)


def _measure(amounts: Iterable[Decimal]) -> Fraction:
    """The greatest amount that all are whole multiples of; 1 where all are 0."""
    parts = [Fraction(amount) for amount in amounts]
    below = lcm(*(part.denominator for part in parts))
    above = gcd(*(int(part * below) for part in parts))
    return Fraction(above, below) if above else Fraction(1)
