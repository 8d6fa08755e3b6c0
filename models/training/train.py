"""Train the acoustic net from scratch, on one GPU (or, slowly, a CPU).

    python train.py --speech SPEECH_FOLDER --synth SYNTH_FOLDER --lexicon TEXT/lexicon.json --out OUT --minutes 9

The sound lies on the device as one array; every batch is planned (rows.py), cut out, augmented and
turned into features there. New synthetic shards are taken in while training runs. A checkpoint is
written every two minutes (OUT/model.pt, averaged weights; OUT/state.pt, all that --resume needs).
"""

import argparse
import copy
import math
import time
from collections import Counter
from pathlib import Path

import numpy as np
import torch
from features import Augment, Mfcc
from grammar import Words, graph_of, words_to_ask
from losses import Chains, Denominator, KnownGradient, LatticeFreeMmi
from net import CONFIGS, Net
from noise import pool
from phones import PDFS, UNITS, load_lexicon
from recordings import SHARES, noises, recordings, trim_span
from rows import Corpus, RowPlans, words_of
from shards import RATE, Utterance, read_shard
from torch import Tensor
from torch.nn import functional

ENGINE_SHARES = {"kokoro": 0.55, "espeak": 0.33, "flite": 0.12}
"""How the synthetic share is split among what there is."""
STRETCH = 1.12
"""Rows are cut this much wider than their nominal seconds, to leave room for a slower tempo."""


class Sound:
    """All clips on the device, growing as shards arrive."""

    def __init__(self, args: argparse.Namespace, device: str) -> None:
        self.args, self.device = args, device
        self.lexicon = load_lexicon(args.lexicon)
        self.wave = torch.zeros(int(args.hours * 3600 * RATE), dtype=torch.int16, device=device)
        self.used = 0
        self.seen: set[Path] = set()
        self.groups: dict[str, list[tuple[Utterance, int, tuple[int, int] | None]]] = {}
        for folder in (args.speech, *args.more):
            self._take_recordings(folder)

    def _take_recordings(self, folder: Path) -> None:
        samples, utterances, sets = recordings(folder, without=self.args.without, part=self.args.part)
        base = self._append(samples)
        for utterance, name in zip(utterances, sets, strict=True):
            span = None
            if name != "libri" and utterance.length < 2 * RATE and len(utterance.words.split()) <= 2:
                offset, length = trim_span(samples[utterance.start : utterance.start + utterance.length])
                span = (utterance.start + offset, length)
            self.groups.setdefault("real:" + name, []).append((utterance, base, span))

    def _append(self, samples: np.ndarray) -> int:
        base = self.used
        self.wave[base : base + len(samples)] = torch.from_numpy(samples).to(self.device)
        self.used += len(samples)
        return base

    def take_new(self) -> bool:
        """Take in the shards that have appeared; returns whether there were any."""
        new = [p for p in sorted(self.args.synth.glob("*.json")) if p not in self.seen]
        for path in new:
            self.seen.add(path)
            samples, utterances = read_shard(path)
            if self.used + len(samples) > len(self.wave):
                return False
            base = self._append(samples)
            group = self.groups.setdefault(path.name.split("_")[0], [])
            group.extend((u, base, None) for u in utterances)
        return bool(new)

    def corpus(self) -> Corpus:
        """All clips with their weights; clips with a word of unknown pronunciation are left out.

        A recorded text that there is often of weighs less than its number, by its square root.
        """
        c = Corpus()
        made = {g for g in self.groups if g in ENGINE_SHARES}
        made_total = sum(ENGINE_SHARES[g] for g in made)
        real_total = sum(SHARES[g[5:]] for g in self.groups if g.startswith("real:"))
        for group, clips in self.groups.items():
            known = [
                (u, base, span, words) for u, base, span in clips if (words := words_of(u, self.lexicon)) is not None
            ]
            if not known:
                continue
            share = (
                self.args.synthetic * ENGINE_SHARES[group] / made_total
                if group in made
                else (1 - self.args.synthetic * bool(made)) * SHARES[group[5:]] / real_total
            )
            often = Counter(u.words for u, _, _, _ in known)
            weights = [1.0 if group in made else often[u.words] ** -0.5 for u, _, _, _ in known]
            total = sum(weights)
            for (u, base, span, words), weight in zip(known, weights, strict=True):
                if span is not None:
                    c.joinable[len(c.start)] = (span[0] + base, span[1], u.speaker)
                c.start.append(u.start + base)
                c.length.append(u.length)
                c.words.append(words)
                c.weight.append(share * weight / total)
                c.gain.append(1.0 / u.level)
        return c

    def hours(self) -> str:
        return ", ".join(
            f"{g} {sum(u.length for u, _, _ in clips) / RATE / 3600:.2f}" for g, clips in self.groups.items()
        )


