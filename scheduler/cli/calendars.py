"""What --calendar and --only add to season plan, and files of an earlier run."""

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, cast

import click
from click.shell_completion import CompletionItem

if TYPE_CHECKING:
    from scheduler.plan import TaskKind

Command = TypeVar("Command", bound=Callable[..., None])


class Kinds(click.ParamType["tuple[TaskKind, ...]"]):
    """Kinds of task parted by commas: dose,sale."""

    name = "kinds"

    def convert(
        self, value: object, param: click.Parameter | None, context: click.Context | None
    ) -> "tuple[TaskKind, ...]":
        """The kinds, each once; a usage error that names every word that is none, with the nearest kind."""
        from scheduler.outputs import TASK_KINDS
        from scheduler.tables import nearest

        if isinstance(value, tuple):
            return value
        words = [word.strip() for word in str(value).split(",")]
        wrong = [word for word in dict.fromkeys(words) if word not in TASK_KINDS]
        if wrong:
            near = [found for word in wrong if (found := nearest(word, TASK_KINDS))]
            mend = f"; did you mean {_quoted(near)}?" if near else "."
            self.fail(f"found {_quoted(wrong)}; expected kinds of task: {', '.join(TASK_KINDS)}{mend}", param, context)
        return tuple(cast("TaskKind", word) for word in dict.fromkeys(words))

    def shell_complete(self, context: click.Context, param: click.Parameter, begun: str) -> list[CompletionItem]:
        """Completion on Tab: the kinds, after those that stand already."""
        from scheduler.outputs import TASK_KINDS

        before, comma, last = begun.rpartition(",")
        return [CompletionItem(before + comma + kind) for kind in TASK_KINDS if kind.startswith(last)]


def only_option(explained: str) -> Callable[[Command], Command]:
    """The option --only of a command, with its own help."""
    return click.option("--only", type=Kinds(), default=(), metavar="KIND,...", help=explained)


also_option = click.option(
    "--calendar-also",
    type=click.Choice(["last-safe-days"]),
    multiple=True,
    help="Events besides the tasks: the last safe day of each label before each sale.",
)


def _quoted(words: Iterable[str]) -> str:
    return ", ".join(f'"{word}"' for word in words)


BESIDES = ("frontier.json", "years.json")
"""Files that a plan writes only where they are asked for."""


def stale_files(folder: Path, written: Iterable[str]) -> tuple[str, ...]:
    """Names of what an earlier run wrote into the folder on request, and this one does not.

    Left as they are they would keep old days. Files of these names that are not ours are left alone.
    """
    from scheduler.cli.disk import read_start
    from scheduler.outputs import is_ours

    calendars = {path.name for path in folder.glob("calendar-*.ics")} - set(written)
    others = [name for name in BESIDES if name not in written and b'"schema": "season-' in read_start(folder / name)]
    return (*(name for name in sorted(calendars) if is_ours(read_start(folder / name))), *others)
