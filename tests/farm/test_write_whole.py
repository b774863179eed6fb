"""Files are written whole or not at all."""

from pathlib import Path

from scheduler.cli.disk import write_whole


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, hidden ones too."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_new_files_are_written_in_new_folders(tmp_path: Path) -> None:
    files = {"a.txt": b"1", "labels/b.txt": b"2"}
    assert write_whole(tmp_path / "new" / "farm", files) is None
    assert files_in(tmp_path / "new" / "farm") == files


def test_files_written_over_leave_nothing_beside_them(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    (tmp_path / "note.txt").write_bytes(b"kept")
    assert write_whole(tmp_path, {"a.txt": b"new", "b.txt": b""}) is None
    assert files_in(tmp_path) == {"a.txt": b"new", "b.txt": b"", "note.txt": b"kept"}


def test_where_one_file_cannot_be_written_all_stay_as_they_were(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    (tmp_path / "z.txt").mkdir()
    trouble = write_whole(tmp_path, {"a.txt": b"new", "b.txt": b"new", "z.txt": b"new"})
    assert trouble is not None
    assert trouble.endswith("z.txt is a folder.")
    assert files_in(tmp_path) == {"a.txt": b"old"}


def test_a_file_in_the_way_of_the_folder_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "plan").write_bytes(b"a file")
    trouble = write_whole(tmp_path / "plan", {"a.txt": b"new"})
    assert trouble is not None
    assert trouble.startswith("Nothing was written to ")
    assert files_in(tmp_path) == {"plan": b"a file"}


def test_folders_made_for_nothing_are_removed(tmp_path: Path) -> None:
    (tmp_path / "out" / "z.txt").mkdir(parents=True)
    assert write_whole(tmp_path / "out", {"deep/er/a.txt": b"new", "z.txt": b"new"}) is not None
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["out", "z.txt"]


def test_a_file_of_no_content_is_removed_with_the_others_written(tmp_path: Path) -> None:
    (tmp_path / "old.txt").write_bytes(b"old")
    assert write_whole(tmp_path, {"a.txt": b"new", "old.txt": None, "never.txt": None}) is None
    assert files_in(tmp_path) == {"a.txt": b"new"}


def test_where_one_file_cannot_be_written_none_is_removed(tmp_path: Path) -> None:
    (tmp_path / "old.txt").write_bytes(b"old")
    (tmp_path / "z.txt").mkdir()
    assert write_whole(tmp_path, {"old.txt": None, "z.txt": b"new"}) is not None
    assert files_in(tmp_path) == {"old.txt": b"old"}


def test_where_one_file_cannot_be_removed_none_is_written(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    (tmp_path / "old.txt").mkdir()
    assert write_whole(tmp_path, {"a.txt": b"new", "old.txt": None}) is not None
    assert files_in(tmp_path) == {"a.txt": b"old"}