def heard_in(corpus: Corpus) -> Counter[tuple[int, ...]]:
    """How much of what training draws is each pronunciation; the variants of a word share alike."""
    heard: Counter[tuple[int, ...]] = Counter()
    for words, weight in zip(corpus.words, corpus.weight, strict=True):
        for variants in words:
            for sounds in variants:
                heard[tuple(sounds)] += weight / len(variants)
    return heard


class Batches:
    """Batches of features, narrow and wide rows by turns, from planned rows."""

    def __init__(
        self, sound: Sound, grammar: Words, augment: Augment, args: argparse.Namespace, device: str, seed: int
    ) -> None:
        self.sound, self.grammar, self.augment = sound, grammar, augment
        self.args, self.device, self.seed = args, device, seed
        self.mfcc = Mfcc().to(device)
        self.refills = 0
        self.refill()

    def refill(self) -> None:
        """Start planning afresh over all the clips there are now."""
        corpus = self.sound.corpus()
        self.plans = []
        for number, (seconds, rows, slots, quiet, span) in enumerate(
            ((4.0, self.args.rows, 8, 0.35, (0.3, 1.2)), (9.0, max(2, int(self.args.rows * 0.4)), 14, 0.5, (0.5, 3.0)))
        ):
            seed = self.seed * 100 + self.refills * 10 + number
            plan = RowPlans(
                *(corpus, self.grammar, seconds, rows, seed, slots),
                *(self.args.join, quiet, span, self.args.empty, not self.args.plain),
            )
            workers = (
                {"num_workers": self.args.workers, "prefetch_factor": 4} if self.args.workers else {"num_workers": 0}
            )
            loader = torch.utils.data.DataLoader(plan, batch_size=None, pin_memory=self.device == "cuda", **workers)
            self.plans.append((seconds, iter(loader)))
        self.refills += 1

    def draw(self, step: int) -> tuple[Tensor, dict[str, Tensor], Chains, float]:
        seconds, plans = self.plans[1 if step % 3 == 2 else 0]
        raw = next(plans)
        b = {k: v.to(self.device, non_blocking=True) for k, v in raw.items() if k != "chains" and k != "ctc_length"}
        b["ctc_length"] = raw["ctc_length"]  # stays on the host: CTC would wait for the device otherwise
        chains = Chains(*(f.to(self.device, non_blocking=True) for f in raw["chains"]))
        return self._features(b, seconds), b, chains, seconds

    def _cut(self, b: dict[str, Tensor], width: int) -> Tensor:
        """Lay the planned clips into rows of `width` samples, at equal speaking level."""
        rows = len(b["start"])
        position = torch.arange(width, device=self.device)[None].expand(rows, width).contiguous()
        places = torch.where(b["length"] > 0, b["place"], torch.full_like(b["place"], 1 << 40))
        slot = torch.searchsorted(places, position, right=True) - 1
        held = slot.clamp(min=0)
        inside = position - torch.gather(b["place"], 1, held)
        there = (slot >= 0) & (inside < torch.gather(b["length"], 1, held))
        index = (torch.gather(b["start"], 1, held) + inside).clamp(0, len(self.sound.wave) - 1)
        return self.sound.wave[index].float() * torch.gather(b["gain"], 1, held) * there

    def _features(self, b: dict[str, Tensor], seconds: float) -> Tensor:
        a = self.augment
        wide = int(seconds * STRETCH * RATE)
        x = self._cut(b, int(wide * 1.14) + 64)
        if self.args.plain:
            return self.mfcc.log_mel(x[:, :wide], torch.full_like(b["tempo"], 160.0)) @ self.mfcc.cosines
        spoken = (x != 0).float().mean(1, keepdim=True)
        x = a.speed(x, b["speed"])[:, :wide]
        near = x != 0
        x = a.room(x, 0.5, 0.7)
        level = (x.square().mean(1, keepdim=True) / spoken.clamp(min=0.02)).sqrt()
        level = torch.where(spoken > 0, level, torch.ones_like(level))
        x = a.gate(a.level(a.mix(x, level, self.args.noisy, -3.0, 25.0)), near, self.args.hushed)
        rows = len(x)
        warp = torch.where(
            a.uniform(rows) < 0.3, torch.full((rows,), 8, device=self.device), (a.uniform(rows) * 15).long() + 1
        )
        return a.mask(self.mfcc.log_mel(x, 160 * b["tempo"], warp), self.args.mask) @ self.mfcc.cosines


