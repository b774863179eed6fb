"""What is asked about a leaflet, in order. The answers take the form of a label file."""

from collections.abc import Sequence

from scheduler.labels.questions import (
    Ask,
    Asked,
    Question,
    Value,
    amount,
    at_least,
    count,
    days,
    entries,
    other_than,
    period,
)
from scheduler.tables import Reader, country, line, name, number, text, whole, word, yes_no
from scheduler.words import FORMS, KINDS, TARGETS

Answers = dict[str, object]
"""Keys of the label file; None: not stated. Tables are dicts, arrays of tables lists of dicts."""

MOST_PARTS = 30
"""Packs, uses, bands, repeats or groups apart that are asked for."""
_SOME, _ANY = count(MOST_PARTS, 1), count(MOST_PARTS)


class _Part:
    """Asks about one part of the label, whose keys stand at `at`."""

    def __init__(self, ask: Ask, title: str, *at: str | int) -> None:
        self.ask, self.title, self.at = ask, title, at

    def __call__(self, key: str, text: str, read: Reader[Value], needed: bool = False, asked: Asked = "twice") -> Value:
        return self.ask(Question((*self.at, key), self.title, text, read, needed, asked))

    def how_many(self, key: str, text: str, read: Reader[Value] = _ANY, asked: Asked = "twice") -> int:
        """The number of tables under the key."""
        answer = self.under(key)("count", text, read, True, asked)
        return answer if isinstance(answer, int) else 0

    def pair(self, key: str, texts: Sequence[str], read: Reader[Value], needed: bool = False) -> list[Value] | None:
        """[least, most]; the most is needed where there is a least."""
        ends = self.under(key)
        least = ends("least", texts[0], read, needed)
        return None if least is None else [least, ends("most", texts[1], at_least(read, least, "the least"), True)]

    def under(self, key: str) -> "_Part":
        """The same part, for what stands under a key."""
        return _Part(self.ask, self.title, *self.at, key)


def leaflet(ask: Ask) -> Answers:
    """Asks everything about one label; what is asked later depends on what is answered before."""
    label = _Part(ask, "Label")
    words = _words(label)
    withdrawal, limits = _withdrawal(ask), _limits(ask)
    packs = label.how_many("pack", "how many sizes of pack do you buy?", _SOME, "new")
    pack: list[Answers] = []
    for index in range(packs):
        pack.append(_pack(ask, index, packs, {one["ml"] for one in pack}))
    uses = label.how_many("use", "how many of its uses do you file?", _SOME, "new")
    use: list[Answers] = []
    for index in range(uses):
        use.append(_use(ask, index, {one["id"] for one in use}))
    return {**words, "withdrawal": withdrawal, "limits": limits, "pack": pack, "use": use}


def _words(label: _Part) -> Answers:
    return {
        "name": label("name", "its name", line, True, "new"),
        "active": label("active", "the active", line, True, "new"),
        "chemical_group": label("chemical_group", "the chemical group, as the leaflet calls it", line, True, "new"),
        "form": label("form", f"the form ({', '.join(FORMS)})", word(FORMS), True, "new"),
        "edition": label("edition", "the edition or date of the leaflet in your hand", text, asked="once"),
        "countries": label(
            "countries", "authorised in which countries (GB, IE, GB-NIR ...)", entries(country), asked="new"
        ),
        "prescription": label("prescription", "only on prescription (yes or no)?", yes_no, asked="new"),
    }


def _withdrawal(ask: Ask) -> Answers:
    part = _Part(ask, "Withdrawal", "withdrawal")
    return {
        "meat": part("meat", "meat, in days, or not permitted", period),
        "milk": part("milk", "milk, in days, or not permitted", period),
        "export": part("export", "before export, in days, or not permitted", period),
        "wool": part("wool", "before shearing, in days", days()),
    }


def _limits(ask: Ask) -> Answers:
    part = _Part(ask, "Limits", "limits")
    answers: Answers = {
        "repeat_interval": part("repeat_interval", "days between first doses", days()),
        "most_per_season": part("most_per_season", "most courses in a season", whole("times")),
        "handling_days": part("handling_days", "days in which treated sheep should not be handled", days()),
        "opened_days": part("opened_days", "days that an opened pack keeps", days()),
        "not_before_lambing_days": part("not_before_lambing_days", "days before lambing without a dose", days()),
    }
    apart = part.how_many("not_with", "how many chemical groups must be kept apart from it?")
    return {**answers, "not_with": [_not_with(ask, index, apart) for index in range(apart)]}


def _not_with(ask: Ask, index: int, of: int) -> Answers:
    part = _Part(ask, f"Kept apart, {index + 1} of {of}", "limits", "not_with", index)
    return {
        "chemical_group": part("chemical_group", "the chemical group", line, True),
        "days": part("days", "days apart", days(), True),
    }


