"""Closing the build: nothing may be owed here, and builds that were brought in are looked at once more before it."""

from benchvoice.session import summary
from benchvoice.session.bringing import offer
from benchvoice.session.effects import End, LookAtBuilds
from benchvoice.session.entries import Closed
from benchvoice.session.events import BuildsSeen
from benchvoice.session.follow_ups import first_closing, owed_words, taken_up
from benchvoice.session.left_over import ask_made_of_it, left_over
from benchvoice.session.questions import listed
from benchvoice.session.rebringing import note_changes
from benchvoice.session.sub_builds import brought, owed_there, undecided_changes
from benchvoice.session.turn import Turn


def try_to_close(turn: Turn) -> None:
    """Close the build, or say what it can't be closed over."""
    against = summary.against_closing(turn.state, turn.now)
    if against:
        only = len(against) == len(left_over(turn.state))
        turn.say("Not yet", *(() if only else against))
        if only:
            ask_made_of_it(turn)
    elif brought(turn.state.facts):
        turn.talk(closing=True)
        turn.do(LookAtBuilds())
    else:
        _close(turn)


def builds_seen(turn: Turn, event: BuildsSeen) -> None:
    """What was asked of the edge has come: offer it to the step, or note what has changed and close if it was asked."""
    if event.step is not None:
        offer(turn, event)
        return
    closing = turn.state.talk.closing
    turn.talk(closing=False)
    note_changes(turn, event.builds)
    if closing and not undecided_changes(turn.state.facts):
        _close(turn)


def _close(turn: Turn) -> None:
    owed = (*owed_words(turn.state, turn.now), *owed_there(turn.state))
    follow_ups = tuple(row.n for row in taken_up(turn.state.facts)) if first_closing(turn.state.facts) else ()
    turn.write(Closed(with_open=owed, follow_ups=follow_ups))
    what = "The follow-up is closed" if follow_ups else "The build is closed"
    still = "Still owed" if follow_ups else "Owed after hand-over"
    turn.say(what, f"{still}: {listed(owed, 'and')}" if owed else "Nothing is owed here" if follow_ups else "")
    turn.do(End())