def flat_noises(clips: list[np.ndarray], device: str) -> tuple[Tensor, list[tuple[int, int]]]:
    starts = np.cumsum([0, *(len(c) for c in clips)])
    return torch.from_numpy(np.concatenate(clips)).to(device), [
        (int(s), len(c)) for s, c in zip(starts, clips, strict=False)
    ]


class Trainer:
    """The net, its moving average, the optimiser, and how far the schedule has come."""

    def __init__(self, args: argparse.Namespace, device: str, mmi: LatticeFreeMmi) -> None:
        self.args, self.device, self.mmi = args, device, mmi
        self.net = Net(args.config, args.dropout).to(device)
        self.average = copy.deepcopy(self.net).eval()
        self.optimiser = torch.optim.AdamW(
            self.net.parameters(), lr=args.rate, betas=(0.9, 0.98), weight_decay=0.01, fused=device == "cuda"
        )
        self.step, self.spent = 0, 0.0
        pairs = [
            (a, n)
            for a, n in zip(self.average.state_dict().values(), self.net.state_dict().values(), strict=True)
            if a.dtype.is_floating_point
        ]
        self.averaged, self.current = [a for a, _ in pairs], [n for _, n in pairs]

    def resume(self, path: Path) -> None:
        held = torch.load(path, map_location=self.device, weights_only=False)
        if "optimiser" in held:
            self.net.load_state_dict(held["net"])
            self.average.load_state_dict(held["average"])
            self.optimiser.load_state_dict(held["optimiser"])
            self.step, self.spent = held["step"], held["spent"]
        else:
            weights = {k: v.float() if v.dtype.is_floating_point else v for k, v in held["model"].items()}
            self.net.load_state_dict(weights)
            self.average.load_state_dict(weights)

    def save(self, whole: bool = True) -> None:
        """Write the averaged weights (half precision but for the statistics), and all that resuming needs."""
        model = {
            k: v.half() if v.is_floating_point() and "running" not in k else v
            for k, v in ((k, v.cpu()) for k, v in self.average.state_dict().items())
        }
        torch.save(
            {"model": model, "config": self.args.config, "units": UNITS, "spent": self.spent, "step": self.step},
            self.args.out / "model.pt",
        )
        if whole:
            torch.save(
                {
                    "net": self.net.state_dict(),
                    "average": self.average.state_dict(),
                    "step": self.step,
                    "optimiser": self.optimiser.state_dict(),
                    "spent": self.spent,
                },
                self.args.out / "state.pt",
            )

    def rate(self, elapsed: float) -> float:
        """Cosine from the full rate to a fiftieth over all planned minutes or steps, after a short warm-up."""
        steps = (self.step - self.first_step) / self.args.steps
        done = min(1.0, max((self.spent + elapsed) / (self.args.total_minutes * 60), steps))
        warm = min(1.0, (self.step - self.first_step + 1) / self.args.warmup)
        return self.args.rate * warm * (0.02 + 0.98 * 0.5 * (1 + math.cos(math.pi * done)))

    def learn(self, x: Tensor, b: dict[str, Tensor], chains: Chains) -> Tensor:
        """One step; returns [MMI a frame, CTC a frame, share of rows used, gradient norm]."""
        self.net.train()
        with torch.autocast(self.device, dtype=torch.bfloat16, enabled=self.device == "cuda"):
            y, c = self.net(x)
        rows, times = y.shape[:2]
        value, gradient, used = self.mmi(y.detach(), b["asked"], chains)
        mmi = KnownGradient.apply(y, value, gradient) / (rows * times)
        ctc = functional.ctc_loss(
            functional.log_softmax(c, 2).transpose(0, 1),
            b["ctc"],
            torch.full((rows,), times, dtype=torch.long),
            b["ctc_length"],
            reduction="sum",
            zero_infinity=True,
        ) / (rows * times)
        loss = mmi + 2e-4 * y.square().mean() + self.args.ctc * ctc
        self.optimiser.zero_grad(set_to_none=True)
        loss.backward()
        for p in self.net.parameters():
            if p.grad is not None:
                p.grad.nan_to_num_(0.0, 0.0, 0.0)
        norm = torch.nn.utils.clip_grad_norm_(self.net.parameters(), 5.0)
        self.optimiser.step()
        keep = min(0.9995, 1 - 1 / (self.step / 4 + 2))
        with torch.no_grad():
            if self.device == "cuda":
                torch._foreach_lerp_(self.averaged, self.current, 1 - keep)
            else:
                for a, n in zip(self.averaged, self.current, strict=True):
                    a.lerp_(n, 1 - keep)
        self.step += 1
        return torch.stack([mmi.detach(), ctc.detach(), used.to(mmi.device), norm.detach()])

    def run(self, batches: Batches, say: "Say") -> None:
        """Train until the minutes or steps are used up."""
        self.first_step = self.step
        begin = saved = looked = time.monotonic()
        history: list[Tensor] = []
        audio = 0.0
        while (
            elapsed := time.monotonic() - begin
        ) < self.args.minutes * 60 and self.step - self.first_step < self.args.steps:
            for group in self.optimiser.param_groups:
                group["lr"] = self.rate(elapsed)
            with torch.no_grad():
                x, b, chains, seconds = batches.draw(self.step)
            history.append(self.learn(x, b, chains))
            audio += len(x) * seconds
            now = time.monotonic()
            if now - saved > 120:
                spent, self.spent = self.spent, self.spent + now - begin
                self.save()
                self.spent, saved = spent, now
            if now - looked > self.args.look_every:
                looked = now
                if batches.sound.take_new():
                    batches.refill()
                    say(f"more sound: {batches.sound.hours()}")
            if self.step in (1, 10, 50) or self.step % 200 == 0:
                mmi, ctc, used, norm = torch.stack(history[-200:]).mean(0).tolist()
                history = history[-200:]
                say(
                    f"step {self.step} {elapsed:.0f} s, {audio / 3600:.0f} h: mmi {mmi:.4f} ctc {ctc:.4f} "
                    f"used {used:.3f} gradient {norm:.2f} rate {self.optimiser.param_groups[0]['lr']:.1e}"
                )
        self.spent += time.monotonic() - begin
        self.save()
        say(f"{self.step} steps, {audio / 3600:.0f} h of augmented sound in {time.monotonic() - begin:.0f} s")


