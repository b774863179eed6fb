"""organic-withdrawal: on an organic farm the withdrawal is twice the stated period and at least two days."""

from scheduler.rules.contract import Rule
from scheduler.rules.sales_bar import sale_check

RULE = Rule(
    slug="organic-withdrawal",
    title="On an organic farm the withdrawal is twice the stated period and at least two days.",
    why="Organic rules ask for it; stock sold earlier lose their organic status.",
    severity="stop",
    family="sales",
    sources=("eu-2018-848-organic",),
    course=sale_check("organic-withdrawal", "the organic withdrawal"),
)
