"""A label file -> Label, or its faults."""

from scheduler.labels.model import Days, Label, NotWith, Pack, Use
from scheduler.labels.read_use import read_use
from scheduler.tables import (
    Cell,
    Fields,
    Gathered,
    Once,
    country,
    day,
    line,
    number,
    switch,
    text,
    toml_fields,
    whole,
    word,
)
from scheduler.words import FORMS, Fault


def read_label(file: str, content: bytes, gathered: Gathered) -> Label | None:
    """The label of one file, named by the file's stem, or None; its faults are gathered."""
    fields = toml_fields(file, content, gathered)
    return None if fields is None else label_of(label_id(file), fields)


def label_of(name: str, fields: Fields) -> Label | None:
    """The label that is stated under these fields, by its name, or None; its faults are gathered."""
    label = _label(name, fields)
    return None if fields.failed else label


def label_id(file: str) -> str:
    """The name of a label: its file's stem."""
    return file.rpartition("/")[2].removesuffix(".toml")


def _label(name: str, fields: Fields) -> Label:
    withdrawal, limits = fields.table("withdrawal"), fields.table("limits")
    label = Label(
        id=name,
        name=fields.need("name", line),
        active=fields.need("active", line),
        chemical_group=fields.need("chemical_group", line),
        form=fields.need("form", word(FORMS)),
        checked=fields.get("checked", day, None),
        edition=fields.get("edition", text, ""),
        countries=_countries(fields),
        prescription=fields.get("prescription", switch, False),
        meat=withdrawal.get("meat", _period, None),
        milk=withdrawal.get("milk", _period, None),
        export=withdrawal.get("export", _period, None),
        wool=withdrawal.get("wool", whole("days"), None),
        repeat_interval=limits.get("repeat_interval", whole("days"), 0),
        most_per_season=limits.get("most_per_season", whole("times"), None),
        handling_days=limits.get("handling_days", whole("days"), 0),
        opened_days=limits.get("opened_days", whole("days"), None),
        not_before_lambing_days=limits.get("not_before_lambing_days", whole("days"), 0),
        not_with=tuple(_not_with(one) for one in limits.tables("not_with")),
        packs=_packs(fields),
        uses=_uses(fields),
        where=fields.at,
    )
    for part in (withdrawal, limits, fields):
        part.close()
    return label


def _period(cell: Cell) -> Days | Fault:
    """Whole days, or "not-permitted"."""
    if cell.value == "not-permitted":
        return "not-permitted"
    days = whole("days")(cell)
    if isinstance(days, Fault):
        return cell.fault('expected whole days, 0 or more, or "not-permitted"', "write what the leaflet states")
    return days


def _countries(fields: Fields) -> tuple[str, ...] | None:
    return fields.some_entries("countries", country) if fields.has("countries") else None


def _packs(fields: Fields) -> tuple[Pack, ...]:
    once = Once()
    return tuple(_pack(one, once) for one in fields.some_tables("pack"))


def _pack(fields: Fields, once: Once) -> Pack:
    pack = Pack(ml=fields.need("ml", number("ml")), price=fields.need("price", number("money")))
    if not fields.failed:
        once.note(fields, "ml", pack.ml, f"a pack of {pack.ml} ml")
    fields.close()
    return pack


def _uses(fields: Fields) -> tuple[Use, ...]:
    once = Once()
    return tuple(read_use(one, once) for one in fields.some_tables("use"))


def _not_with(fields: Fields) -> NotWith:
    clash = NotWith(
        chemical_group=fields.need("chemical_group", line),
        days=fields.need("days", whole("days")),
    )
    fields.close()
    return clash
