"""A server that fails: no event is lost, doubled or overwritten, and the keeper hears one clear sentence."""

import json
import re
import shutil
from pathlib import Path

import pytest

from tests.exchange.calendars import Phone
from tests.exchange.keeper import SALE, Keeper, keeper
from tests.exchange.servers import Proxy, free_port, proxied, radicale


def behind(proxy: tuple[Proxy, int], user: str) -> str:
    """The address of a user's home as it is reached by the proxy."""
    return f"http://127.0.0.1:{proxy[1]}/{user}/"


def uids_at(phone: Phone) -> list[str]:
    """The uids that stand in a calendar, sorted."""
    return sorted(re.findall(r"^UID:(.*)$", phone.all(), re.MULTILINE))


def planned(found: Keeper) -> list[str]:
    """The uids of the plan, sorted."""
    return sorted(task["uid"] for task in found.tasks())


@pytest.mark.parametrize("fault", ["drop", "refuse", 500, 503])
def test_a_push_that_is_cut_is_exit_3_and_the_next_one_sends_the_rest(
    fault: object, tmp_path: Path, home: str, user: str, proxy: tuple[Proxy, int]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    proxy[0].fault = lambda method, before: fault if method == "PUT" and before >= 4 else None
    done = found.push()
    assert done.exit_code == 3
    assert "push again: what was sent is noted, and the rest is sent then" in done.stderr
    assert "Traceback" not in done.stderr
    proxy[0].fault = lambda method, before: None
    told = found.pushed()
    assert 0 < len(told["new"]) < len(planned(found))
    assert uids_at(Phone(behind(proxy, user) + "season-test-farm-invented/", user)) == planned(found)
    assert found.pushed()["unchanged"] == len(planned(found))


def test_a_change_that_is_cut_is_sent_by_the_next_push(tmp_path: Path, user: str, proxy: tuple[Proxy, int]) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    found.pushed()
    found.plan(SALE)
    begun = proxy[0].count("PUT")
    proxy[0].fault = lambda method, before: "drop" if method == "PUT" and before >= begun + 2 else None
    assert found.push().exit_code == 3
    proxy[0].fault = lambda method, before: None
    told = found.pushed()
    assert told["left"] == []
    assert uids_at(found.phone) == planned(found)
    assert found.pushed()["unchanged"] == len(planned(found))


def test_a_server_killed_while_events_are_sent_loses_and_doubles_none(tmp_path: Path) -> None:
    port = free_port()
    (tmp_path / "server").mkdir()
    with proxied(port) as (proxy, way):
        found = keeper(tmp_path, f"http://127.0.0.1:{way}/keeper0/", "keeper0")
        with radicale(tmp_path / "server", port) as process:

            def kill(method: str, before: int) -> object:
                if method == "PUT" and before == 5:
                    process.kill()
                    process.wait()
                return None

            proxy.fault = kill
            done = found.push()
        assert done.exit_code == 3, done.stdout
        assert "Traceback" not in done.stderr
        proxy.fault = lambda method, before: None
        with radicale(tmp_path / "server", port):
            assert found.pushed()["left"] == []
            assert uids_at(found.phone) == planned(found)
            assert found.pushed()["unchanged"] == len(planned(found))


def test_a_passing_trouble_is_waited_for_and_nothing_is_doubled(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int], waits: list[float]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    troubles = {2: 500, 3: 503, 4: "drop", 7: "refuse", 9: 502}
    proxy[0].fault = lambda method, before: troubles.get(before) if method == "PUT" else None
    assert len(found.pushed()["new"]) == len(planned(found)) - 1
    assert uids_at(found.phone) == planned(found)
    assert waits[:3] == [1.0, 2.0, 4.0]


def test_a_busy_server_is_waited_for_as_long_as_it_asks_within_bounds(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int], waits: list[float]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    proxy[0].headers["Retry-After"] = "7"
    proxy[0].fault = lambda method, before: 429 if method == "PUT" and before == 0 else None
    found.pushed()
    proxy[0].headers["Retry-After"] = "86400"
    proxy[0].fault = lambda method, before: 429 if method == "PROPFIND" else None
    done = found.push()
    assert (done.exit_code, waits) == (3, [7.0, 30.0, 30.0, 30.0])
    assert "The server is busy" in done.stderr


def test_answers_that_come_too_late_are_tried_again_and_then_given_up(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int], waits: list[float]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    proxy[0].fault = lambda method, before: "late" if before == 0 and method == "PROPFIND" else None
    assert found.push("--timeout", "1").exit_code == 0
    assert waits == [1.0]


def test_a_server_that_gives_no_tags_back_is_looked_at_again_and_nothing_is_sent_twice(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    proxy[0].fault = lambda method, before: "untagged" if method == "PUT" else None
    found.pushed()
    puts = proxy[0].count("PUT")
    assert found.pushed()["unchanged"] == len(planned(found))
    reports = proxy[0].count("REPORT")
    assert found.pushed()["unchanged"] == len(planned(found))
    assert (proxy[0].count("PUT"), proxy[0].count("REPORT")) == (puts, reports)


def test_an_edit_between_look_and_send_is_not_overwritten(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int], server: int
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    found.pushed()
    found.plan(SALE)
    uid = next(task["uid"] for task in found.tasks() if task["kind"] == "season-opens")
    changed = next(task for task in found.tasks() if task["status"] == "cancelled")["uid"]
    phone, edits = Phone(f"http://127.0.0.1:{server}/{user}/season-test-farm-invented/", user), [changed]

    def edit_first(method: str, before: int) -> object:
        if method == "PUT" and edits:
            phone.edit(edits.pop(), (r"^SUMMARY:", "SUMMARY:ask Sam: "))
        return None

    proxy[0].fault = edit_first
    told = found.pushed()
    assert [(one["uid"], one["why"]) for one in told["left"]] == [(changed, "reworded")]
    assert "SUMMARY:ask Sam: " in phone.read(changed)
    assert phone.has(uid)


def test_an_event_that_is_gone_when_it_is_sent_is_looked_at_again(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    found.pushed()
    found.plan(SALE)
    begun = proxy[0].count("PUT")
    proxy[0].fault = lambda method, before: 404 if method == "PUT" and before == begun else None
    assert found.pushed()["left"] == []
    assert uids_at(found.phone) == planned(found)
    assert found.pushed()["unchanged"] == len(planned(found))


def test_an_event_that_the_server_goes_on_refusing_is_told_and_the_others_are_sent(
    tmp_path: Path, user: str, proxy: tuple[Proxy, int]
) -> None:
    found = keeper(tmp_path, behind(proxy, user), user)
    puts = len(planned(found))
    proxy[0].fault = lambda method, before: 409 if method == "PUT" and (before == 3 or before >= puts) else None
    done = found.push()
    assert done.exit_code == 3
    assert f"Sent: {puts - 1} new." in done.stdout
    assert (
        f"went on refusing the rest: others change it, or another calendar there holds it. 1 of {puts}" in done.stderr
    )
    assert proxy[0].count("PUT") == puts + 3


def test_two_pushes_at_once_from_two_machines_send_each_event_once(tmp_path: Path, home: str, user: str) -> None:
    one = keeper(tmp_path / "one", home, user)
    shutil.copytree(tmp_path / "one", tmp_path / "two")
    two = Keeper(tmp_path / "two" / "farm", home, user)
    for changes in ({}, SALE):
        for each in (one, two):
            each.plan(changes)
        running = [each.process("--json") for each in (one, two)]
        told = [json.loads(process.communicate(timeout=60)[0]) for process in running]
        assert [process.returncode for process in running] == [0, 0]
        assert not set(told[0]["new"]) & set(told[1]["new"])
        assert [each["left"] for each in told] == [[], []]
        assert uids_at(one.phone) == planned(one) == planned(two)
        assert [each.pushed()["unchanged"] for each in (one, two)] == [len(planned(one))] * 2
