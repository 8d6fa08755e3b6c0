from tests.app.conftest import Command


def test_every_finding_is_printed(benchvoice: Command) -> None:
    done = benchvoice("selfcheck", "--procedure", "launch-valve-lash", "--json")
    assert (done.status, done.err) == (0, "")
    assert [each["what"] for each in done.answer] == [
        "versions",
        "model",
        "voice",
        "builds",
        "procedures",
        "microphone",
        "loudspeaker",
        "words of launch-valve-lash",
    ]


def test_what_is_needed_and_missing_is_status_1(benchvoice: Command) -> None:
    done = benchvoice("selfcheck", "--model", "no-such-model")
    assert done.status == 1
    assert done.err.startswith("model: There is no speech model named no-such-model")
