"""What a reading is kept as, and in which words it is doubted: the unit that was said, its decimals, the reason.

Phrases and meanings are common practice, no source. A line is: phrase; step; work; what is kept; why it is read back
("-": it is taken), or "ask" with the question.
"""

import pytest

from benchvoice.speech.readings import Action
from tests.speech.steps import heard

# --- units that were said ---------------------------------------------------------------------------------------------

SAID = """
half a turn; mm div=0.02 what=dial, 2 mm a turn; metric; 1 mm; in divisions
two turns and forty three; mm div=0.01 what=dial, 1 mm a turn; metric; 2.43 mm; in divisions
five divisions; mm div=0.01 what=dial; metric; 0.05 mm; -
one five divisions; mm div=0.01 what=dial; metric; 0.15 mm; -
two tenths; -; metric; 0.2 mm; no unit said
two tenths; -; inch; 2 tenth; no unit said
two tenths of a millimetre; -; metric; 0.2 mm; -
two hundredths; in; inch; 0.02 in; an odd unit here
two and three tenths; bar; metric; 2.3 bar; an odd unit here
two and three tenths; thou; inch; 2.3 thou; -
two and three tenths; -; metric; 2.3 mm; -
one and five thousandths; mm; metric; 1.005 mm; -
ten thousandths; in 0.001..0.1; inch; 10 thou; it sounds like a ten thousandth
eleven thousandths; in; inch; 11 thou; -
one oh thousandths; in; inch; 10 thou; said figure by figure
one two five thousandths; in; inch; 125 thou; said figure by figure
one two five newton metres; N_m; metric; 125 N_m; said figure by figure
minus five newton metres; N_m; metric; -5 N_m; less than nothing
minus five; N_m; metric; -5 N_m; less than nothing
minus five degrees celsius; degC; metric; -5 degC; -
minus two thou; thou; inch; -2 thou; -
two thou over; mm what=oversize; metric; 2 thou; another unit than the step's
five degrees below; degC; metric; -5 degC; from where?
two inches five thou; in; inch; 2.005 in; -
one foot two inches; in; inch; 14 in; -
one minute thirty seconds; s; metric; 90 s; -
two minutes ten; s; metric; 130 s; -
two hours ten; min; metric; 130 min; -
one kilogram two grams; g; metric; 1.002 kg; another unit than the step's
"""

QUESTIONS = """
one two five millimetres; mm; metric; one hundred and twenty five or one point two five?
five thou over; degC; metric; that is a length, this is a temperature
two and three tenths; in; inch; two point zero zero zero three or zero point zero zero two three?
two and three tenths; -; inch; two point zero zero zero three inches or two point three thou?
two thou five inches; in; inch; I can't make a number of that
sixty newton metres over; N_m; metric; I can't make a number of that
"""


def rows(table):
    return [tuple(part.strip() for part in line.split(";")) for line in table.strip().splitlines()]


@pytest.mark.parametrize(("phrase", "step", "work", "kept", "reason"), rows(SAID))
def test_what_is_kept_and_why_it_is_doubted(phrase, step, work, kept, reason):
    reading = heard(phrase, step, work)
    assert f"{reading.value} {reading.unit}" == kept
    assert (reading.action, reading.reason) == ((Action.TAKE, "") if reason == "-" else (Action.READ_BACK, reason))


@pytest.mark.parametrize(("phrase", "step", "work", "question"), rows(QUESTIONS))
def test_what_is_asked(phrase, step, work, question):
    reading = heard(phrase, step, work)
    assert (reading.action, reading.reason) == (Action.ASK, question)