class Say:
    """Prints a line and keeps it in OUT/log.txt."""

    def __init__(self, path: Path) -> None:
        self.file = path.open("a")

    def __call__(self, text: str) -> None:
        print(text, flush=True)
        self.file.write(text + "\n")
        self.file.flush()


def arguments() -> argparse.Namespace:
    p = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    p.add_argument("--speech", type=Path, required=True, help="folder with manifest.tsv, noise.tsv and the recordings")
    p.add_argument("--more", type=Path, nargs="*", default=(), help="folders that gather.py wrote")
    p.add_argument("--synth", type=Path, required=True, help="folder of synthetic shards; may still be filling")
    p.add_argument("--lexicon", type=Path, required=True)
    p.add_argument("--bench", type=Path, required=True, help="the words that the program listens for")
    p.add_argument("--out", type=Path, required=True)
    p.add_argument("--resume", type=Path, help="state.pt (goes on) or model.pt (weights only)")
    p.add_argument("--config", choices=CONFIGS, default="wide")
    p.add_argument("--minutes", type=float, default=9.0, help="of this run")
    p.add_argument("--total-minutes", type=float, help="of all runs together: the learning rate's plan")
    p.add_argument("--steps", type=int, default=10**9)
    p.add_argument("--without", nargs="*", default=(), help="sets of recordings to leave out (for a curve)")
    p.add_argument("--part", type=float, default=1.0, help="share of speakers that stay, in sets of many (likewise)")
    p.add_argument("--plain", action="store_true", help="change nothing about the sound, add no noise (likewise)")
    p.add_argument("--rate", type=float, default=2e-3)
    p.add_argument("--warmup", type=int, default=400)
    p.add_argument("--rows", type=int, default=320, help="four-second rows a batch")
    p.add_argument("--workers", type=int, default=5, help="planning processes for each kind of row")
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--ctc", type=float, default=0.3)
    p.add_argument("--join", type=float, default=0.5, help="share of single words joined into strings")
    p.add_argument("--empty", type=float, default=0.1, help="share of rows in which nobody speaks")
    p.add_argument("--noisy", type=float, default=0.75, help="share of rows with noise")
    p.add_argument("--hushed", type=float, default=0.5, help="share of rows cut out as the program cuts utterances")
    p.add_argument("--others", type=int, default=500, help="words of the graph that the bench does not ask for")
    p.add_argument("--dropout", type=float, default=0.2)
    p.add_argument("--mask", type=float, default=1.0, help="strength of SpecAugment")
    p.add_argument("--synthetic", type=float, default=0.42, help="share of drawn clips that is synthetic")
    p.add_argument("--noises", type=int, default=240, help="made noises")
    p.add_argument("--hours", type=float, default=60.0, help="room for so much sound on the device")
    p.add_argument("--look-every", type=float, default=100.0, help="seconds between looks for new shards")
    args = p.parse_args()
    args.total_minutes = args.total_minutes or args.minutes
    return args


