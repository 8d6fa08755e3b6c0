"""The features of training are those that vosk makes: compared with Kaldi's own code where that is installed."""

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="training needs torch")

from features import Augment, Mfcc  # noqa: E402


def test_cepstra_equal_kaldis():
    kaldi = pytest.importorskip("kaldi_native_fbank", reason="kaldi-native-fbank isn't installed")
    options = kaldi.MfccOptions()
    options.frame_opts.dither = 0
    options.mel_opts.num_bins = options.num_ceps = 40
    options.mel_opts.low_freq, options.mel_opts.high_freq = 20, -400
    options.use_energy = False
    samples = (np.random.default_rng(0).standard_normal(16_000) * 800).astype(np.float32)
    online = kaldi.OnlineMfcc(options)
    online.accept_waveform(16_000, samples.tolist())
    online.input_finished()
    wanted = np.stack([online.get_frame(i) for i in range(online.num_frames_ready)])
    found = Mfcc()(torch.from_numpy(samples)[None])[0].numpy()
    assert found.shape == wanted.shape == (98, 40)
    assert np.abs(found - wanted).max() < 2e-3


def test_speed_of_one_changes_nothing_and_noise_meets_its_ratio():
    augment = Augment(torch.full((16_000,), 100, dtype=torch.int16), [(0, 16_000)], "cpu", 1)
    x = torch.randn(3, 4000) * 1000
    same = augment.speed(x, torch.ones(3))
    assert torch.allclose(same[:, 2:-4], x[:, 2:-4])
    noise = augment.noises(3, 4000)
    assert torch.allclose(noise.square().mean(1), torch.ones(3), atol=1e-3)


def test_level_stays_in_sixteen_bits():
    augment = Augment(torch.zeros(10, dtype=torch.int16), [(0, 10)], "cpu", 1)
    y = augment.level(torch.randn(50, 400) * 1e6)
    assert y.abs().max() <= 32_768
    assert torch.equal(y, y.round())


def test_nobody_is_heard_in_a_row_in_which_nobody_speaks():
    torch.manual_seed(1)
    augment = Augment(torch.randint(-100, 100, (16_000,), dtype=torch.int16), [(0, 16_000)], "cpu", 1)
    x = torch.randn(4, 8000) * 1000
    x[0] = 0
    others = x[1] + x[2] + x[3]
    mixed = augment.mix(x, torch.full((4, 1), 1000.0), noisy=1.0, low=0.0, high=0.0, babble=1.0)
    assert abs(float(torch.corrcoef(torch.stack([mixed[0], others]))[0, 1])) < 0.1
    assert float(torch.corrcoef(torch.stack([mixed[1] - x[1], x[2] + x[3]]))[0, 1]) > 0.9


def test_hushed_rows_keep_what_is_spoken_between_near_silence():
    augment = Augment(torch.zeros(10, dtype=torch.int16), [(0, 10)], "cpu", 1)
    x = torch.full((40, 64_000), 1000.0)
    spoken = torch.zeros(40, 64_000, dtype=torch.bool)
    spoken[:20, 30_000:34_000] = True
    y = augment.gate(x, spoken, share=1.0)
    assert y[:20, 30_000:34_000].min() >= 998
    assert y[:20, : 30_000 - 8160].abs().max() <= 2
    assert y[:20, 34_000 + 8160 :].abs().max() <= 2
    loud = (y.abs() > 2).float().mean(1)
    assert (loud[:20] < 0.33).all()
    assert ((loud[20:] > 0) & (loud[20:] < 1)).all(), "noise alone is cut out too"
    assert augment.gate(x, spoken, share=0.0).min() >= 998
