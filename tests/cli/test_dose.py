"""season dose: the table of each use, a group parted where its weights are uneven, and what cannot be answered."""

import json
from pathlib import Path

import jsonschema
import pytest

from tests.cli.folder import FILES, TODAY, season, write

LABEL = (
    FILES["labels/pour.toml"].partition("[[use.dose]]")[0]
    + """\
[[use.dose]]
upto_kg = 10
ml = 5
[[use.dose]]
above_kg = 10
ml_per_kg = 0.5
step_ml = 5
most_ml = 40
[[use.repeat]]
upto_kg = 10
after_days = 21
ml = 10
[[use]]
id = "struck"
targets = ["blowfly-strike"]
purpose = "treat"
[[use.dose]]
ml_per_100cm2 = 2.5
"""
)
GROUPS = """\
group,kind,head,heaviest_kg,lightest_kg,weighed_on,born_first,growth_kg_per_day
Ewes,ewe,100,45,40,2027-04-20,,
Hoggs,hogg,60,40,20,2027-05-01,,
Rams,ram,4,90,,2027-04-20,,
Lambs,lamb,80,,,,2027-06-10,0.2
"""
CHANGES = {"labels/pour.toml": LABEL, "groups.csv": GROUPS}


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return write(tmp_path / "farm", CHANGES)


def keeps_to_the_schema(value: object) -> bool:
    """Every answer must; it raises where one does not."""
    jsonschema.validate(value, json.loads(season("schema", "dose").stdout))
    return True


def told(farm: Path, *words: str) -> dict[str, object]:
    """The group's part of the answer as JSON, of the use "guard"."""
    done = season("dose", "pour", "--farm", farm, "--today", TODAY, "--use", "guard", "--json", *words)
    assert done.exit_code == 0, done.stderr
    value = json.loads(done.stdout)
    assert keeps_to_the_schema(value)
    group = value["uses"][0]["group"]
    assert isinstance(group, dict)
    return group


def test_a_label_file_alone_gives_every_step_and_the_head_of_a_pack(farm: Path) -> None:
    """By hand: 2,500 ml give 500 doses of 5 ml, and 62 of 40 ml with 20 ml left."""
    done = season("dose", farm / "labels" / "pour.toml", "--today", TODAY, "--json")
    value = json.loads(done.stdout)
    assert (done.exit_code, value["schema"], value["draft"]) == (0, "season-dose/1", False)
    assert keeps_to_the_schema(value)
    guard, struck = value["uses"]
    rows = [(row["above_kg"], row["upto_kg"], row["ml"], row["packs"][0]["head"]) for row in guard["doses"]]
    assert rows[0] == (None, 10, 5, 500)
    assert rows[1] == (10, 20, 10, 250)
    assert rows[-1] == (70, None, 40, 62)
    assert guard["repeats"] == [{"upto_kg": 10, "after_days": 21, "ml": 10}]
    assert [(row["area_cm2"], row["ml"]) for row in struck["doses"]][:2] == [(50, 1.25), (100, 2.5)]


def test_an_uneven_group_is_parted_and_each_lot_dosed_by_its_heaviest(farm: Path) -> None:
    """By hand: 20 to 40 kg part at 30; 30 x 15 and 30 x 20 ml are 1,050, with 5 in 100 for loading 1,102.5."""
    group = told(farm, "--group", "Hoggs")
    assert group["split_kg"] == [30]
    assert group["lots"] == [
        {"above_kg": 20, "upto_kg": 30, "head": 30, "dose_ml": 15, "task_ml": 450},
        {"above_kg": 30, "upto_kg": 40, "head": 30, "dose_ml": 20, "task_ml": 600},
    ]
    assert (group["dose_ml"], group["task_ml"], group["load_ml"]) == (20, 1200, 1103)


def test_a_mean_weight_moves_the_head_between_the_lots(tmp_path: Path) -> None:
    """By hand: with a mean of 25 kg, 75 in 100 weigh up to 25, and a third of the rest up to 30: 50 of 60 head."""
    weighed = "date,group,heaviest_kg,mean_kg,lightest_kg\n2027-05-01,Hoggs,40,25,20\n"
    farm = write(tmp_path / "farm", {**CHANGES, "weights.csv": weighed})
    group = told(farm, "--group", "Hoggs")
    assert group["mean_kg"] == 25
    assert [lot["head"] for lot in group["lots"]] == [50, 10]  # type: ignore[attr-defined]