def _pack(ask: Ask, index: int, of: int, earlier: set[object]) -> Answers:
    """The price, which is not on the leaflet, tells the packs of a filed label apart."""
    first = _Part(ask, f"Pack, {index + 1} of {of}", "pack", index)
    price = first("price", "its price, in the farm's money", number("money"), True, "new")
    part = _Part(ask, f"Pack at {price}", "pack", index)
    ml = other_than(number("ml"), earlier)
    return {"ml": part("ml", "how many ml does it hold?", ml, True), "price": price}


def _use(ask: Ask, index: int, earlier: set[object]) -> Answers:
    first = _Part(ask, f"Use {index + 1}", "use", index)
    use_id = first("id", "a short name of your own for it", other_than(name, earlier), True, "new")
    part = _Part(ask, f"Use {use_id}", "use", index)
    purpose = part("purpose", "does it prevent or treat?", word(("prevent", "treat")), True, "new")
    words: Answers = {
        "targets": part("targets", f"against what ({', '.join(TARGETS)})?", entries(word(TARGETS)), True, "new"),
        "kinds": part("kinds", f"for which sheep (empty: all; {', '.join(KINDS)})?", entries(word(KINDS)), asked="new"),
        "ends_at": part("ends_at", "what ends its protection (shearing, dipping)?",
                        entries(word(("shearing", "dipping"))), asked="new"),
        "method": part("method", "how is it given?", text, asked="new"),
    }  # fmt: skip
    return {
        "id": use_id,
        "purpose": purpose,
        **words,
        **_figures(part, needed=purpose == "prevent"),
        "dose": _doses(ask, part),
        "repeat": _repeats(ask, part),
    }


def _figures(part: _Part, needed: bool) -> Answers:
    protects = ("least days of protection", "most days of protection")
    dry = part.under("dry_hours")
    fleece = ("fleece: least weeks since shearing", "fleece: most weeks since shearing")
    return {
        "protects_days": part.pair("protects_days", protects, days("protects_days"), needed),
        "works_after_days": part("works_after_days", "days until it works", days("days_ahead")),
        "youngest_days": part("youngest_days", "least age, in days", days()),
        "fleece_weeks": part.pair("fleece_weeks", fleece, whole("weeks")),
        "dry_hours": {when: dry(when, f"dry hours {when} the dose", number("hours")) for when in ("before", "after")},
    }


def _doses(ask: Ask, use: _Part) -> list[Answers]:
    """The bands, light sheep first; each begins where the one before ends, or above."""
    bands = use.how_many("dose", "how many bands of weight does its dose have (1: one dose for all)?", _SOME)
    doses: list[Answers] = []
    for index in range(bands):
        part = _Part(ask, f"{use.title}, dose {index + 1} of {bands}", *use.at, "dose", index)
        begin = doses[-1]["upto_kg"] if doses else None
        doses.append(_dose(part, begin, is_first=index == 0, is_last=index == bands - 1))
    return doses


def _dose(part: _Part, begin: object, is_first: bool, is_last: bool) -> Answers:
    above_kg = at_least(number("band_kg"), begin, "where the band before ends")
    above = part("above_kg", f"over how many kg{' (empty: any)' if is_first else ''}?", above_kg, not is_first)
    upto_kg = at_least(number("upto_kg"), above, "where the band begins", over=True)
    upto = part("upto_kg", f"up to how many kg{' (empty: any)' if is_last else ''}?", upto_kg, not is_last)
    stated = part(
        "amount", "ml for one sheep (dip: of concentrate), or as 0.5 per kg, or 2.5 per 100 cm2", amount, True
    )
    key, ml = stated if isinstance(stated, tuple) and len(stated) == 2 else ("ml", None)
    by_size = key != "ml"
    return {
        "above_kg": above,
        "upto_kg": upto,
        "ml": None,
        "ml_per_kg": None,
        "ml_per_100cm2": None,
        str(key): ml,
        "step_ml": part("step_ml", "rounded up to which step, in ml?", number("ml")) if by_size else None,
        "most_ml": part("most_ml", "at most how many ml?", number("ml")) if by_size else None,
    }


def _repeats(ask: Ask, use: _Part) -> list[Answers]:
    repeats = use.how_many("repeat", "how many kinds of repeat dose does it oblige?")
    return [_repeat(_Part(ask, f"{use.title}, repeat {index + 1} of {repeats}", *use.at, "repeat", index))
            for index in range(repeats)]  # fmt: skip


def _repeat(part: _Part) -> Answers:
    return {
        "upto_kg": part("upto_kg", "for sheep up to how many kg (empty: all)?", number("upto_kg")),
        "after_days": part("after_days", "days after the first dose", days("repeat_after_days"), True),
        "ml": part("ml", "ml for one sheep", number("ml"), True),
    }
