"""Falling silent where nobody is understood: other people's talk in a shop is answered twice, and then by a tone alone.

An answer is counted where the ear did not trust what it heard and it was said back, read back or asked for again, and
where words were trusted and were nothing that can be said. The second answer in a row says that it is the last. From
then on such an utterance is kept as unclear, moves nothing and gets a tone, until one is trusted and understood.

Trusted words that can't be placed are counted with the rest, and get a tone like the rest: the ear trusts a good part
of other people's talk, and for somebody who works here the tone says all that "I can't place that" says. Whatever they
say that is understood, a question too, brings the words back.

Words that the ear never trusts from one person must get through all the same: the same words twice in a row, which is
what people do and talk does not, are read back or asked about again where they can be something, and wait for a yes.
"Stop" is obeyed at any moment, trusted or not.

What is met with silence is no answer: it counts for nothing and ends no row. Nor do words that are kept as a remark
with their sound, for nothing hangs on them. What is typed or comes by a key is no guess of the ear and always gets its
words. So does a window, and the question that is asked again after a window's word.
"""

from benchvoice.session.effects import ToneAlone
from benchvoice.session.events import Utterance
from benchvoice.session.state import State
from benchvoice.session.turn import Turn

ANSWERS = 2
"""Utterances in a row that are answered in words though they were not understood."""
LAST = "Only a tone now until I understand"


def is_quiet(state: State) -> bool:
    """Whether only what is trusted and understood gets words."""
    return state.talk.not_understood >= ANSWERS


def tone_alone(turn: Turn, reason: str) -> None:
    """Keep the utterance as unclear, with the reason, and sound a tone."""
    turn.unclear(reason)
    turn.do(ToneAlone("not heard"))


def settle(turn: Turn, said: Utterance, before: State) -> Turn:
    """The turn, counted, once it is known what became of the words; in its place a tone, where that is all they get."""
    if before.held and turn.state.held:
        return turn
    trusted = said.via != "voice" or said.doubtful is None
    if trusted and turn.unclear_because is None:
        turn.talk(not_understood=0, toned="")
        return turn
    remark = before.takes_any_words and turn.unclear_because is None
    if said.via != "voice" or remark or not turn.speaks:
        return turn
    question = turn.state.talk.question
    asks = question is not None and question is not before.talk.question
    if is_quiet(before) and turn.unclear_because is not None and not asks:
        silent = Turn(before, turn.now, said)
        tone_alone(silent, turn.unclear_because)
        return silent
    turn.talk(not_understood=before.talk.not_understood + 1)
    if turn.state.talk.not_understood == ANSWERS:
        turn.say_last(LAST)
    return turn
