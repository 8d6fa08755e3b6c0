"""Lattice-free MMI, computed exactly: no lattices and no transducer library.

score = log p(sound | the words said) - log p(sound | any string of phones), with the net's outputs as
frame scores. The denominator is a phone trigram over all UNITS, run forward and backward as batched
matrix products; the numerator is the chain of the row's phones with optional silence between words.
Povey and others, "Purely sequence-trained neural networks for ASR based on lattice-free MMI", 2016.
"""

from dataclasses import dataclass

import numpy as np
import torch
from phones import PDFS, UNITS, first_pdf, rest_pdf
from torch import Tensor

NEVER = -1e5
SILENCE_IN, SILENCE_SKIP = -1.2, -0.36
"""Log probabilities of a pause between words and of none (0.3 and 0.7)."""


def chain(words: list[list[int]]) -> list[tuple[int, bool, bool, float, float]]:
    """The numerator's states: (pdf, has a self loop, may be skipped, log cost of entering, of skipping)."""
    silence = (0, True, True, SILENCE_IN, SILENCE_SKIP)
    states = [silence]
    for word in words:
        for unit in word:
            states.append((first_pdf(unit), False, False, 0.0, 0.0))
            states.append((rest_pdf(unit), True, True, 0.0, 0.0))
        states.append(silence)
    return states


@dataclass(slots=True)
class Chains:
    """Numerators of a batch, padded: every field but count is [rows, longest]."""

    pdf: Tensor
    stay: Tensor
    skip: Tensor
    enter: Tensor
    count: Tensor

    def fields(self) -> tuple[Tensor, ...]:
        return self.pdf, self.stay, self.skip, self.enter, self.count


