"""All faults are said at once, sorted, without drowning the reader and without faults that only follow from others."""

from scheduler.farm import read_farm
from scheduler.words import Faults
from tests.farm.lawful import LAWFUL, TODAY, faults, texts


def test_a_fault_in_one_file_hides_none_in_another() -> None:
    said = faults(
        {
            "groups.csv": LAWFUL["groups.csv"].replace("75,55", "x,55"),
            "sales.csv": LAWFUL["sales.csv"].replace("Mart,Top lamb", "Mart,Topl amb"),
            "wishes.csv": "date,group,label,use,cohort\n2027-06-20,Rams,pour,guard,Rams/Mart\n",
        }
    )
    assert [line.split(":")[0] for line in said] == ["groups.csv, row 2, heaviest_kg", "sales.csv, row 3, group"]


def test_a_wrong_cohort_is_said_beside_faults_of_other_groups() -> None:
    said = faults(
        {
            "groups.csv": LAWFUL["groups.csv"].replace("75,55", "x,55"),
            "wishes.csv": "date,group,label,use,cohort\n2027-06-20,Rams,pour,guard,Rams/Mart\n",
        }
    )
    assert [line.split(":")[0] for line in said] == ["groups.csv, row 2, heaviest_kg", "wishes.csv, row 2, cohort"]


def test_a_group_whose_row_has_a_fault_is_still_known() -> None:
    said = faults({"groups.csv": LAWFUL["groups.csv"].replace("Top lamb,lamb,90", "Top lamb,lamb,ninety")})
    assert [line.split(":")[0] for line in said] == ["groups.csv, row 3, head"]


def test_where_groups_csv_cannot_be_read_no_group_is_called_unknown() -> None:
    said = faults({"groups.csv": "group;kind\x00\n"})
    assert len(said) == 1
    assert said[0].startswith("groups.csv: ")


def test_repeats_of_one_column_are_counted_after_the_first_hundred() -> None:
    rows = "".join(f"ticks,2027-06-01,2027-06-02,{row}x\n" for row in range(250))
    said = faults({"risk.csv": "target,from,to,level\n" + rows, "mobs.csv": "mob,people\nHill,0\n"})
    assert len(said) == 102
    assert said[0].startswith("mobs.csv, row 2, people")
    assert said[-1].startswith("risk.csv, row 102, level: 150 more in this column from here on")


def test_faults_are_sorted_by_file_row_and_column() -> None:
    read = read_farm(texts({"risk.csv": "target,from,to,level\nx,y,z,w\na,b,c,d\n", "events.csv": ""}), TODAY)
    assert isinstance(read, Faults)
    places = [(fault.where.file, fault.where.row or 0, fault.where.column or "") for fault in read.items]
    assert places == sorted(places)
    assert len(places) == 9


def test_a_fault_tells_its_place_to_other_programs() -> None:
    read = read_farm(texts({"risk.csv": LAWFUL["risk.csv"].replace("0.6", "6")}), TODAY)
    assert isinstance(read, Faults)
    assert read.items[0].as_json() == {
        "where": {"file": "risk.csv", "row": 2, "column": "level"},
        "found": 'found "6"',
        "expected": "expected a level from 0 to 1",
        "mend": "if 6 per cent is meant, write 0.06",
    }


def test_a_fault_in_toml_tells_its_key_counted_from_one() -> None:
    settings = LAWFUL["farm.toml"] + '[work]\nclosed = ["2027-06-12", "never"]\n'
    read = read_farm(texts({"farm.toml": settings}), TODAY)
    assert isinstance(read, Faults)
    assert read.items[0].where.as_json() == {"file": "farm.toml", "key": "work.closed[2]"}
