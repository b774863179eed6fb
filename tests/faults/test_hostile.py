"""Files that no keeper writes end in a clear fault, without much time or memory, and never in an exception."""

import pytest

from scheduler.farm import read_farm
from scheduler.tables import limit
from tests.farm.lawful import LAWFUL, TODAY, faults, said, texts

HEADER = "date,tmin,tmax,rain\n"


def refused(name: str, content: bytes) -> str:
    """The one fault of the lawful farm with this content of a file."""
    found = said(read_farm({**texts(), name: content}, TODAY))
    assert len(found) == 1, found[:5]
    return found[0]


@pytest.mark.parametrize("name", ["groups.csv", "farm.toml", "labels/pour.toml"])
@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("group,kind,head".encode("utf-16"), "UTF-16"),
        ("Bärbel".encode("latin-1"), "not UTF-8"),
        (b"group\x00,kind", "control character"),
        (b"\x1b[2J", "control character"),
        (b"\xff" * 50, "not UTF-8"),
    ],
)
def test_what_is_no_utf_8_text_is_refused(name: str, content: bytes, words: str) -> None:
    assert words in refused(name, content)


def test_a_very_large_file_is_refused() -> None:
    assert "too large" in refused("weather.csv", b"a" * (limit("file_bytes") + 1))
    assert "too large" in refused("farm.toml", b"#" * (limit("toml_bytes") + 1))


def test_a_very_large_cell_is_refused() -> None:
    assert "field larger than" in refused("weather.csv", HEADER.encode() + b"x" * 7_000_000)


def test_too_many_rows_are_refused() -> None:
    header, row = b"target,from,to,level\n", b"ticks,2027-06-01,2027-06-02,0.5\n"
    assert f"more than {limit('rows')} rows" in refused("risk.csv", header + row * (limit("rows") + 1))
    assert f"more than {limit('rows')} rows" in refused("risk.csv", header + b"\n" * limit("rows") + row)


def test_a_million_empty_rows_after_the_last_are_passed_over() -> None:
    assert faults({"risk.csv": LAWFUL["risk.csv"] + "\n" * 1_000_000}) == []


def test_too_many_columns_are_refused() -> None:
    assert "columns" in refused("risk.csv", b"," * 1_000_000)


def test_a_row_of_a_million_cells_is_refused() -> None:
    assert "without a name" in refused("mobs.csv", b"mob\nHill" + b"," * 1_000_000 + b"x")


def test_a_whole_number_of_five_thousand_digits_is_refused() -> None:
    digits = "1" + "0" * 5000
    assert refused("farm.toml", LAWFUL["farm.toml"].replace("54.3", digits).encode())
    assert refused("sales.csv", LAWFUL["sales.csv"].replace("lamb,60", f"lamb,{digits}").encode())


@pytest.mark.parametrize("number", ["1e999", "1e-999999", "nan", "inf", "-inf", "1e99999999999999999999", "0x7f_ffff"])
def test_numbers_without_measure_are_refused(number: str) -> None:
    assert refused("farm.toml", LAWFUL["farm.toml"].replace("54.3", number).encode())


@pytest.mark.parametrize("nested", ["[" * 3000 + "]" * 3000, "{a=" * 3000 + "1" + "}" * 3000, "[" * 20 + "]" * 20])
def test_deep_nesting_is_refused(nested: str) -> None:
    assert refused("farm.toml", ("x = " + nested).encode())


def test_a_long_dotted_key_is_refused() -> None:
    assert refused("farm.toml", (".".join("a" * 5000) + " = 1").encode())


def test_a_list_of_a_hundred_thousand_entries_is_refused() -> None:
    assert refused("farm.toml", (LAWFUL["farm.toml"] + "[work]\nclosed = [" + "1," * 90_000 + "]").encode())


def test_many_wrong_names_among_many_groups_end_soon() -> None:
    groups = "group,kind,head\n" + "".join(f"{'long name of a group ' * 4}{row},ewe,9\n" for row in range(4000))
    stock = {name: LAWFUL[name].splitlines()[0] for name in LAWFUL if name.endswith(".csv")}
    events = "date,what,groups\n" + "".join(f"2027-05-01,gather,{'long name of group ' * 4}{n}\n" for n in range(4000))
    said_of_it = faults({**stock, "groups.csv": groups, "events.csv": events})
    assert len(said_of_it) == 101


def test_a_name_with_an_escape_cannot_reach_the_terminal() -> None:
    label = LAWFUL["labels/pour.toml"].replace('id = "guard"', 'id = "gu\\u001b[2Jard"')
    found = "\n".join(faults({"labels/pour.toml": label}))
    assert found
    assert "\x1b" not in found


def test_too_many_labels_are_refused() -> None:
    many = {f"labels/l{number}.toml": b"" for number in range(limit("label_files") + 1)}
    assert any("label files" in line for line in said(read_farm({**texts(), **many}, TODAY)))
