"""Label files made of published dose tables."""

from scheduler.labels.model import Label, Use
from scheduler.labels.read import read_label
from scheduler.tables import Gathered
from scheduler.words import Fault

TOP = """
name = "Published table (invented label)"
active = "cypermethrin"
chemical_group = "synthetic pyrethroid"
form = "pour-on"

[withdrawal]
meat = 8

[[pack]]
ml = 1000
price = 10

[[use]]
id = "use"
targets = ["ticks"]
purpose = "prevent"
protects_days = [42, 56]
"""


def read(doses: str) -> tuple[Label | None, list[Fault]]:
    """The label of such [[use.dose]] and [[use.repeat]] tables, and its faults."""
    gathered = Gathered()
    label = read_label("labels/table.toml", (TOP + doses).encode(), gathered)
    return label, list(gathered.faults().items)


def use_of(doses: str) -> Use:
    """The one use of a label without faults."""
    label, faults = read(doses)
    assert faults == []
    assert label is not None
    return label.uses[0]


def band(*, above: str = "", upto: str = "", **keys: str) -> str:
    """One [[use.dose]]; weights left empty are open."""
    lines = {"above_kg": above, "upto_kg": upto, **keys}
    return "\n".join(["[[use.dose]]", *(f"{key} = {value}" for key, value in lines.items() if value), ""])
