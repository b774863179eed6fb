"""sales.csv."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from msgspec.structs import replace

from scheduler.farm.model import Group, Sale
from scheduler.farm.names import Doubts, Names
from scheduler.tables import Columns, Fields, Gathered, Once, day, name, whole, word, yes_no
from scheduler.words import PURPOSES, Fault

SALES = Columns(
    file="sales.csv",
    required=("sale", "group", "head", "date", "purpose"),
    optional=("pick", "fixed", "move_days"),
)

_PICKS: tuple[Literal["heaviest", "lightest", "any"], ...] = ("heaviest", "lightest", "any")


def read_sales(rows: Iterable[Fields], names: Names, doubts: Doubts) -> Iterator[Sale]:
    """The sales without a fault of their own row; `doubts` take in the groups of the others."""
    once = Once()
    for row in rows:
        sale = Sale(
            name=row.need("sale", name),
            group=names.group(row),
            head=row.need("head", whole("head")),
            day=row.need("date", day),
            purpose=row.need("purpose", word(PURPOSES)),
            pick=row.get("pick", word(_PICKS), "any"),
            fixed=row.get("fixed", yes_no, False),
            move_days=row.get("move_days", whole("days_ahead"), 7),
            where=row.at,
        )
        if sale.name is not None and sale.group is not None:
            once.note(row, "sale", (sale.name, sale.group), f'"{sale.name}" of "{sale.group}"')
        group = names.group_of.get(sale.group)
        if group is not None and sale.day is not None:
            _check_day(row, sale, group)
        doubts.note(row)
        if not row.failed:
            yield sale


def _check_day(row: Fields, sale: Sale, group: Group) -> None:
    arrives, born = group.arrives, group.born_first
    for day_of, what in ((arrives, "arrives"), (born, "is born from")):
        if day_of is not None and sale.day < day_of:
            expected = f'"{group.name}" {what} {day_of} ({group.where})'
            row.fault("date", f"found {sale.day}", expected, "write a day that is not before it")
    if group.leaves is not None and sale.day > group.leaves:
        expected = f'"{group.name}" leaves {group.leaves} ({group.where})'
        row.fault("date", f"found {sale.day}", expected, "write that day or an earlier one")


def check_head_sold(sales: Sequence[Sale], names: Names, gathered: Gathered) -> None:
    """Takes in a fault for each group of which all sales together sell more head than it has."""
    of_group: dict[str, list[Sale]] = defaultdict(list)
    for sale in sales:
        of_group[sale.group].append(sale)
    for name_of_group, its_sales in of_group.items():
        group = names.group_of.get(name_of_group)
        sold = sum(sale.head for sale in its_sales)
        if group is not None and sold > group.head:
            gathered.add(_oversold(group, its_sales, sold - group.head))


def _oversold(group: Group, sales: list[Sale], over: int) -> Fault:
    heads = " + ".join(str(sale.head) for sale in sales[:10]) + (" + …" if len(sales) > 10 else "")
    rows = tuple(sale.where.row for sale in sales[1:] if sale.where.row is not None)
    return Fault(
        replace(sales[0].where, column="head", more_rows=rows[:10]),
        found=f'{heads} sold of "{group.name}"',
        expected=f"the group has {group.head} ({group.where})",
        mend=f"lower {'it' if len(sales) == 1 else 'one of them'} by {over}",
    )
