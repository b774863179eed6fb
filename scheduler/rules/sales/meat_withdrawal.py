"""meat-withdrawal: sheep are sold for meat only after the meat withdrawal of the label."""

from scheduler.rules.contract import Rule
from scheduler.rules.sales_bar import sale_check

RULE = Rule(
    slug="meat-withdrawal",
    title="Sheep go to slaughter or export only after the meat withdrawal of the label, and the keeper's margin.",
    why="Meat sold inside withdrawal carries residues; the carcass is condemned and the keeper answers for it.",
    severity="stop",
    family="sales",
    sources=("label-in-hand", "fimea-withdrawal", "eu-1182-71-art3"),
    course=sale_check("meat-withdrawal", "the label's meat withdrawal"),
)
