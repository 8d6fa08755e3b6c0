#!/bin/bash
# Make synthetic speech and train on one machine with a GPU: device.sh STORE STAGE MINUTES TOTAL OUT [KOKORO_SECONDS]
#
# STORE holds speech/ (the training recordings), text/ (texts.py), bench_words.txt (what the program listens
# for), flite/ (the program and its libraries) and kokoro/ (model.onnx, vocab.json, voices). Two GPUs train two sizes side by side. Synthesis goes on while training runs.
set -u
store=$1 stage=$2 minutes=$3 total=$4 out=$5 kokoro_seconds=${6:-0}
here=$(dirname "$0")
cores=$(nproc)
synth=$store/synth
mkdir -p "$synth" "$out"
if [ "$stage" = first ]; then
    python3 "$here/synth.py" espeak "$store/text" "$synth" --seconds 14 --jobs "$cores" || exit 1
fi
if [ "$kokoro_seconds" != 0 ]; then
    if [ -x "$store/flite/flite" ]; then
        LD_LIBRARY_PATH=$store/flite/lib nice -n 10 python3 "$here/synth.py" flite "$store/text" "$synth" --seconds 25 \
            --jobs "$cores" --program "$store/flite/flite" --seed "$RANDOM" &
    fi
    nice -n 10 python3 "$here/synth.py" kokoro "$store/text" "$synth" --seconds "$kokoro_seconds" --jobs $((cores * 6 / 10)) \
        --model "$store/kokoro/model.onnx" --vocabulary "$store/kokoro/vocab.json" --voices "$store/kokoro" --seed "$RANDOM" &
    sleep 20
fi
number=0
waiting=()
for config in ${CONFIGS:-wide base}; do
    [ -e "/dev/nvidia$number" ] || [ "$number" = 0 ] || break
    resume=()
    [ -e "$store/train$number/state.pt" ] && resume=(--resume "$store/train$number/state.pt")
    CUDA_VISIBLE_DEVICES=$number python3 "$here/train.py" --speech "$store/speech" --synth "$synth" --lexicon "$store/text/lexicon.json" \
        --bench "$store/bench_words.txt" \
        --out "$store/train$number" --config "$config" --minutes "$minutes" --total-minutes "$total" --seed "$((number + 1))" \
        "${resume[@]}" ${EXTRA:-} &
    waiting+=($!)
    number=$((number + 1))
done
wait "${waiting[@]}"
for k in $(seq 0 $((number - 1))); do
    cp "$store/train$k/model.pt" "$out/model$k.pt"
    cp "$store/train$k/log.txt" "$out/log$k.txt"
done
python3 - "$synth" <<'P'
import collections, json, pathlib, sys
total = collections.Counter()
for p in pathlib.Path(sys.argv[1]).glob("*.json"):
    total[p.name.split("_")[0]] += sum(r[1] for r in json.loads(p.read_text())) / 57.6e6
print({k: round(v, 2) for k, v in total.items()})
P
