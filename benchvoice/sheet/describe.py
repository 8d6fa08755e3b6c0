"""Every kind of entry in one plain sentence, for the timeline and for lists.

Sentences say what was recorded, against what was asked; none says that a thing is good. `plain` turns names of the
document into words; titles of steps are the caller's matter.
"""

from functools import singledispatch

from benchvoice.session import entries as e
from benchvoice.sheet.describe_brought import BROUGHT
from benchvoice.sheet.describe_conditions import CONDITIONS
from benchvoice.sheet.words import asked, because, duration, interval, limits, listed, off_paper, place, plain, quantity


@singledispatch
def describe(entry: e.Entry) -> str:
    """An entry in words. NotImplementedError for a kind that has none, which a test rules out."""
    raise NotImplementedError(f"entries of the kind {entry.kind} have no words yet")


def at_place(parts: e.Place) -> str:
    """The place after a comma, to stand after the name of what is there; empty for a step without places."""
    return f", {place(parts)}" if parts else ""


@describe.register
def _(entry: e.Opened) -> str:
    machine = f" on {entry.machine}" if entry.machine else ""
    return f"Build begun: {entry.title}{machine}, by {entry.procedure}"


@describe.register
def _(entry: e.Resumed) -> str:
    torn = f"; an unfinished last write was set aside in {entry.set_aside}" if entry.set_aside else ""
    return f"Resumed{torn}"


@describe.register
def _(entry: e.Person) -> str:
    return f"{entry.name} takes over" if entry.takes_over else f"{entry.name} is on"


@describe.register
def _(entry: e.Device) -> str:
    return because(entry.what, entry.detail)


@describe.register
def _(_entry: e.Held) -> str:
    return "Held: nothing is kept until carried on"


@describe.register
def _(_entry: e.CarriedOn) -> str:
    return "Carried on"


@describe.register
def _(entry: e.Closed) -> str:
    what = "Follow-up closed" if entry.follow_ups else "Build closed"
    return what + (f", with this still open: {listed(entry.with_open)}" if entry.with_open else "")


@describe.register
def _(entry: e.Owed) -> str:
    return f"Owed after hand-over: {entry.what}" + (f", by {entry.by_whom}" if entry.by_whom else "")


@describe.register
def _(entry: e.Heard) -> str:
    return entry.text


@describe.register
def _(entry: e.Unclear) -> str:
    return f"{entry.text or '(no words)'} ({entry.reason})"


@describe.register
def _(entry: e.Said) -> str:
    return entry.text


@describe.register
def _(entry: e.Answered) -> str:
    if entry.question.startswith("warning "):
        return f"Warning answered: {entry.answer}"
    return f"{plain(entry.question)}: {entry.answer}"


@describe.register
def _(entry: e.StepEntered) -> str:
    return f"Step entered: {plain(entry.step)}"


@describe.register
def _(entry: e.StepClosed) -> str:
    return because(f"Step closed, {entry.how}: {plain(entry.step)}", entry.reason)


@describe.register
def _(entry: e.WentBack) -> str:
    return because(f"Went back from {plain(entry.step_from)} to {plain(entry.step_to)}", entry.reason)


@describe.register
def _(entry: e.NoLongerCounts) -> str:
    return because(f"Doesn't count any more: {entry.what} ({_lines(entry.entries)})", entry.reason)


@describe.register
def _(entry: e.Restarted) -> str:
    stage = f"stage {entry.stage} of " if entry.stage is not None else ""
    return because(f"Taken up again: {stage}{plain(entry.step)}", entry.reason)


@describe.register
def _(entry: e.LeftForLater) -> str:
    which = f", {listed(entry.positions)}" if entry.positions and entry.positions != ("whole",) else ""
    until = f"; {plain(entry.closed_by)} closes it" if entry.closed_by else ""
    return because(f"Left for later: {entry.what}{which}{until}", entry.reason)


@describe.register
def _(entry: e.ClosedLater) -> str:
    return f"Closed at {plain(entry.step)}: {entry.what}, which line {entry.entry} left for later"


@describe.register
def _(entry: e.Reading) -> str:
    value = interval(entry.value, entry.low, entry.high, entry.unit)
    off = f", {off_paper(entry.paper)}" if entry.paper is not None else ""
    return f"{plain(entry.what)}{at_place(entry.place)}: {value} ({entry.counts_as}{off})"


@describe.register
def _(entry: e.Verdict) -> str:
    return f"Line {entry.reading}{at_place(entry.place)}: {verdict_words(entry)}"


