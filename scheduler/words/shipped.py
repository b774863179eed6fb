"""Finds the templates, sample farms and data that ship with the package, in a wheel and in a source tree."""

from importlib.resources import files
from importlib.resources.abc import Traversable


def shipped(folder: str) -> Traversable:
    """The folder `templates` or `sample_data`: inside the installed package, or beside it in a source tree."""
    package = files("scheduler")
    inside = package.joinpath(folder)
    if inside.is_dir():
        return inside
    return package.joinpath("..", folder)


def package_text(package: str, name: str) -> str:
    """The text of a data file that stands in a package of ours, for example `facts.toml` in `scheduler.facts`."""
    return files(package).joinpath(name).read_text(encoding="utf-8")
