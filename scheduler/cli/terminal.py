"""The terminal: how wide it is, whether it shows colours, and which signs it can write."""

import codecs
import io
import os
import re
import shutil
import sys
import unicodedata

import click

WIDEST, NARROWEST = 80, 40
_TONES = {"stop": "red", "warn": "yellow", "DRAFT": "red"}
_PAINTED = re.compile(r"(?<=\()(?:stop|warn)(?=\))|^(?:stop|warn)\b|\bDRAFT\b", re.MULTILINE)
_IN_PLAIN = dict(zip("–—−×·•‘’“”", "---x--''\"\"", strict=True))


def width() -> int:
    """Columns to write in: those of the terminal, at most 80 and at least 40; 80 where there is no terminal."""
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size().columns))


def tell(text: str) -> None:
    """Write text for people, which ends with its own line feed; on a terminal a few words stand in colour too."""
    click.echo(_painted(text) if _has_colour() else text, file=sys.stdout, nl=False)


def complain(text: str) -> None:
    """Write what is wrong to stderr: one line for a program or a file, broken to the width for a terminal."""
    from scheduler.outputs import Paragraph

    lines = Paragraph(text).lines(width()) if sys.stderr.isatty() else [text]
    click.echo("\n".join(lines), file=sys.stderr)


def say(text: str) -> None:
    """Write one sentence or more, broken to the width."""
    from scheduler.outputs import Paragraph, lines_text

    tell(lines_text([Paragraph(text)], width()))


def ask(question: str) -> str:
    """Put a question and give the next line, typed or come by a pipe; EOFError where there is none."""
    say(question)
    if sys.stdin.isatty():
        return input("> ")
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line


def tell_json(text: str) -> None:
    """Write JSON for programs, in UTF-8 whatever the terminal's own signs (RFC 8259, section 8.1)."""
    click.echo(text.encode(), nl=False)


def use_plain_signs() -> None:
    """Where a stream cannot write a sign, let it write the nearest plain one instead of failing.

    Only for what is written by `tell` and `complain`: click itself takes plain ASCII for a mistake, and writes UTF-8.
    """
    codecs.register_error("season-plain", _in_plain)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="season-plain")
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")


def _has_colour() -> bool:
    """Colours only on a terminal that has them, and never where NO_COLOR holds anything (no-color.org)."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _painted(text: str) -> str:
    return _PAINTED.sub(lambda found: click.style(found[0], fg=_TONES[found[0]], bold=True), text)


def _in_plain(error: UnicodeError) -> tuple[str, int]:
    """The signs that cannot be written, in plain ones: letters without their marks, else a question mark."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_plain, error.object[error.start : error.end])), error.end


def _plain(sign: str) -> str:
    letters = unicodedata.normalize("NFKD", sign).encode("ascii", "ignore").decode()
    return _IN_PLAIN.get(sign) or letters or "?"
