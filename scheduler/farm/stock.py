"""stock.csv."""

from collections.abc import Iterable, Iterator

from scheduler.farm.model import StockRow
from scheduler.farm.names import Names
from scheduler.tables import Columns, Fields, day, number, reference, text

STOCK = Columns(file="stock.csv", required=("label", "ml"), optional=("batch", "expires", "opened"))


def read_stock(rows: Iterable[Fields], names: Names) -> Iterator[StockRow]:
    """The stock without a fault."""
    for row in rows:
        stock = StockRow(
            label=row.need("label", reference(names.labels, text)),
            ml=row.need("ml", number("stock_ml")),
            batch=row.get("batch", text, ""),
            expires=row.get("expires", day, None),
            opened=row.get("opened", day, None),
            where=row.at,
        )
        if not row.failed:
            yield stock
