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
two turns five divisions; mm div=0.01 what=dial, 1 mm a turn; metric; 2.05 mm; in divisions
one and five thousandths; -; inch; 1.005 in; -
five pounds; psi; inch; 5 psi; -
"""

# --- corrections and sides --------------------------------------------------------------------------------------------

SHAPES = """
over by two thou; thou what=oversize; inch; 2 thou; -
under by two thou; thou what=oversize; inch; -2 thou; -
four thou no five thou no six thou; thou; inch; 6 thou; corrected
four no five thou; thou; inch; 5 thou; corrected
under by five degrees; degC; metric; -5 degC; from where?
two thou over standard; thou what=oversize; inch; 2 thou; -
two turns and a half; deg; metric; 2.5 turn; -
two full turns; deg; metric; 2 turn; -
one whole turn and a half; deg; metric; 1.5 turn; -
two and five thousandths; in; inch; 2.005 in; -
two five thousandths; in; inch; 25 thou; said figure by figure
five ten thousandths; in; inch; 5 tenth; -
two five ten thousandths; in; inch; 25 tenth; said figure by figure
three minutes and a half; min; metric; 3.5 min; -
one minute forty; min; metric; 100 s; it sounds like another number
point five of an inch; in; inch; 0.5 in; -
half of the inch; in; inch; 0.5 in; -
half the inch; in; inch; 0.5 in; -
an inch and a half; in; inch; 1.5 in; -
a tenth of a millimetre; mm; metric; 0.1 mm; -
two tenths of millimetres; mm; metric; 0.2 mm; -
two tenths millimetre; mm; metric; 0.2 mm; -
two full turns and a half; deg; metric; 2.5 turn; -
hundred thou and a half; thou; inch; 100.5 thou; the front may be missing
fifteen; 12..18 what=torque; metric; 15 N_m; it sounds like another number, no unit said
no five thou; thou; inch; 5 thou; corrected
minus two tenths; mm; metric; -0.2 mm; -
two tenths three hundredths; mm; metric; 0.23 mm; -
fifteen newton metres; N_m 20..30; metric; 15 N_m; it sounds like another number
"""

# --- names of what is measured, and words that are nought -------------------------------------------------------------

NAMED = """
two tenths oval; mm what=ovality; metric; 0.2 mm; -
two tenths oval; mm what=out of round; metric; 0.2 mm; -
ovality two tenths; mm what=ovality; metric; 0.2 mm; -
the clearance of two thou; thou what=clearance; inch; 2 thou; -
clearance two thou; thou what=clearance; inch; 2 thou; -
two thou of clearance; thou what=clearance; inch; 2 thou; -
standard; what=oversize; inch; 0 in; -
standard; what=oversize; metric; 0 mm; -
flush; mm; metric; 0 mm; flush
flush; mm 0..0.1; metric; 0 mm; flush
flush; mm 0.5..1; metric; 0 mm; flush
flush; mm -0.1..0.1; metric; 0 mm; -
dead on; mm -0.1..0.1; metric; 0 mm; -
"""

TALK = """
hello; thou; inch
the clearance; thou what=clearance; inch
flush; -; metric
a third; in; inch
"""

# --- numbers without a unit word --------------------------------------------------------------------------------------

BARE = """
five; thou; inch; 5 thou; -
zero; mm; metric; 0 mm; -
zero; mm div=0.01 what=dial; metric; 0 mm; -
twelve; mm div=0.01 what=dial; metric; 0.12 mm; in divisions
twelve; mm 0.10..0.14; metric; 0.12 mm; no unit said, it could be another size
two point two five; in; inch; 2.25 in; -
two point two five; in 0.002..0.003; inch; 0.00225 in; no unit said, it could be another size
two point five; in 0.002..0.003; inch; 0.0025 in; no unit said, it could be another size
four and a quarter; in 0.004..0.005; inch; 0.00425 in; no unit said, it could be another size
oh four five; in; inch; 0.045 in; no point said
one nine nine eight; thou; inch; 1998 thou; said figure by figure
half; mm; metric; 0.5 mm; a fraction of what
half; what=length; metric; 0.5 mm; no unit said
quarter; deg; metric; 0.25 turn; a fraction of what
a quarter; in; inch; 0.25 in; a fraction of what
a third; deg; metric; 120 deg; a fraction of what
two thirds; deg; metric; 240 deg; a fraction of what
half; deg res=0.5 0.4..0.6; metric; 0.5 deg; a fraction of what, it could be another size
five; N_m 0.04..0.06; metric; 5 N_m; -
ninety five four; mm 95.02..95.06; metric; 95.04 mm; no point said, no hundred said, it could be another size
oh four five six; mm 0.4..0.5; metric; 0.456 mm; no point said, it could be another size
oh four five six; mm 4.5..4.6; metric; 4.5456 mm; no point said, the front figures are missing
three eighths; in; inch; 0.375 in; -
three eighths; what=length; metric; 0.375 mm; no unit said
ten; what=torque; metric; 10 N_m; no unit said
ten; what=pressure; metric; 10 bar; no unit said
ten; what=pressure; inch; 10 psi; no unit said
ten; what=temperature; metric; 10 degC; no unit said
ten; what=temperature; inch; 10 degF; no unit said
ten; what=angle; metric; 10 deg; no unit said
ten; what=angle; inch; 10 deg; no unit said
ten; what=speed; metric; 10 rpm; no unit said
ten; what=speed; inch; 10 rpm; no unit said
ten; what=ratio; metric; 10 1; -
ten; what=ratio; inch; 10 1; -
eight to one; what=ratio; metric; 8 1; -
ten; what=oversize; inch; 0.010 in; no unit said
point five; what=oversize; inch; 0.0005 in; no unit said
point five; what=oversize; metric; 0.5 mm; no unit said
two and a half; what=oversize; inch; 0.0025 in; no unit said
two and a quarter; what=oversize; inch; 0.00225 in; no unit said
point oh oh five; what=oversize; inch; 0.005 in; no unit said
"""

QUESTIONS = """
one two five millimetres; mm; metric; one hundred and twenty five or one point two five?
five thou over; degC; metric; that is a length, this is a temperature
two and three tenths; in; inch; two point zero zero zero three or zero point zero zero two three?
two and three tenths; -; inch; two point zero zero zero three inches or two point three thou?
two thou five inches; in; inch; I can't make a number of that
sixty newton metres over; N_m; metric; I can't make a number of that
two thou five thou; in; inch; I can't make a number of that
two turns and forty three; mm what=dial, 1 mm a turn; metric; I can't make a number of that
two and three tenths of a pound; ft_lb; inch; pounds of what?
two and three tenths; what=torque; metric; I can't make a number of that
five kilos; -; metric; kilos of what?
twenty degrees; -; metric; twenty degrees or twenty degrees celsius?
nine five four; mm; metric; nine hundred and fifty four or nine point five four?
oh four five; mm; metric; zero point zero four five or zero point four five?
oh four five; thou; inch; forty five or zero point four five?
ninety five four; mm 90..100; metric; ninety five point four or ninety five point zero four?
ninety five four; mm; metric; nine hundred and fifty four or nine point five four?
one twenty five; mm; metric; one hundred and twenty five or one point two five?
one oh five; in; inch; one hundred and five or one point zero five?
one oh five; mm 0.0100..0.0110; metric; one hundred and five or one point zero five?
five; in 0.0004..0.0006; inch; five thou or half a thou?
two and a quarter; in; inch; two point two five inches or two and a quarter thou?
one twenty five; in; inch; one hundred and twenty five, one point two five or zero point one two five?
three eighths; mm; metric; zero point three seven five of what?
three eighths; -; inch; what unit?
half; deg; metric; half of what?
two point five; in; inch; two point five inches or two and a half thou?
ten; what=torque; inch; pounds of what?
ten; what=mass; metric; ten grams or ten kilograms?
ten; what=mass; inch; ten ounces or ten pounds?
ten; what=oversize; metric; ten thou, zero point one zero millimetres or ten millimetres?
five over; -; metric; five millimetres, zero point zero five millimetres or five thou?
over by five; -; metric; five millimetres, zero point zero five millimetres or five thou?
over by sixty newton metres; N_m; metric; I can't make a number of that
one and one two five thousandths; in; inch; I can't make a number of that
two thou and five; thou; inch; I can't make a number of that
five thou two thou; thou; inch; I can't make a number of that
one turn half; deg; metric; I can't make a number of that
one point five of an inch; in; inch; I can't make a number of that
half an inch and a quarter; in; inch; I can't make a number of that
nine to two; what=ratio; inch; which of the two?
plus five; -; inch; five inches, five thou or half a thou?
plus five; -; metric; five millimetres, zero point zero five millimetres or five thou?
plus point five; -; metric; what unit?
five; -; metric; what unit?
two tenths oval; mm what=clearance; metric; just the number, please
the two thou; thou what=clearance; inch; I can't make a number of that
it is an inch; in; inch; just the number, please
two inches by three quarters; in; inch; just the number, please
oh; thou; inch; nought?
o; thou; inch; nought?
dead on; mm 0..1; metric; on what? say the figure
dead on; mm 0.5..1; metric; on what? say the figure
two thou goes three thou goes; thou; inch; those don't fit together
three thou goes two thou nips four thou wont; thou; inch; those don't fit together
one nine; -; metric; nineteen or one point nine?
four or five thou; thou; inch; which of the two?
four through five thou; thou; inch; which of the two?
from four to five thou; thou; inch; which of the two?
between four to five; thou; inch; which of the two?
to five thou; thou; inch; I can't make a number of that
seven thou or so; thou; inch; say what it reads, not about
a little over two thou; thou; inch; say what it reads, not about
slightly more than two thou; thou; inch; say what it reads, not about
well under two thou; thou; inch; say what it reads, not about
the finish is four thou; thou; inch; just the number, please
two goes not; thou; inch; just the number, please
two thou not three; thou; inch; just the number, please
"""

# --- ends of an interval ----------------------------------------------------------------------------------------------

ENDS = """
two thou goes three thou no; 2 to 3
no more than five thou; None to 5
no less than five thou; 5 to None
not over five thou; None to 5
two or less; None to 2
two thou or more; 2 to None
over by two thou or more; 2 to None
two thou goes three thou nips four thou wont; 3 to 4
fifteen thou goes; 15 to None
"""


def rows(table):
    return [tuple(part.strip() for part in line.split(";")) for line in table.splitlines() if line]


@pytest.mark.parametrize(("phrase", "step", "work", "kept", "reason"), rows(SAID + SHAPES + NAMED + BARE))
def test_what_is_kept_and_why_it_is_doubted(phrase, step, work, kept, reason):
    reading = heard(phrase, step, work)
    assert f"{reading.value} {reading.unit}" == kept
    assert (reading.action, reading.reason) == ((Action.TAKE, "") if reason == "-" else (Action.READ_BACK, reason))


@pytest.mark.parametrize(("phrase", "ends"), rows(ENDS))
def test_the_ends_of_an_interval(phrase, ends):
    reading = heard(phrase, "thou", "inch")
    assert (reading.action, f"{reading.low} to {reading.high}") == (Action.BOUND, ends)
    assert (reading.reason, reading.sounds_like) == ("", ())


@pytest.mark.parametrize(("phrase", "step", "work"), rows(TALK))
def test_what_is_talk(phrase, step, work):
    reading = heard(phrase, step, work)
    assert (reading.action, reading.reason) == (Action.NOT_A_VALUE, "that is no reading")


@pytest.mark.parametrize(("phrase", "step", "work", "question"), rows(QUESTIONS))
def test_what_is_asked(phrase, step, work, question):
    reading = heard(phrase, step, work)
    assert (reading.action, reading.reason) == (Action.ASK, question)
