"""The farm folder and the outputs on disk: read within limits, written whole or not at all."""

import errno
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from scheduler.farm import LABEL_FOLDER, WHOLE_FOLDER, most_bytes
from scheduler.tables import limit, too_large
from scheduler.words import Fault, Where

_TABLES = (".csv", ".tsv", ".toml", ".xlsx", ".xlsm", ".xls", ".ods", ".sqlite")


def read_folder(folder: Path) -> dict[str, bytes | Fault]:
    """Every file of a farm folder that looks like a table, by its path relative to the folder: its bytes, or a fault.

    Notes, pictures, calendars, hidden files and other folders are left alone. Nothing is read beyond the limits.
    """
    try:
        names = sorted(_offered(folder))
    except OSError as error:
        return {WHOLE_FOLDER: _unreadable(str(folder), error, "a farm folder")}
    most = limit("folder_files")
    if len(names) > most:
        expected = f"expected at most {most} files that look like tables"
        found, mend = f"found {len(names)}", "look whether it is the right folder"
        return {WHOLE_FOLDER: Fault(Where(str(folder)), found, expected, mend)}
    return {_printable(name): _content(folder / name, name, most_bytes(name)) for name in names}


def read_bytes(path: Path) -> bytes | Fault | None:
    """The bytes of one file; None where there is no such file; the fault of one that cannot be read."""
    try:
        path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        return _unreadable(str(path), error, "a file that may be read")
    return _content(path, str(path), limit("file_bytes"))


def read_start(path: Path, most: int = 500) -> bytes:
    """The first bytes of a file; none where it cannot be read."""
    try:
        with path.open("rb") as file:
            return file.read(most)
    except OSError:
        return b""


def _offered(folder: Path) -> Iterator[str]:
    for inside in folder.iterdir():
        if _looks_like_a_table(inside.name):
            yield inside.name
    labels = folder / LABEL_FOLDER
    if labels.is_dir():
        for inside in labels.iterdir():
            if _looks_like_a_table(inside.name):
                yield LABEL_FOLDER + inside.name


def _looks_like_a_table(name: str) -> bool:
    return name.lower().endswith(_TABLES) and not name.startswith((".", "~$"))


def _content(path: Path, name: str, most: int) -> bytes | Fault:
    """The bytes of a file, `name` to the keeper; of one that is not known (most 0) none are read."""
    try:
        if not path.is_file():
            found = "found a folder of this name" if path.is_dir() else "found no file that can be read"
            return Fault(Where(_printable(name)), found, "expected a file", "rename or remove it")
        with path.open("rb") as file:
            content = file.read(most + 1) if most else b""
    except OSError as error:
        return _unreadable(name, error, "a file that may be read")
    return too_large(_printable(name), most) if len(content) > most else content


def _unreadable(place: str, error: OSError, expected: str) -> Fault:
    reason = (error.strerror or "cannot be read").lower()
    return Fault(
        Where(_printable(place)), f"found nothing to read ({reason})", f"expected {expected}", "check its name"
    )


def _printable(name: str) -> str:
    """A name as it can be printed, whatever bytes the disk holds."""
    return name.encode("utf-8", "replace").decode("utf-8")


def write_whole(folder: Path, files: Mapping[str, bytes | None]) -> str | None:
    """Write all files, by their path relative to the folder, or none: what stood there before stays on failure.

    A file of no content (None) is removed. None, or one sentence for the keeper where the disk refuses (exit code 3).
    """
    try:
        _write_all({folder / name: content for name, content in files.items()})
    except OSError as error:
        reason = (error.strerror or "the disk refuses").lower()
        return f"Nothing was written to {_printable(str(folder))}: {reason}."
    return None


def _write_all(contents: Mapping[Path, bytes | None]) -> None:
    folders = {parent for path in contents for parent in path.parents if not parent.exists()}
    parts = {path: _beside(path, "new") for path in contents}
    kept: dict[Path, Path | None] = {}
    try:
        for path, content in contents.items():
            if content is not None:
                _write_part(path, parts[path], content)
        for path, content in contents.items():
            kept[path] = _copied(path)
            if content is None:
                path.unlink(missing_ok=True)
            else:
                parts[path].replace(path)
    except BaseException:
        _restore(kept)
        _remove(parts.values())
        for made in sorted((one for one in folders if one.exists()), reverse=True):
            made.rmdir()
        raise
    finally:
        _remove([*parts.values(), *(copy for copy in kept.values() if copy is not None)])


def _write_part(path: Path, part: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, f"{path.name} is a folder")
    with part.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _beside(path: Path, ending: str) -> Path:
    return path.with_name(f".{path.name}.{os.getpid()}.{ending}")


def _copied(path: Path) -> Path | None:
    """A copy of what stands at the path, or None where nothing does."""
    if not path.exists():
        return None
    copy = _beside(path, "old")
    shutil.copy2(path, copy)
    return copy


def _restore(kept: Mapping[Path, Path | None]) -> None:
    for path, copy in kept.items():
        if copy is not None:
            copy.replace(path)
        else:
            path.unlink(missing_ok=True)


def _remove(paths: Iterable[Path]) -> None:
    for path in paths:
        path.unlink(missing_ok=True)