def main() -> None:
    args = arguments()
    args.out.mkdir(parents=True, exist_ok=True)
    say = Say(args.out / "log.txt")
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(args.seed)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    begin = time.monotonic()
    made = pool(5, args.noises)
    real, _ = noises(args.speech)
    clips = made + real * max(1, round(1.5 * len(made) / len(real)))
    sound = Sound(args, device)
    sound.take_new()
    say(f"{len(real)} real and {len(made)} made noises; hours: {sound.hours()}; {time.monotonic() - begin:.0f} s")
    grammar = words_to_ask(sound.lexicon, args.bench.read_text().split(), heard_in(sound.corpus()), args.others)
    graph = graph_of(grammar)
    say(f"{len(grammar.number)} pronunciations of {grammar.count} words, {len(graph.pdf)} states")
    trainer = Trainer(args, device, LatticeFreeMmi(Denominator(graph, grammar.costs.background, device)))
    if args.resume:
        trainer.resume(args.resume)
    augment = Augment(*flat_noises(clips, device), device, args.seed)
    batches = Batches(sound, grammar, augment, args, device, args.seed)
    size = sum(v.numel() for v in trainer.net.parameters()) / 1e6
    say(
        f"{args.config}: {size:.2f} M parameters, context -{trainer.net.left} +{trainer.net.right} frames, "
        f"{PDFS} pdfs; ready after {time.monotonic() - begin:.0f} s"
    )
    trainer.run(batches, say)


if __name__ == "__main__":
    main()
    import os

    os._exit(0)  # the planning processes never end by themselves
