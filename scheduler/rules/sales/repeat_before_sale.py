"""repeat-before-sale: where a repeat dose is due, the sale waits for the repeat and its withdrawal."""

from scheduler.rules.contract import Rule
from scheduler.rules.sales_bar import sale_check

RULE = Rule(
    slug="repeat-before-sale",
    title="Where a repeat dose is due, the sale waits for the repeat and its withdrawal.",
    why="Half a course neither protects nor clears: the sheep leave unprotected, or with the second dose in them.",
    severity="stop",
    family="sales",
    sources=("label-in-hand", "fimea-withdrawal"),
    course=sale_check("repeat-before-sale", "the withdrawal after the repeat dose"),
)