def verdict_words(entry: e.Verdict) -> str:
    """A verdict: over by 0.5 thou; limits 1.5 to 3.0 thou."""
    by = f" by {quantity(entry.out_by, entry.unit)}" if entry.out_by is not None else ""
    judged = because(f"{entry.outcome}{by}", entry.reason)
    rule = f", {entry.rule}" if entry.rule else ""
    return f"{judged}{_doubt(entry)}; asked: {limits(entry.low, entry.high, entry.unit)}{rule}"


def _doubt(entry: e.Verdict) -> str:
    """The uncertainty that a verdict rests on: U = 0.3 thou (k = 2), 97.12 % sure to be in limits."""
    if entry.uncertainty is None:
        return ""
    k = f" (k = {entry.coverage_factor})" if entry.coverage_factor is not None else ""
    words = f"; U = {quantity(entry.uncertainty, entry.unit)}{k}"
    if entry.probability is None:
        return words
    return f"{words}, {(entry.probability * 100).normalize():f} % sure to be in limits"


@describe.register
def _(entry: e.Stands) -> str:
    return because(f"Of the readings{at_place(entry.place)}, line {entry.reading} stands", entry.reason)


@describe.register
def _(entry: e.Retracted) -> str:
    return f"Taken back: {entry.what} ({_lines(entry.entries)})"


@describe.register
def _(entry: e.Corrected) -> str:
    return f"Correction of line {entry.entry}{at_place(entry.place)}: not {entry.was} but {entry.now}"


@describe.register
def _(entry: e.Remeasured) -> str:
    return because(f"To be measured again{at_place(entry.place)} ({_lines(entry.entries)})", entry.reason)


@describe.register
def _(entry: e.Zeroed) -> str:
    good = "zero holds" if entry.good else "zero has moved"
    return f"Zero of {plain(entry.instrument)}, {entry.when}: {quantity(entry.value, entry.unit)}; {good}"


@describe.register
def _(entry: e.Decision) -> str:
    return f"Decision on line {entry.reading}{at_place(entry.place)}: {decision_words(entry)}"


def decision_words(entry: e.Decision) -> str:
    """A decision on what is not in limits, with its reason and who made it."""
    used = "concession (used as it is)" if entry.decision == "concession" else entry.decision
    return f"{because(used, entry.reason)} ({entry.name})"


@describe.register
def _(entry: e.Mark) -> str:
    if entry.matches is None or entry.expected is None:
        end = ""
    else:
        end = f"; asked: {entry.expected}: {'the same' if entry.matches else 'not the same'}"
    return f"{entry.read}{at_place(entry.place)}: {entry.value}{end}"


@describe.register
def _(entry: e.Checked) -> str:
    what = f"Hold point of stage {entry.stage}" if entry.stage is not None else "Checked"
    where = f" ({entry.where})" if entry.where else ""
    end = "the work may go on" if entry.passed else "the work may not go on"
    return f"{what}{at_place(entry.place)}: {entry.answer}{where}; {end}"


@describe.register
def _(entry: e.Remembered) -> str:
    name = "Observed" if entry.observed else "To say first next time" if entry.next_time else "Remembered"
    return f"{name}{at_place(entry.place)}: {entry.text or '(kept as sound)'}"


@describe.register
def _(entry: e.Finding) -> str:
    return f"{entry.what}: {entry.text or '(kept as sound)'}"


@describe.register
def _(entry: e.Variation) -> str:
    return f"Done another way at {plain(entry.step)}: {entry.reason}"


@describe.register
def _(entry: e.SaidLater) -> str:
    at = f", about {plain(entry.step)}" if entry.step else ""
    off = f", {off_paper(entry.paper)}" if entry.paper is not None else ""
    return f"Said later{at}, time unknown{off}: {entry.text}"


@describe.register
def _(entry: e.Override) -> str:
    return because(f"Override: {plain(entry.what)}", entry.reason)


@describe.register
def _(entry: e.InstrumentTaken) -> str:
    used = f"{plain(entry.id)}, of the register" if entry.id is not None else "the procedure's own"
    return f"Used as {plain(entry.name)}: {used}"


@describe.register
def _(entry: e.Label) -> str:
    what = {"product": "product", "lot": "lot", "date": "use by"}[entry.part]
    return f"Label of {plain(entry.consumable)}, {what}: {entry.read or 'could not be read'}"


@describe.register
def _(entry: e.Container) -> str:
    return f"A new one of {plain(entry.consumable)} was opened"


@describe.register
def _(entry: e.Counted) -> str:
    if entry.way == "left over":
        return f"Left {entry.what}: {entry.number or 'nothing'}"
    of = f", asked: {entry.expected}" if entry.expected is not None else ""
    return f"Counted {entry.way}: {entry.what}, {entry.number}{of}"


