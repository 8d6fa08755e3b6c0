"""The `build` command: begin or resume a build, typed, from a sound file, or by microphone and loudspeaker."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from benchvoice.app.clock import Clock, RealClock, ScriptClock
from benchvoice.app.conversation import Conversation, begin_event, facts_of, procedure_in_force, resume_event
from benchvoice.app.instruments import changed_instruments, known_instruments
from benchvoice.app.options import BuildOptions
from benchvoice.app.places import new_build_folder, register_file
from benchvoice.app.sub_builds import Finder, named_builds
from benchvoice.app.typed import print_prompt, talk
from benchvoice.errors import InputError
from benchvoice.log import OpenBuild, add_procedure_version, create_build, open_build
from benchvoice.procedure.difference import difference
from benchvoice.procedure.load import load_document
from benchvoice.procedure.models import Procedure
from benchvoice.procedure.register import load_register
from benchvoice.session.events import Amend
from benchvoice.session.state import State


def build(options: BuildOptions) -> int:
    """Run a build until its words end; returns the exit status. Raises BenchvoiceError with one sentence."""
    _check_options(options)
    with _opened(options) as (opened, procedure, fresh):
        clock = _clock(options, opened)
        finder = Finder(opened.path, named_builds(options.bring))
        if options.typed:
            conversation = Conversation(opened, state_of(opened, procedure), clock, print_prompt, look=finder.seen)
            _start(conversation, options, fresh, finder)
            if not conversation.ended:
                talk(conversation)
            print(f"Build: {opened.path}", file=sys.stderr)
        else:
            from benchvoice.app.spoken import hold_conversation

            hold_conversation(
                options,
                opened,
                state_of(opened, procedure),
                clock,
                lambda talk: _start(talk, options, fresh, finder),
                finder,
            )
    return 0


def _check_options(options: BuildOptions) -> None:
    if (options.procedure is None) == (options.resume is None):
        raise InputError("Name one procedure to begin, or --resume with a build's folder.")
    if options.amend is not None and (options.resume is None or not options.reason):
        raise InputError("--amend changes a build that is resumed, and needs --reason with the reason.")
    if options.voice is not None:
        from benchvoice.app.fitting.voices import voice_model

        voice_model(options.voice)  # before there is a folder of a build that can't be heard
    if options.clock == "script" and not options.typed:
        raise InputError("--clock script moves the clock from typed lines: add --typed.")
    named_builds(options.bring)
    register = options.instruments or register_file()
    if register is not None:
        load_register(register)  # its faults are told before there is a build


@contextmanager
def _opened(options: BuildOptions) -> Iterator[tuple[OpenBuild, Procedure, bool]]:
    """The build's folder, locked; its procedure; and whether it is new."""
    if options.resume is not None:
        with open_build(options.resume) as opened:
            yield opened, procedure_in_force(opened.path, facts_of(opened.contents.lines)), False
        return
    assert options.procedure is not None
    document = load_document(options.procedure)
    folder = options.out or new_build_folder(document.procedure, options.machine)
    with create_build(folder, options.procedure.read_bytes()) as opened:
        yield opened, document.procedure, True


def state_of(opened: OpenBuild, procedure: Procedure) -> State:
    """The state that a build's log makes."""
    return State(procedure, facts_of(opened.contents.lines))


def _clock(options: BuildOptions, opened: OpenBuild) -> Clock:
    """The real clock, or one that a script moves: it goes on from where the build's last process stopped."""
    if options.clock == "real":
        return RealClock()
    lines = opened.contents.lines
    if lines:
        return ScriptClock(lines[-1].stamped.at)
    now = datetime.now(UTC)
    return ScriptClock(now.replace(microsecond=now.microsecond // 1000 * 1000))


def _start(conversation: Conversation, options: BuildOptions, fresh: bool, finder: Finder) -> None:
    """The first event: begin or resume, and the amendment that was asked for."""
    opened, clock = conversation.build, conversation.clock
    if fresh:
        data = (opened.path / "procedure.yaml").read_bytes()
        known = known_instruments(options.instruments, None) or ()
        digest = sha256(data).hexdigest()
        conversation.handle(begin_event(clock, "procedure.yaml", digest, options.machine, known))
        return
    changed = changed_instruments(options.instruments, conversation)
    brought = finder.again(conversation.state, clock.now())
    conversation.handle(resume_event(clock, opened.set_aside, changed, brought))
    if options.amend is not None:
        conversation.handle(_amendment(conversation, options.amend, options.reason or ""))


def _amendment(conversation: Conversation, file: Path, reason: str) -> Amend:
    document = load_document(file)
    data = file.read_bytes()
    changed = difference(conversation.state.procedure, document.procedure)
    return Amend(
        now=conversation.clock.now(),
        procedure=document.procedure,
        file=add_procedure_version(conversation.build, data),
        sha256=sha256(data).hexdigest(),
        reason=reason,
        difference=str(changed),
        affected=changed.affected,
    )
