"""Lattice-free MMI over words, computed exactly: no lattices and no transducer library.

score = log p(sound | the words said) - log p(sound | anything that the decoder could take it for), with the net's
outputs as frame scores. The denominator is the decoder's own graph (grammar.py), run forward and backward; the
numerator is the chain of the row's phones, with the same costs and optional silence between words.
Povey and others, "Purely sequence-trained neural networks for ASR based on lattice-free MMI", 2016.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import torch
from grammar import Graph, Priced
from phones import PDFS, first_pdf, rest_pdf
from torch import Tensor

NEVER = -1e5
State = tuple[int, float, float, float]
"""Of a numerator: its pdf, and the log probabilities of entering it, of staying and of passing over it."""


def chain(said: Sequence[Priced], loop: float) -> list[State]:
    """The numerator's states; `loop` is the cost of each further frame of a sound."""
    silence = (0, 0.0, 0.0, 0.0)
    states = [silence]
    for units, costs in said:
        for unit, cost in zip(units, costs, strict=True):
            states.append((first_pdf(unit), -cost, NEVER, NEVER))
            states.append((rest_pdf(unit), -loop, -loop, 0.0))
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


def pad_chains(rows: list[list[State]], multiple: int = 128) -> Chains:
    """Pad to a multiple, so that few shapes occur (each shape is one recorded CUDA graph)."""
    longest = -(-max(map(len, rows)) // multiple) * multiple
    shape = (len(rows), longest)
    pdf = np.zeros(shape, np.int64)
    stay, skip, enter = (np.full(shape, NEVER, np.float32) for _ in range(3))
    for i, states in enumerate(rows):
        n = len(states)
        pdf[i, :n], enter[i, :n], stay[i, :n], skip[i, :n] = zip(*states, strict=True)
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
    """Everything that the decoder could take a row for: log Z and the posteriors under it."""

    def __init__(self, graph: Graph, background: float, device: str) -> None:
        """background: the cost of a word that a row does not ask for, beside that of a word."""
        self.graph = Graph(*(getattr(graph, name).to(device) for name in Graph.__slots__))
        self.onto_pdf = torch.zeros(len(graph.pdf), PDFS, device=device)
        self.onto_pdf[torch.arange(len(graph.pdf)), graph.pdf] = 1.0
        self.refused = math.exp(-background)

    def __call__(self, y: Tensor, asked: Tensor) -> tuple[Tensor, Tensor]:
        """y [B, T, PDFS], asked [B, pronunciations] (bool) -> log Z [B], posteriors [B, T, PDFS].

        Probabilities, not logs: every frame's are divided by their sum (forward) or their largest (backward).
        """
        g, (rows, times, _) = self.graph, y.shape
        states = len(g.pdf)
        top = y.amax(2, keepdim=True)
        e = (y - top).exp().transpose(0, 1)  # [T, B, PDFS]
        price = y.new_ones(rows, states)
        price[:, g.doors] = torch.where(asked, 1.0, self.refused)
        forward = y.new_zeros(times, rows, states + 2)  # two columns of padding on the left
        torch.mul(e[0].index_select(1, g.pdf) * price, g.begin, out=forward[0, :, 2:])
        z = forward[0].sum(1, keepdim=True).clamp(min=1e-30)
        log_z = top.sum((1, 2))
        for t in range(1, times):
            log_z = log_z + z[:, 0].log()
            x = forward[t - 1]
            s = torch.addmm(x[:, 2:] * g.stay, x[:, 2:] @ g.leave, g.enter)
            s.addcmul_(x[:, 1:-1], g.one).addcmul_(x[:, :-2], g.two).mul_(price)
            torch.mul(s, (e[t] / z).index_select(1, g.pdf), out=forward[t, :, 2:])
            z = forward[t].sum(1, keepdim=True).clamp(min=1e-30)
        log_z = log_z + (forward[times - 1, :, 2:] @ g.end).clamp(min=1e-30).log()
        found = y.new_zeros(times, rows, y.shape[2])
        r = g.end.expand(rows, states).contiguous()
        ahead = y.new_zeros(rows, states + 2)  # and on the right
        for t in range(times - 1, -1, -1):
            torch.matmul(forward[t, :, 2:] * r, self.onto_pdf, out=found[t])
            if t:
                most = r.amax(1, keepdim=True).clamp(min=1e-30)
                v = torch.mul(r * price, (e[t] / most).index_select(1, g.pdf), out=ahead[:, :states])
                r = torch.addmm(v * g.stay, v @ g.enter.T, g.leave.T)
                r[:, :-1].addcmul_(ahead[:, 1:states], g.one[1:])
                r[:, :-2].addcmul_(ahead[:, 2:states], g.two[2:])
        return log_z, (found / found.sum(2, keepdim=True).clamp(min=1e-30)).transpose(0, 1)


class LatticeFreeMmi:
    """log Z(any) - log Z(said), summed over rows, and its gradient; on a GPU as one recorded graph a shape."""

    def __init__(self, denominator: Denominator) -> None:
        self.denominator = denominator
        self.recorded: dict[tuple[object, ...], tuple[torch.cuda.CUDAGraph, list[Tensor], tuple[Tensor, ...]]] = {}

    def compute(self, y: Tensor, asked: Tensor, chains: Chains) -> tuple[Tensor, Tensor, Tensor]:
        """Return (loss, gradient with respect to y, share of rows that fit); rows that do not fit count nothing."""
        said, wanted = numerator(y, chains)
        possible, found = self.denominator(y, asked)
        fits = (said > NEVER / 2) & torch.isfinite(said) & torch.isfinite(possible)
        loss = torch.where(fits, possible - said, torch.zeros_like(said)).sum()
        return loss, (found - wanted) * fits[:, None, None], fits.float().mean()

    def __call__(self, y: Tensor, asked: Tensor, chains: Chains) -> tuple[Tensor, Tensor, Tensor]:
        if not y.is_cuda:
            return self.compute(y, asked, chains)
        key = (*y.shape, chains.pdf.shape[1])
        if key not in self.recorded:
            inputs = [y.clone(), asked.clone(), *(f.clone() for f in chains.fields())]
            side = torch.cuda.Stream()
            side.wait_stream(torch.cuda.current_stream())
            with torch.cuda.stream(side):
                self.compute(*inputs[:2], Chains(*inputs[2:]))
            torch.cuda.current_stream().wait_stream(side)
            graph = torch.cuda.CUDAGraph()
            with torch.cuda.graph(graph):
                result = self.compute(*inputs[:2], Chains(*inputs[2:]))
            self.recorded[key] = (graph, inputs, result)
        graph, inputs, result = self.recorded[key]
        for held, given in zip(inputs, (y, asked, *chains.fields()), strict=True):
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
