"""The group of all commands."""

import click

from scheduler.cli.check import check
from scheduler.cli.dose import dose
from scheduler.cli.label import label
from scheduler.cli.new import new
from scheduler.cli.plan import plan
from scheduler.cli.process import set_up
from scheduler.cli.pull import pull
from scheduler.cli.push import push
from scheduler.cli.risk import risk
from scheduler.cli.rules import rules
from scheduler.cli.schema import schema
from scheduler.cli.serve import serve
from scheduler.cli.terminal import use_plain_signs
from scheduler.cli.why import why


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog="""\b
Examples:
  season new my-farm          a folder to fill in, with example rows
  season check my-farm        every fault, and what wishes and record break
  season plan my-farm         calendar, page, table and JSON in my-farm/plan
  season why my-farm Ewes@2027-06-04   why that dose, and why then
  season label my-farm NAME   the leaflet read twice, figure by figure
  season dose NAME --farm my-farm --group Lambs --date 2027-06-14
  season risk my-farm         when each risk begins and ends, and how sure
  season push my-farm --to https://calendar.example/me/ --user me
  season pull my-farm --from https://calendar.example/me/ --user me
  season serve my-farm --feed    the calendar for phones to subscribe to
  season rules meat-withdrawal

The label in hand, your vet and local law decide; this program only reckons with what you wrote down.
""",
)
@click.version_option(package_name="season-scheduler")
def main() -> None:
    """Plan a sheep farm's fly and tick season: which dose, which sheep, which day, and why."""
    set_up()
    use_plain_signs()


for command in (new, check, plan, why, label, dose, risk, rules, schema, push, pull, serve):
    main.add_command(command)
