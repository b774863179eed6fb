"""season check, rules, schema and new; and the help of every command."""

import json
from pathlib import Path

import click
import jsonschema
import pytest

from scheduler.cli import main
from scheduler.rules import RULES
from tests.cli.folder import FORBIDDEN_WISH, TODAY, inside, season, write

LAWFUL_WISH = {"wishes.csv": "date,group,label,use\n2027-05-25,Ewes,pour,guard\n"}


@pytest.mark.parametrize(("changes", "code"), [({}, 0), (LAWFUL_WISH, 0), (FORBIDDEN_WISH, 1)])
def test_check_ends_with_1_only_for_a_stop_conflict(changes: dict[str, str], code: int, tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", changes)
    before = inside(farm)
    done = season("check", farm, "--today", TODAY)
    assert (done.exit_code, done.stderr) == (code, "")
    assert inside(farm) == before


def test_check_tells_what_a_wish_breaks_as_json(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", FORBIDDEN_WISH)
    told = json.loads(season("check", farm, "--today", TODAY, "--json").stdout)
    assert set(told) == {"faults", "conflicts"}
    assert told["faults"] == []
    stops = [one for one in told["conflicts"] if one["severity"] == "stop"]
    assert [(one["rule"], one["cohort"], one["date"]) for one in stops] == [
        ("meat-withdrawal", "Ewes/Mart", "2027-07-29")
    ]


def test_the_conflicts_of_check_keep_to_the_schema_of_the_plan(tmp_path: Path) -> None:
    told = json.loads(season("check", write(tmp_path, FORBIDDEN_WISH), "--today", TODAY, "--json").stdout)
    schema = json.loads(season("schema").stdout)
    listed = {"$defs": schema["$defs"], **schema["properties"]["conflicts"]}
    jsonschema.validate(told["conflicts"], listed)
    assert told["conflicts"]


def test_check_of_a_broken_folder_tells_all_faults(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", {"groups.csv": "group,kind,head\nEwes,ewe,0\nRams,boar,4\n"})
    done = season("check", farm, "--today", TODAY, "--json")
    assert done.exit_code == 2
    assert len(json.loads(done.stdout)["faults"]) == len(done.stderr.splitlines()) == 2


def test_check_leaves_out_wishes_of_the_past_and_says_so(tmp_path: Path) -> None:
    done = season("check", write(tmp_path / "farm", FORBIDDEN_WISH), "--today", "2027-07-30")
    assert done.exit_code == 0
    assert "wishes.csv" in done.stdout


def test_rules_lists_every_rule() -> None:
    done = season("rules")
    assert done.exit_code == 0
    firsts = [line.split() for line in done.stdout.splitlines() if not line.startswith(" ")]
    assert [(first[0], first[1]) for first in firsts] == [(rule.severity, rule.slug) for rule in RULES]


def test_rules_as_json() -> None:
    told = json.loads(season("rules", "--json").stdout)
    assert [one["slug"] for one in told] == [rule.slug for rule in RULES]
    assert all(set(one) == {"slug", "title", "why", "severity", "family", "sources"} for one in told)
    assert all(all(one.values()) for one in told)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_a_rule_explains_itself_with_title_why_and_sources(rule: object) -> None:
    slug = getattr(rule, "slug", "")
    done = season("rules", slug)
    assert done.exit_code == 0
    assert done.stdout.startswith(slug)
    assert getattr(rule, "title", "") in " ".join(done.stdout.split())
    assert "Sources:" in done.stdout


def test_a_rule_that_is_not_there_is_wrong_input_with_the_nearest_name() -> None:
    done = season("rules", "meat-withdrawel")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "meat-withdrawal" in done.stderr


def test_nonsense_for_a_rule_points_at_the_list() -> None:
    done = season("rules", "zzzzz")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "season rules" in done.stderr


@pytest.mark.parametrize(
    "words", [("schema",), ("schema", "--json"), ("schema", "frontier"), ("schema", "dose"), ("schema", "why")]
)
def test_the_schema_is_a_schema(words: tuple[str, ...]) -> None:
    schema = json.loads(season(*words).stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"schema": "season-plan/1"}, schema)


def test_a_new_farm_can_be_planned_as_it_stands(tmp_path: Path) -> None:
    farm = tmp_path / "farm"
    assert season("new", farm, "--today", "2026-11-01").exit_code == 0
    assert season("check", farm, "--today", "2027-03-01").exit_code == 0
    assert season("plan", farm, "--today", "2027-03-01").exit_code in {0, 1}


def test_a_new_farm_is_written_over_nothing(tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text("mine", encoding="utf-8")
    done = season("new", tmp_path)
    assert done.exit_code == 2
    assert inside(tmp_path) == ["note.txt"]


def test_a_copy_of_no_sample_farm_is_wrong_usage(tmp_path: Path) -> None:
    done = season("new", tmp_path / "farm", "--like", "felside")
    assert done.exit_code == 2
    assert "fellside" in done.stderr
    assert not (tmp_path / "farm").exists()


@pytest.mark.parametrize("flag", ["-h", "--help"])
@pytest.mark.parametrize("command", sorted(main.commands if isinstance(main, click.Group) else ()))
def test_help_of_each_command_shows_how_it_is_called(command: str, flag: str) -> None:
    done = season(command, flag)
    assert done.exit_code == 0
    assert done.stdout.startswith(f"Usage: season {command}")
    assert f"season {command}" in done.stdout.partition("Example")[2]
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_help_of_all_names_every_command_and_who_decides() -> None:
    told = season("--help").stdout
    assert isinstance(main, click.Group)
    assert all(f"  {name} " in told for name in main.commands)
    assert "your vet and local law decide" in told


@pytest.mark.parametrize("words", [("plam", "farm"), ("plan",), ("check",)])
def test_a_wrong_command_is_exit_2(words: tuple[str, ...]) -> None:
    done = season(*words)
    assert (done.exit_code, done.stdout) == (2, "")
