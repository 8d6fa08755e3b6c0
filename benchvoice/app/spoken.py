"""The spoken loop: a room, a voice and an ear round a conversation. Listening never overlaps speaking."""

from collections.abc import Callable
from decimal import Decimal

from benchvoice.app.clock import Clock
from benchvoice.app.conversation import Conversation
from benchvoice.app.fitting.voices import made_from, voice_model
from benchvoice.app.instruments import instrument_words
from benchvoice.app.listener import Listener
from benchvoice.app.options import BuildOptions
from benchvoice.app.speaker import Speaker, warn
from benchvoice.app.sub_builds import Finder
from benchvoice.ear.integrity import check_sums
from benchvoice.ear.model import Model, find_model, load_model
from benchvoice.ear.words import model_with
from benchvoice.errors import MachineError
from benchvoice.log import OpenBuild
from benchvoice.procedure.models import Procedure
from benchvoice.procedure.words import spoken_words
from benchvoice.room import DeviceLost, DeviceRoom, Room, WavRoom
from benchvoice.session import windows
from benchvoice.session.events import DeviceNews, Tick
from benchvoice.session.state import State
from benchvoice.session.ticking import next_due

_SOON = Decimal("0.02")
"""Seconds: a window's word that is due within a block of sound is said now."""


def hold_conversation(
    options: BuildOptions,
    opened: OpenBuild,
    state: State,
    clock: Clock,
    start: Callable[[Conversation], None],
    finder: Finder,
) -> None:
    """Talk about a build by sound: microphone and loudspeaker, or a sound file in place of the microphone."""
    names = (*instrument_words(options.instruments, state.facts), *finder.words(state.procedure))
    spoken = (*options.people, *names)
    model = model_for(state.procedure, spoken, _asked_for(options))
    room: Room = WavRoom(options.wav) if options.wav is not None else DeviceRoom()
    try:
        speaker = Speaker(room)
        conversation = Conversation(opened, state, clock, speaker.say, speaker.adjust, finder.seen)
        start(conversation)
        converse(conversation, Listener(room, model, opened.path, options.people))
    finally:
        room.close()
    warn(f"Build: {opened.path}")


def _asked_for(options: BuildOptions) -> str | None:
    """The model that was named, or the ear that is fitted to the person who was named."""
    if options.voice is None:
        return options.model
    if made_from(options.voice) not in (None, check_sums(find_model())):
        warn(f"The ear of {options.voice} was fitted to an older model: run benchvoice fit {options.voice} again.")
    return str(voice_model(options.voice))


def model_for(procedure: Procedure, names: tuple[str, ...], name: str | None) -> Model:
    """The model, taught the words that this procedure brings, and names of people and instruments."""
    base = find_model(name) if name is not None else find_model()
    told = {word: [tuple(text.split()) for text in texts] for word, texts in procedure.words.items()}
    known = model_with([*spoken_words(procedure), *names], base=base, given=told)
    if known.unsayable:
        warn(f"The ear can't hear: {', '.join(known.unsayable)}.")
    return load_model(known.path)


def converse(conversation: Conversation, listener: Listener) -> None:
    """Hear and answer until the sound ends or the conversation does. A lost device is said and tried again once."""

    def tick() -> bool:
        now = conversation.clock.now()
        due = next_due(conversation.state, now)
        overdue = due is not None and due <= _SOON
        if overdue:
            before = conversation.state.facts.count
            conversation.handle(Tick(now=now))
            return conversation.state.facts.count != before
        return False

    def overdue() -> bool:
        due = windows.next_due(conversation.state, conversation.clock.now())
        return due is not None and due <= _SOON

    while not conversation.ended:
        try:
            for utterance in listener.utterances(lambda: conversation.state, conversation.clock.now, tick, overdue):
                print(f"P: {utterance.text}", flush=True)
                conversation.handle(utterance)
                if conversation.ended:
                    return
            return
        except DeviceLost as lost:
            conversation.handle(DeviceNews(now=conversation.clock.now(), what="I lost the sound", detail=str(lost)))
            reopen = getattr(listener.room, "reopen", None)
            if reopen is None:
                raise
            reopen()
        except MachineError:
            conversation.refused()  # a clip or a grammar could not be kept
            raise
