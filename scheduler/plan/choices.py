"""Ways out of a conflict, each priced by planning the changed farm again. None is applied by itself."""

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import islice

from msgspec import Struct

from scheduler.plan.cleared import AT_THE_SALE, Cleared
from scheduler.plan.lot_ways import split_group
from scheduler.plan.model import Choice, ChoiceKind, ClashFact, Decider
from scheduler.plan.replans import STOPS, Replans
from scheduler.plan.sale_ways import SaleWays
from scheduler.plan.wish_ways import WishWays
from scheduler.rules import RULES, Breach

MOST_CHOICES = 5
"""Most ways out told of one conflict, the cheapest first."""
MOST_OF_A_RULE = 2
"""Most conflicts of one rule that only warns whose ways out are planned: a bound on work."""

SET_ASIDE = frozenset(rule.slug for rule in RULES if rule.sets_aside)
"""Rules that a vet's written direction may set aside."""
ASK_VET = "ask the vet, who may direct it in writing; without that it is not given"

WITHOUT_PLANNING: dict[str, tuple[tuple[ChoiceKind, str, Decider], ...]] = {
    "cover-gap": (("leave-exposed", "leave it so, and look the sheep over every day of it", "keeper"),),
    "unconfirmed-label": (("confirm-label", "compare the file with the leaflet and fill in `checked`", "keeper"),),
    "countries-unstated": (("confirm-label", "write the countries of the leaflet into the file", "keeper"),),
    "order-time": (("order-now", "order today, and ask whether it can come sooner", "keeper"),),
    "stock-short": (("order-now", "order today, and ask whether it can come sooner", "keeper"),),
    "expired": (("order-now", "order fresh, and hand the old back: the plan does not count on it", "keeper"),),
    "record-complete": (("record-it", "write it in record.csv, given yes or no, and plan again", "keeper"),),
    "lamb-repeat": (("record-it", "if it was given, write it in record.csv and plan again", "keeper"),
                    ("ask-vet", "ask the vet what a late repeat is still worth", "vet")),
    "infested-now": (("ask-vet", "have the vet look at them and say what to give", "vet"),
                     ("record-it", "if they were treated or are clean by now, write it in record.csv, or the day under "
                      "`cleared` in findings.csv, and plan again", "keeper")),
    "movement-stop": (("ask-vet", "ask the vet and the authority before any sheep leaves", "vet"),),
    "organic-prevention": (("ask-vet", "have the vet's and the certifier's yes in writing", "vet"),),
}  # fmt: skip
"""Ways out that leave the plan as it is: nothing is to be priced."""

IN_ITS_PLACE: dict[str, tuple[ChoiceKind, ...]] = {
    "same-group-again": ("other-use",),
    "high-challenge": ("move-dose", "other-use"),
    "dirty-fleece": ("move-dose", "other-use"),
    "sale-declaration": ("move-dose", "other-use"),
}
"""Rules that warn of a dose of the plan, with the ways to wish another in its place."""

OF_LABELS = frozenset(("order-time", "stock-short"))
"""Rules that warn of a label: another may be used while it is not at hand."""

AT_A_SALE = frozenset(("sale-declaration", "movement-stop"))
"""Rules that warn of a sale."""

PRESSING = ("movement-stop", "sale-declaration", "order-time", "stock-short", "too-early", "handling-people",
            "dirty-fleece", "same-group-again", "high-challenge")  # fmt: skip
"""Rules that warn and have ways out to be planned, in the order in which work is spent on them."""


class Choices(Struct, dict=True):
    """Finds the choices of one plan. said: all that the plan must say."""

    replans: Replans
    said: Sequence[Breach]

    @cached_property
    def _at_the_sale(self) -> SaleWays:
        return SaleWays(self.replans, Cleared(self.said))

    @cached_property
    def _by_wishes(self) -> WishWays:
        return WishWays(self.replans, Cleared(self.said))

    @cached_property
    def _planned(self) -> dict[int, tuple[Choice, ...]]:
        """The ways out of warnings that are planned: of the first few of each rule, found when first asked for."""
        alike = ([breach for breach in self.said if breach.rule == rule] for rule in PRESSING)
        return {
            id(breach): tuple(self._of_warning(breach))
            for found in alike
            for breach in islice(found, MOST_OF_A_RULE)
        }  # fmt: skip

    def of(self, breach: Breach, clash: Sequence[ClashFact]) -> tuple[Choice, ...]:
        """The ways out of one breach, cheapest first: exposure, then money, then handlings."""
        found = list(self._found(breach, clash))
        found.sort(key=lambda one: (one.exposed_sheep_days, one.money_minor, one.handlings, one.what))
        return tuple(found[:MOST_CHOICES])

    def _found(self, breach: Breach, clash: Sequence[ClashFact]) -> Iterator[Choice]:
        wished = breach.dose is not None and breach.dose.origin == "wish"
        if wished and breach.rule in STOPS:
            yield from self._of_refused_wish(breach)
            return
        for what, text, decides in WITHOUT_PLANNING.get(breach.rule, ()):
            yield _free(what, text, decides)
        if breach.rule == "weight-spread":
            yield from split_group(self.replans.season, breach)
        elif breach.rule == "cover-gap":
            yield from self._of_gap(breach, clash)
        elif breach.rule in AT_THE_SALE:
            yield from self._at_the_sale.of(breach)
        elif breach.rule in PRESSING:
            yield from self._planned.get(id(breach), ())

    def _of_refused_wish(self, breach: Breach) -> Iterator[Choice]:
        yield _free("leave-exposed", "leave the wished dose out, as this plan does")
        if breach.rule in SET_ASIDE:
            yield _free("ask-vet", ASK_VET, "vet")
        yield from self._by_wishes.of_wish(breach)
        if breach.rule in AT_THE_SALE:
            yield from self._at_the_sale.of(breach)

    def _of_gap(self, breach: Breach, clash: Sequence[ClashFact]) -> Iterator[Choice]:
        if any(fact.rule in SET_ASIDE for fact in clash):
            yield _free("ask-vet", "ask the vet, who may direct a dose in writing; without that none is given", "vet")
        yield from self._at_the_sale.of(breach)
        for where in dict.fromkeys(fact.where for fact in clash):
            yield from self._by_wishes.without(breach, where)

    def _of_warning(self, breach: Breach) -> Iterator[Choice]:
        wished = breach.dose is not None and breach.dose.origin == "wish"
        if breach.rule in AT_A_SALE:
            yield from self._at_the_sale.of(breach)
        if breach.rule in OF_LABELS:
            yield from self._by_wishes.of_label(breach)
        elif breach.rule == "handling-people":
            yield from self._by_wishes.of_mob(breach)
        elif wished and breach.rule in {*IN_ITS_PLACE, "too-early"}:
            yield from self._by_wishes.of_wish(breach)
            if breach.rule == "too-early" and breach.dose is not None and breach.dose.where is not None:
                yield from self._by_wishes.without(breach, breach.dose.where)
        elif breach.rule in IN_ITS_PLACE:
            yield from self._by_wishes.of_planned(breach, IN_ITS_PLACE[breach.rule])


def _free(what: ChoiceKind, text: str, decides: Decider = "keeper") -> Choice:
    return Choice(what=what, text=text, decides=decides, exposed_sheep_days=0, money_minor=0, handlings=0)