def pad_chains(rows: list[list[tuple[int, bool, bool, float, float]]], multiple: int = 128) -> Chains:
    """Pad to a multiple, so that few shapes occur (each shape is one recorded CUDA graph)."""
    longest = -(-max(map(len, rows)) // multiple) * multiple
    shape = (len(rows), longest)
    pdf = np.zeros(shape, np.int64)
    stay, skip, enter = (np.full(shape, NEVER, np.float32) for _ in range(3))
    for i, states in enumerate(rows):
        p, loops, skippable, entering, skipping = (np.array(c) for c in zip(*states, strict=True))
        n = len(states)
        pdf[i, :n], enter[i, :n] = p, entering
        stay[i, :n] = np.where(loops, 0.0, NEVER)
        skip[i, :n] = np.where(skippable, skipping, NEVER)
    counts = torch.tensor([len(states) for states in rows])
    return Chains(*(torch.from_numpy(x) for x in (pdf, stay, skip, enter)), counts)


def numerator(y: Tensor, c: Chains) -> tuple[Tensor, Tensor]:
    """y [B, T, PDFS] -> log Z of the row's own chain [B], posteriors [B, T, PDFS]."""
    rows, times, _ = y.shape
    length = c.pdf.shape[1]
    e = torch.gather(y, 2, c.pdf[:, None, :].expand(rows, times, length))
    edge = y.new_full((rows, 3), NEVER)
    # arriving from one, two (over one skippable state) and three states back
    one = c.enter
    two = one + torch.cat([edge[:, :1], c.skip[:, :-1]], 1)
    three = two + torch.cat([edge[:, :2], c.skip[:, :-2]], 1)
    start = y.new_full((rows, length), NEVER)
    start[:, 0] = c.enter[:, 0]
    start[:, 1] = c.enter[:, 1] + c.skip[:, 0]
    last, before, third = ((c.count - k).clamp(min=0)[:, None] for k in (1, 2, 3))
    final = y.new_full((rows, length), NEVER)
    final = final.scatter(1, third, c.skip.gather(1, last) + c.skip.gather(1, before))
    final = final.scatter(1, before, c.skip.gather(1, last)).scatter(1, last, 0.0)
    add = torch.logaddexp
    forward = y.new_full((times, rows, length + 3), NEVER)  # three columns of padding on the left
    forward[0, :, 3:] = start + e[:, 0]
    for t in range(1, times):
        x = forward[t - 1]
        arrive = add(add(x[:, 3:] + c.stay, x[:, 2:-1] + one), add(x[:, 1:-2] + two, x[:, :-3] + three))
        torch.add(arrive, e[:, t], out=forward[t, :, 3:])
    total = torch.logsumexp(forward[times - 1, :, 3:] + final, 1)
    backward = y.new_full((times, rows, length + 3), NEVER)  # and on the right
    backward[times - 1, :, :length] = final
    one, two, three = (torch.cat([s[:, k:], edge[:, :k]], 1) for k, s in ((1, one), (2, two), (3, three)))
    v = y.new_full((rows, length + 3), NEVER)
    for t in range(times - 2, -1, -1):
        torch.add(backward[t + 1, :, :length], e[:, t + 1], out=v[:, :length])
        backward[t, :, :length] = add(
            add(v[:, :length] + c.stay, v[:, 1:-2] + one), add(v[:, 2:-1] + two, v[:, 3:] + three)
        )
    gamma = (forward[:, :, 3:] + backward[:, :, :length] - total[None, :, None]).clamp(max=0).exp().permute(1, 0, 2)
    posteriors = torch.zeros_like(y).scatter_add_(2, c.pdf[:, None, :].expand(rows, times, length), gamma)
    return total, posteriors


class Denominator:
    """The phone trigram: log Z of all strings and the posteriors under it."""

    def __init__(self, trigram: Tensor, device: str) -> None:
        """trigram[h, p, q] is P(q after h p); unit 0 is silence, and the history at the start is 0 0."""
        self.units = trigram.shape[0]
        self.first = torch.tensor([first_pdf(u) for u in range(self.units)], device=device)
        self.rest = torch.tensor([rest_pdf(u) for u in range(self.units)], device=device)
        self.ahead = trigram.permute(1, 0, 2).contiguous().to(device)  # [p, h, q]
        self.back = trigram.permute(1, 2, 0).contiguous().to(device)  # [p, q, h]

    def __call__(self, y: Tensor) -> tuple[Tensor, Tensor]:
        """y [B, T, PDFS] -> log Z [B], posteriors [B, T, PDFS]. Scales are taken out every second frame."""
        rows, times, _ = y.shape
        units = self.units
        top = y.amax(2, keepdim=True)
        e = (y - top).exp().permute(1, 2, 0)
        first = e[:, self.first].contiguous()[..., None]  # [T, p, B, 1]
        rest = e[:, self.rest].contiguous()[..., None]
        a = y.new_zeros(times, units, rows, units)  # in the first frame of p, history h last
        b = torch.zeros_like(a)  # in a later frame of p
        a[0, :, :, 0] = self.ahead[0, 0][:, None] * first[0, :, :, 0]
        log_z = top.sum((1, 2))
        for t in range(times):
            if t:
                s = a[t - 1] + b[t - 1]
                torch.mul(torch.bmm(s, self.ahead).permute(2, 1, 0), first[t], out=a[t])
                torch.mul(s, rest[t], out=b[t])
            if t % 2 == 0 or t == times - 1:
                z = (a[t] + b[t]).sum((0, 2)).clamp(min=1e-30)[None, :, None]
                a[t].div_(z)
                b[t].div_(z)
                log_z = log_z + z[0, :, 0].log()
        r = torch.ones_like(a)
        for t in range(times - 1, 0, -1):
            out = torch.bmm((r[t] * first[t]).permute(2, 1, 0), self.back)
            torch.add(out, r[t] * rest[t], out=r[t - 1])
            if t % 2 == 0:
                r[t - 1].div_(r[t - 1].amax((0, 2), keepdim=True).clamp(min=1e-30))
        in_first, in_rest = a.mul_(r).sum(3), b.mul_(r).sum(3)
        z = (in_first + in_rest).sum(1, keepdim=True).clamp(min=1e-30)
        posteriors = torch.zeros_like(y)
        posteriors.index_add_(2, self.first, (in_first / z).permute(2, 0, 1))
        posteriors.index_add_(2, self.rest, (in_rest / z).permute(2, 0, 1))
        return log_z, posteriors


class LatticeFreeMmi:
    """log Z(any) - log Z(said), summed over rows, and its gradient; on a GPU as one recorded graph a shape."""

    def __init__(self, denominator: Denominator) -> None:
        self.denominator = denominator
        self.recorded: dict[tuple[object, ...], tuple[torch.cuda.CUDAGraph, list[Tensor], tuple[Tensor, ...]]] = {}

    def compute(self, y: Tensor, chains: Chains) -> tuple[Tensor, Tensor, Tensor]:
        """Return (loss, gradient with respect to y, share of rows that fit); rows that do not fit count nothing."""
        said, wanted = numerator(y, chains)
        possible, found = self.denominator(y)
        fits = (said > NEVER / 2) & torch.isfinite(said) & torch.isfinite(possible)
        loss = torch.where(fits, possible - said, torch.zeros_like(said)).sum()
        return loss, (found - wanted) * fits[:, None, None], fits.float().mean()

    def __call__(self, y: Tensor, chains: Chains) -> tuple[Tensor, Tensor, Tensor]:
        if not y.is_cuda:
            return self.compute(y, chains)
        key = (*y.shape, chains.pdf.shape[1])
        if key not in self.recorded:
            inputs = [y.clone(), *(f.clone() for f in chains.fields())]
            side = torch.cuda.Stream()
            side.wait_stream(torch.cuda.current_stream())
            with torch.cuda.stream(side):
                self.compute(inputs[0], Chains(*inputs[1:]))
            torch.cuda.current_stream().wait_stream(side)
            graph = torch.cuda.CUDAGraph()
            with torch.cuda.graph(graph):
                result = self.compute(inputs[0], Chains(*inputs[1:]))
            self.recorded[key] = (graph, inputs, result)
        graph, inputs, result = self.recorded[key]
        for held, given in zip(inputs, (y, *chains.fields()), strict=True):
            held.copy_(given)
        graph.replay()
        return result


class KnownGradient(torch.autograd.Function):
    """A value whose gradient with respect to y is already there."""

    @staticmethod
    def forward(ctx: torch.autograd.function.FunctionCtx, y: Tensor, value: Tensor, gradient: Tensor) -> Tensor:
        ctx.save_for_backward(gradient)
        return value.clone()

    @staticmethod
    def backward(ctx: torch.autograd.function.FunctionCtx, out: Tensor) -> tuple[Tensor, None, None]:
        return ctx.saved_tensors[0] * out, None, None


def phone_trigram(sequences: list[list[int]], flat: float = 0.3, w3: float = 4.0, w2: float = 8.0) -> Tensor:
    """[h, p, q] probabilities, interpolated with the bigram and unigram (Witten-Bell-like weights).

    `flat` of the mass goes to all units alike. Without it nothing holds down the score of a rare phone in a place where
    it never stands (ZH after ZH, say), and a graph whose filler takes any phone at one price then hears it there.
    """
    k = len(UNITS)
    three = np.zeros((k, k, k))
    for sequence in sequences:
        h = p = 0
        for q in sequence:
            three[h, p, q] += 1
            h, p = p, q
    two = three.sum(0)
    one = (two.sum(0) + 1) / (two.sum() + k)
    pairs = (two + w2 * one) / (two.sum(1, keepdims=True) + w2)
    counted = (three + w3 * pairs[None]) / (three.sum(2, keepdims=True) + w3)
    return torch.tensor((1 - flat) * counted + flat / k, dtype=torch.float32)


assert 2 * len(UNITS) - 1 == PDFS
