"""off-label-withdrawal: after an off-label dose the withdrawal is at least what the vet wrote and what the law asks."""

from scheduler.rules.contract import Rule
from scheduler.rules.sales_bar import sale_check

RULE = Rule(
    slug="off-label-withdrawal",
    title="After an off-label dose the withdrawal is at least what the vet wrote and what the law asks.",
    why="Outside the label nobody has measured the residues, so the law asks for a longer wait.",
    severity="stop",
    family="sales",
    sources=("noah-off-label-guide", "eu-2019-6-art115"),
    course=sale_check("off-label-withdrawal", "the off-label withdrawal"),
)
