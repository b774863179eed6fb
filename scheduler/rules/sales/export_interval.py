"""export-interval: sheep for export, or whose meat goes abroad, also keep the export interval of the label."""

from scheduler.rules.contract import Rule
from scheduler.rules.sales_bar import sale_check

RULE = Rule(
    slug="export-interval",
    title="Sheep for export, or whose meat goes abroad, also keep the export interval of the label.",
    why="Buying countries test for residues that home law allows; one load can close a market.",
    severity="stop",
    family="sales",
    sources=("label-in-hand", "au-withholding"),
    course=sale_check("export-interval", "the label's export interval"),
)