def test_an_even_group_stays_together(farm: Path) -> None:
    group = told(farm, "--group", "Ewes")
    assert (group["split_kg"], group["dose_ml"], group["load_ml"]) == ([], 25, 2625)
    assert "no need to part them" in season("dose", "pour", "--farm", farm, "--group", "Ewes", "--today", TODAY).stdout


def test_lambs_are_reckoned_ahead_and_their_repeat_named(farm: Path) -> None:
    """By hand, on the 20th day: 8 + 20 x 0.2 x 1.25 = 13 kg and 2.5 + 20 x 0.2 x 0.75 = 5.5 kg; repeat on 21 July."""
    group = told(farm, "--group", "Lambs", "--date", "2027-06-30")
    assert (group["heaviest_kg"], group["lightest_kg"], group["repeat_on"]) == (13, 5.5, "2027-07-21")
    assert group["split_kg"] == [10]


def test_without_a_lightest_it_is_not_said_whether_to_part_them(farm: Path) -> None:
    group = told(farm, "--group", "Rams")
    assert (group["lots"], group["dose_ml"], group["load_ml"]) == ([], 40, 168)
    text = season("dose", "pour", "--farm", farm, "--group", "Rams", "--today", TODAY).stdout
    assert "cannot be said without both weights" in " ".join(text.split())


def test_what_speaks_against_the_dose_is_said(tmp_path: Path) -> None:
    label = LABEL.replace('purpose = "prevent"', 'purpose = "prevent"\nyoungest_days = 30\nkinds = ["ewe"]')
    farm = write(tmp_path / "farm", {**CHANGES, "labels/pour.toml": label})
    notes = told(farm, "--group", "Lambs", "--date", "2027-06-30")["notes"]
    assert notes == [
        "The label does not permit this use on a lamb.",
        "The label asks for 30 days of age; the youngest are 20 days old then.",
    ]


def test_the_text_says_draft_until_the_label_is_confirmed_and_always_who_decides(tmp_path: Path) -> None:
    draft = LABEL.replace("checked = 2027-02-14\n", "")
    for label, expected in ((LABEL, "Compared with the leaflet on 14 Feb 2027."), (draft, "DRAFT: not compared")):
        path = write(tmp_path, {"labels/pour.toml": label}) / "labels" / "pour.toml"
        text = season("dose", path, "--today", TODAY).stdout
        assert expected in text
        assert "Your vet and the law of your country decide" in text
        assert "dose for the heaviest of the lot" in " ".join(text.split())
        assert max(map(len, text.splitlines())) <= 80


def test_a_label_compared_long_ago_is_due_again_and_a_dip_counts_its_concentrate(tmp_path: Path) -> None:
    """400 days from 14 February 2027 are up on 20 March 2028."""
    path = write(tmp_path, {"labels/pour.toml": LABEL.replace('"pour-on"', '"dip"')}) / "labels" / "pour.toml"
    assert "compare it again" not in season("dose", path, "--today", "2028-03-20").stdout
    text = season("dose", path, "--today", "2028-03-21").stdout
    assert "That is long ago: compare it again." in text
    assert "ml are of the concentrate" in text


@pytest.mark.parametrize(("words", "expected"), [
    (("pur", "--farm", "FARM"), 'LABEL: found "pur"; no such label; did you mean "pour"?'),
    (("pour", "--farm", "FARM", "--use", "gard"), '--use: found "gard"; no such use of this label; did you mean'),
    (("pour", "--farm", "FARM", "--group", "Hogs"), '--group: found "Hogs"; no such group; did you mean "Hoggs"?'),
    (("pour", "--farm", "FARM", "--group", "Lambs"), 'found none of "Lambs" on the farm on 1 May 2027'),
    (("nothing.toml",), "nothing.toml: found no such file; expected a label file"),
    (("pour", "--group", "Ewes"), "name its folder with --farm"),
    (("FARM/groups.csv",), "found no readable TOML"),
])  # fmt: skip
def test_what_is_not_there_is_wrong_input(words: tuple[str, ...], expected: str, farm: Path) -> None:
    done = season("dose", *(word.replace("FARM", str(farm)) for word in words), "--today", TODAY)
    assert (done.exit_code, done.stdout) == (2, "")
    assert expected in done.stderr


def test_faults_come_as_json_too(farm: Path) -> None:
    done = season("dose", "pur", "--farm", farm, "--json")
    assert (done.exit_code, json.loads(done.stdout)["faults"][0]["found"]) == (2, 'found "pur"')
