from benchvoice.app.selfcheck import check_machine


def test_what_every_spoken_build_needs_works_here() -> None:
    found = {each.what: each for each in check_machine(procedures=("reduction-gear",))}
    assert [each for each in found.values() if each.needed and not each.fine] == []
    assert "vosk" in found["versions"].told
    assert found["words of reduction-gear"].told.startswith("all ")


def test_a_model_that_is_not_there_fails_it_and_stops_nothing_else() -> None:
    found = {each.what: each for each in check_machine("no-such-model")}
    assert not found["model"].fine
    assert "There is no speech model named no-such-model" in found["model"].told
    assert found["voice"].fine


def test_sound_devices_are_told_of_but_not_needed() -> None:
    assert [each.what for each in check_machine() if not each.needed] == ["microphone", "loudspeaker"]