@describe.register
def _(entry: e.LeftOver) -> str:
    return f"Left over: {entry.what}{f', {entry.number}' if entry.number is not None else ''}"


@describe.register
def _(entry: e.Witnessed) -> str:
    return f"Witnessed by {entry.witness}: {plain(entry.step)}"


@describe.register
def _(entry: e.SetRead) -> str:
    wrench = f"{plain(entry.wrench)} wrench" if entry.wrench else "Wrench"
    end = "" if entry.accepted else "; not taken"
    value = f"read as set to {quantity(entry.value, entry.unit)}"
    return f"Stage {entry.stage}: {wrench} {value}, asked: {quantity(entry.expected, entry.expected_unit)}{end}"


@describe.register
def _(entry: e.Tightened) -> str:
    words = f"{plain(entry.group)} {entry.position}, stage {entry.stage} ({entry.purpose}), {asked(entry.asked)}"
    return because(f"{words}: {entry.outcome}", entry.reason)


@describe.register
def _(entry: e.Slackened) -> str:
    return f"Slackened: {plain(entry.group)}, {listed(entry.positions)}"


@describe.register
def _(entry: e.BanOn) -> str:
    until = f", until {plain(entry.until)}" if entry.until else ""
    return f"From here on no {entry.what}{until}"


@describe.register
def _(entry: e.BanOff) -> str:
    return f"Ban ended: {entry.what}"


@describe.register
def _(entry: e.BanBroken) -> str:
    where = f" at {'; '.join(place(each) for each in entry.places)}" if entry.places else ""
    return because(f"Ban broken: {entry.what}{where}", entry.damage)


@describe.register
def _(entry: e.WindowStarted) -> str:
    side = "at most" if entry.sort == "open time" else "at least"
    return f"{entry.sort.capitalize()} started, {side} {duration(entry.seconds)}: {entry.what}"


@describe.register
def _(entry: e.WindowWarned) -> str:
    return f"Warned with {duration(entry.left)} left: {plain(entry.window)}"


@describe.register
def _(entry: e.WindowEnded) -> str:
    taken = f" after {duration(entry.taken)}" if entry.taken is not None else ", time taken not known"
    return f"{plain(entry.window)}: {entry.outcome}{taken}"


@describe.register
def _(entry: e.WindowDoubtful) -> str:
    span = f"between {duration(entry.least)} and {duration(entry.most)}"
    return because(f"{plain(entry.window)}: the clocks can't say how long, {span}", entry.reason)


@describe.register
def _(entry: e.Amended) -> str:
    return because(f"Procedure amended ({entry.procedure}; {entry.difference})", entry.reason)


for _kind, _in_words in (*BROUGHT.items(), *CONDITIONS.items()):
    describe.register(_kind, _in_words)


@describe.register
def _(entry: e.PackTaken) -> str:
    pieces = " + ".join(str(piece) for piece in entry.pieces) or "no piece"
    of_both = "" if entry.low <= entry.total <= entry.high else " of both packs together"
    asked = f"{limits(entry.low, entry.high, entry.unit)}{of_both}"
    words = f"{entry.pack}{at_place(entry.place)}, out of {plain(entry.stock)}: {pieces} = "
    return because(f"{words}{quantity(entry.total, entry.unit)}; asked: {asked}", entry.reason)


@describe.register
def _(entry: e.StockChanged) -> str:
    side = "more" if entry.number > 0 else "fewer"
    return f"{abs(entry.number)} {side} of {quantity(entry.size, entry.unit)} in {plain(entry.stock)}"


@describe.register
def _(entry: e.Matched) -> str:
    figure = {
        "pairs": "largest difference",
        "banks": "difference of the banks",
        "totals": "spread of the totals",
        "clearances": "spread of the clearances",
    }[entry.how]
    joined = {"banks": " and "}.get(entry.how, " with ")
    sets = "; ".join(joined.join(plain(each) for each in group) for group in entry.sets)
    return f"{entry.what} matched: {sets}; {figure} {quantity(entry.figure, entry.unit)}"


def _lines(numbers: e.Refs) -> str:
    """line 7; lines 7, 9; lines 7 to 12."""
    if len(numbers) == 1:
        return f"line {numbers[0]}"
    if len(numbers) > 2 and numbers == tuple(range(numbers[0], numbers[-1] + 1)):
        return f"lines {numbers[0]} to {numbers[-1]}"
    return f"lines {', '.join(map(str, numbers))}" if numbers else "no lines"
