"""Kaldi's 40-cepstrum MFCC and the augmentation of whole batches of sound, in torch, on one device.

The features equal Kaldi's with --num-mel-bins=40 --num-ceps=40 --low-freq=20 --high-freq=-400
--use-energy=false --dither=0 --snip-edges=true (tests/training compare them with kaldi-native-fbank's).
"""

import math

import torch
from shards import RATE
from torch import Tensor
from torch.nn import functional

WINDOW, HOP, FFT, BINS = 400, 160, 512, 40
FLOOR = 1.1920929e-07
WARPS = [0.84 + 0.02 * k for k in range(17)]
"""Factors by which formants can be moved (vocal tract length); number 8 is 1."""


def mel_filters(warp: float, low: float = 20.0, high: float = 7600.0) -> Tensor:
    """[FFT/2, BINS] triangles on the mel scale, for a spectrum whose frequencies are multiplied by warp."""

    def mel(f: Tensor) -> Tensor:
        return 1127.0 * torch.log1p(f / 700.0)

    f = torch.arange(FFT // 2, dtype=torch.float64) * RATE / FFT * warp
    ends = mel(torch.tensor([low, high], dtype=torch.float64))
    edges = ends[0] + (ends[1] - ends[0]) * torch.arange(BINS + 2, dtype=torch.float64) / (BINS + 1)
    rise = (mel(f)[:, None] - edges[:-2]) / (edges[1:-1] - edges[:-2])
    fall = (edges[2:] - mel(f)[:, None]) / (edges[2:] - edges[1:-1])
    return torch.minimum(rise, fall).clamp(min=0).float()


def cosine_matrix(lifter: float = 22.0) -> Tensor:
    """[BINS, BINS] from log mel energies to liftered cepstra."""
    i = torch.arange(BINS, dtype=torch.float64)
    matrix = torch.cos(math.pi / BINS * (i[:, None] + 0.5) * i[None, :]) * math.sqrt(2.0 / BINS)
    matrix[:, 0] = math.sqrt(1.0 / BINS)
    return (matrix * (1 + 0.5 * lifter * torch.sin(math.pi * i / lifter))).float()


class Mfcc(torch.nn.Module):
    """Samples at int16 scale to cepstra, with optional tempo (hop) and formant warp a row."""

    def __init__(self) -> None:
        super().__init__()
        n = torch.arange(WINDOW, dtype=torch.float64)
        povey = (0.5 - 0.5 * torch.cos(2 * math.pi * n / (WINDOW - 1))) ** 0.85
        self.register_buffer("window", povey.float())
        self.register_buffer("filters", torch.stack([mel_filters(w) for w in WARPS]))
        self.register_buffer("cosines", cosine_matrix())

    def log_mel(self, x: Tensor, hop: Tensor | None = None, warp: Tensor | None = None) -> Tensor:
        """x [B, N] -> [B, T, BINS]; hop [B] samples a frame, warp [B] index into WARPS."""
        if hop is None:
            frames = x.unfold(1, WINDOW, HOP)
        else:
            count = (x.shape[1] - WINDOW) // int(HOP * 1.12) + 1
            start = (torch.arange(count, device=x.device)[None] * hop[:, None]).long().clamp(max=x.shape[1] - WINDOW)
            index = start[:, :, None] + torch.arange(WINDOW, device=x.device)
            frames = torch.gather(x, 1, index.reshape(len(x), -1)).view(len(x), count, WINDOW)
        frames = frames - frames.mean(-1, keepdim=True)
        before = torch.cat([frames[..., :1], frames[..., :-1]], -1)
        spectrum = torch.fft.rfft((frames - 0.97 * before) * self.window, FFT)[..., : FFT // 2]
        power = spectrum.real.square() + spectrum.imag.square()
        filters = self.filters[8] if warp is None else self.filters[warp]
        return torch.matmul(power, filters).clamp(min=FLOOR).log()

    def forward(self, x: Tensor) -> Tensor:
        return self.log_mel(x) @ self.cosines


class Augment:
    """Speed, rooms, colour, noise, babble, level, clipping: a fresh draw for every row of every batch."""

    def __init__(self, noise: Tensor, spans: list[tuple[int, int]], device: str, seed: int) -> None:
        """noise: all noises in one int16 tensor; spans: (start, length) of each."""
        self.noise, self.device = noise, device
        self.spans = torch.tensor(spans, device=device)
        self.generator = torch.Generator(device=device).manual_seed(seed)

    def uniform(self, *shape: int) -> Tensor:
        return torch.rand(*shape, generator=self.generator, device=self.device)

    def normal(self, *shape: int) -> Tensor:
        return torch.randn(*shape, generator=self.generator, device=self.device)

    def speed(self, x: Tensor, factor: Tensor) -> Tensor:
        """Resample row b by factor[b] with a four-point cubic; the width stays."""
        n = x.shape[1]
        position = torch.arange(n, device=x.device)[None] * factor[:, None]
        t = position - position.floor()
        i = position.long().clamp_(1, n - 3)
        a, b, c, d = (torch.gather(x, 1, i + k) for k in (-1, 0, 1, 2))
        y = b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)))
        return y * (position < n - 3)

    def room(self, x: Tensor, reverberant: float, coloured: float) -> Tensor:
        """Simulated rooms and microphone colours, in one product of spectra."""
        rows, n = x.shape
        size = 1 << (n + 8000 - 1).bit_length()
        t = torch.arange(8000, device=x.device) / RATE
        decay = 0.08 + 0.6 * self.uniform(rows, 1) ** 1.5
        tail = self.normal(rows, 8000) * torch.exp(-6.9 * t / decay) * (t > 0.002 + 0.012 * self.uniform(rows, 1))
        direct = 10 ** ((-5 + 21 * self.uniform(rows, 1)) / 20)
        tail = tail / (tail.square().sum(1, keepdim=True).sqrt() * direct) * (self.uniform(rows, 1) < reverberant)
        tail[:, 0] = 1.0
        f = torch.linspace(0, RATE / 2, size // 2 + 1, device=x.device).clamp(min=1)
        octave = torch.log2(f.clamp(min=30) / 1000)
        db = (self.uniform(rows, 1) - 0.5) * 8 * octave
        for _ in range(3):
            height, centre, width = (self.uniform(rows, 1) for _ in range(3))
            db = db + (height - 0.5) * 20 * torch.exp(-(((octave - centre * 7 + 4) / (0.4 + 1.2 * width)) ** 2))
        high_pass = 30 * 2 ** (3.6 * self.uniform(rows, 1))
        narrow = torch.where(self.uniform(rows, 1) < 0.25, 2800 + 1500 * self.uniform(rows, 1), 20_000.0)
        db = db - 12 * torch.log2((high_pass / f).clamp(min=1)) - 48 * torch.log2((f / narrow).clamp(min=1))
        db = (db * (self.uniform(rows, 1) < coloured)).clamp(-60, 25)
        return torch.fft.irfft(torch.fft.rfft(x, size) * torch.fft.rfft(tail, size) * 10 ** (db / 20), size)[:, :n]

    def noises(self, rows: int, n: int) -> Tensor:
        """[rows, n] pieces of noise, each of unit level."""
        k = torch.randint(len(self.spans), (rows,), generator=self.generator, device=self.device)
        start, length = self.spans[k, 0], self.spans[k, 1]
        offset = (self.uniform(rows) * length).long()
        index = start[:, None] + (offset[:, None] + torch.arange(n, device=self.device)) % length[:, None]
        z = self.noise[index].float()
        return z / z.square().mean(1, keepdim=True).sqrt().clamp(min=1.0)

    def mix(self, x: Tensor, level: Tensor, noisy: float, low: float, high: float, babble: float = 0.10) -> Tensor:
        """Add noise to a share of the rows, at a ratio between low and high dB, and hiss to nearly all.

        Other people's speech (babble) is added only where somebody speaks: where nobody does it would be alone and
        loud, and be taught as silence.
        """
        rows, n = x.shape
        z = self.noises(rows, n)
        z = z + (self.uniform(rows, 1) < 0.25) * self.noises(rows, n) * self.uniform(rows, 1)
        others = x.roll(1, 0) + x.roll(2, 0) + x.roll(3, 0)
        others = others / others.square().mean(1, keepdim=True).sqrt().clamp(min=1.0)
        z = torch.where((self.uniform(rows, 1) < babble) & (x != 0).any(1, keepdim=True), others, z)
        z = z / z.square().mean(1, keepdim=True).sqrt().clamp(min=1e-3)
        ratio = low + (high - low) * self.uniform(rows, 1)
        y = x + z * level * 10 ** (-ratio / 20) * (self.uniform(rows, 1) < noisy)
        hiss = 10 ** (-(25 + 45 * self.uniform(rows, 1)) / 20) * (self.uniform(rows, 1) < 0.9)
        return y + self.normal(rows, n) * level * hiss

    def level(self, x: Tensor, clipped: float = 0.06) -> Tensor:
        """Set the peak between -1 and -38 dB of full scale, or beyond it (clipping), and round."""
        peak = x.abs().amax(1, keepdim=True).clamp(min=1.0)
        db = -1 - 37 * self.uniform(len(x), 1) ** 1.3
        db = torch.where(self.uniform(len(x), 1) < clipped, 3 + 9 * self.uniform(len(x), 1), db)
        return (x / peak * 32_767 * 10 ** (db / 20)).clamp(-32_768, 32_767).round()

    def gate(self, x: Tensor, spoken: Tensor, share: float, hush: int = 2) -> Tensor:
        """Hush a share of the rows but for stretches round what is `spoken` ([rows, n], bool), as the program does.

        It decodes one utterance at a time, cut out of what the microphone gives, between whole numbers of -hush to
        hush; all rows get these. Of rows in which nobody speaks one stretch stays.
        """
        rows, n = x.shape
        frames = -(-n // HOP)
        near = functional.pad(spoken, (0, frames * HOP - n)).view(rows, frames, HOP).any(2)
        at = torch.arange(frames, device=x.device)
        start = (self.uniform(rows, 1) * 0.6 * frames).long()
        length = 30 + (self.uniform(rows, 1) * 250).long()
        near = torch.where(near.any(1, keepdim=True), near, (at >= start) & (at < start + length))
        before, after = ((self.uniform(rows, 1) ** 2 * 50).long() for _ in range(2))  # 0 to 0.5 s
        sums = functional.pad(near.long().cumsum(1), (1, 0))
        near = sums.gather(1, (at + 1 + before).clamp(max=frames)) > sums.gather(1, (at - after).clamp(min=0))
        kept = (near | (self.uniform(rows, 1) >= share)).repeat_interleave(HOP, 1)[:, :n]
        return x * kept + ((2 * hush + 1) * self.uniform(rows, n)).floor() - hush

    def mask(self, x: Tensor, strength: float = 1.0) -> Tensor:
        """Blank bands and stretches of time (SpecAugment) with the row's mean; strength widens them."""
        rows, times, bins = x.shape
        bin_, time = torch.arange(bins, device=x.device), torch.arange(times, device=x.device)
        mean = x.mean((1, 2), keepdim=True)
        for _ in range(2):
            width = self.uniform(rows, 1) * 6 * strength * (self.uniform(rows, 1) < 0.6)
            start = self.uniform(rows, 1) * (bins - width)
            x = torch.where(((bin_ >= start) & (bin_ < start + width))[:, None, :], mean, x)
            width = self.uniform(rows, 1) * 10 * strength * (self.uniform(rows, 1) < 0.5)
            start = self.uniform(rows, 1) * (times - width)
            x = torch.where(((time >= start) & (time < start + width))[:, :, None], mean, x)
        return x
