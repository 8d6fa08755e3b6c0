from tests.app.conftest import Command


def test_builds_go_to_the_data_folder_and_are_listed(benchvoice: Command) -> None:
    assert benchvoice("builds", "--json").answer == []
    benchvoice("build", "reduction-gear", "--typed", "--machine", "hull 7", stdin="ann\n")
    (listed,) = benchvoice("builds", "--json").answer
    assert "/hull-7-" in listed["build"].replace("\\", "/")
    assert listed["standing"].startswith("open, last used ")
    assert benchvoice("verify", listed["build"]).status == 0


def test_none_yet(benchvoice: Command) -> None:
    assert benchvoice("builds").out.startswith("No builds in ")
