"""The known name that a wrong name was probably meant to be."""

from collections.abc import Iterable
from difflib import get_close_matches
from itertools import islice

from scheduler.tables.limits import limit


def nearest(name: str, names: Iterable[str]) -> str | None:
    """The known name nearest to `name`, whatever its case, or None where none is near."""
    known = list(islice(names, limit("names_compared")))
    folded = {one.casefold(): one for one in known}
    close = get_close_matches(name.casefold()[: limit("name_letters")], folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def did_you_mean(name: str, names: Iterable[str], otherwise: str) -> str:
    """The way to mend a wrong name: the nearest known name, or else `otherwise`."""
    near = nearest(name, names)
    return f'did you mean "{near}"?' if near is not None else otherwise
