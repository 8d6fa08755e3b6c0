from pathlib import Path

from benchvoice.testing.bench import Bench
from tests.app.conftest import Command

CONVERSATIONS = Path(__file__).parents[2] / "conversations"


def test_builds_go_to_the_data_folder_and_are_listed(benchvoice: Command) -> None:
    assert benchvoice("builds", "--json").answer == []
    benchvoice("build", "reduction-gear", "--typed", "--machine", "hull 7", stdin="ann\n")
    (listed,) = benchvoice("builds", "--json").answer
    assert "/hull-7-" in listed["build"].replace("\\", "/")
    assert listed["standing"].startswith("open, last used ")
    assert benchvoice("verify", listed["build"]).status == 0


def test_what_is_left_and_owed_is_listed(benchvoice: Command, tmp_path: Path) -> None:
    home = tmp_path / "shop"
    follow_up = Bench(CONVERSATIONS / "follow-up.yaml", home / "pump")
    follow_up.say("ann", "five newton metres", "all two done", "left for later because no dial", "done", "done")
    follow_up.close()
    rotor = Bench(CONVERSATIONS / "sub-rotor.yaml", home / "rotor", machine="hull 7")
    rotor.work_to(None)
    rotor.close()
    (home / "broken").mkdir()
    log = (home / "rotor" / "log.jsonl").read_bytes()
    (home / "broken" / "log.jsonl").write_bytes(log.replace(b"H417", b"H418", 1))
    (home / "empty").mkdir()
    (home / "empty" / "log.jsonl").write_bytes(b"")
    (home / "cut").mkdir()
    (home / "cut" / "log.jsonl").write_bytes(log[:100])
    (home / "nonsense").mkdir()
    (home / "nonsense" / "log.jsonl").write_bytes(b"\xff\xfe\n")
    broken, cut, empty, nonsense, pump, rotor_listed = benchvoice("builds", home, "--json").answer
    assert (broken["state"], "was changed after it was written" in broken["fault"]) == ("damaged", True)
    assert (empty["state"], nonsense["state"]) == ("never begun", "damaged")
    assert (pump["name"], pump["procedure"], pump["state"]) == ("pump", "Pump with follow-ups", "open")
    assert empty["standing"] == "never begun: its log is empty"
    assert cut["standing"].startswith("never begun: its log holds the beginning of its first line, 100 bytes (2026-")
    assert (home / "cut" / "log.jsonl").read_bytes() == log[:100]
    assert pump["begun"] == "2026-03-02 08:00 UTC"
    assert pump["left_for_later"] == ["gap, left for later"]
    owed = ["cover screws again, after an hour of running", "look for leaks, after a day"]
    assert pump["owed"] == [*owed, "sealant, no oil before: full by the clock, and not vouched for"]
    assert (rotor_listed["machine"], rotor_listed["state"]) == ("hull 7", "closed")
    assert rotor_listed["owed"] == ["balance, after an hour of running"]
    shown = benchvoice("builds", home)
    assert shown.status == 0
    assert "    owed: balance, after an hour of running\n" in shown.out
    assert f"{home / 'broken'}: damaged: " in shown.out
    (one,) = benchvoice("builds", home / "rotor", "--json").answer
    assert one["build"] == str(home / "rotor")


def test_a_folder_that_is_not_there(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("builds", tmp_path / "nowhere")
    assert (done.status, done.out) == (1, "")
    assert done.err == f"There is no folder {tmp_path / 'nowhere'}: name a build, or a folder of builds.\n"


def test_a_follow_up_on_the_disk_leaves_the_first_closing(benchvoice: Command, tmp_path: Path) -> None:
    """Done in a second session, killed in its middle, closed, verified and shown; the first closing stays."""
    folder = tmp_path / "rotor"
    rotor = Bench(CONVERSATIONS / "sub-rotor.yaml", folder)
    rotor.work_to(None)
    rotor.close()
    first = (folder / "log.jsonl").read_bytes()
    again = ("build", "--resume", folder, "--typed", "--clock", "script")
    assert "Owed: balance, after an hour of running. Who's on?" in benchvoice(*again, stdin="bo\nyes\n").out
    (listed,) = benchvoice("builds", folder, "--json").answer
    assert listed["state"] == "follow-up open"
    done = benchvoice(*again, stdin="bo\ndone\nclose the build\n")
    assert done.out.endswith("The follow-up is closed. Nothing is owed here.\n")
    assert (folder / "log.jsonl").read_bytes().startswith(first)
    assert benchvoice("verify", folder).status == 0
    (listed,) = benchvoice("builds", folder, "--json").answer
    assert (listed["state"], listed["owed"]) == ("closed", [])
    assert benchvoice("record", folder).status == 0
    page = (folder / "record.html").read_text(encoding="utf-8")
    assert "with this still owed: balance, after an hour of running; follow-up closed on " in page
    assert "Taken up after closing: balance, after an hour of running" in page
    assert "Done, and no longer owed: balance, after an hour of running" in page
    assert "The build is closed. Nothing is owed here." in benchvoice(*again, stdin="").out


def test_none_yet(benchvoice: Command) -> None:
    assert benchvoice("builds").out.startswith("No builds in ")
