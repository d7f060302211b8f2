#!/bin/sh
# Generates, trains, evaluates and exports the seedling detector. Arguments go to train.py (see README.md).
#   scripts/train/run.sh --out artifacts/train                    all GPUs of the machine
#   scripts/train/run.sh --small --out artifacts/train-small      a CPU, minutes: checks the chain, learns nothing
set -e
here=$(cd "$(dirname "$0")" && pwd)
build=${BUILD_DIR:-$here/../../artifacts/render}
python=${PYTHON:-python3}
mkdir -p "$build"
if command -v nvcc >/dev/null && [ -e /dev/nvidiactl ]; then
  nvcc -O3 --use_fast_math -arch=native --default-stream per-thread -Xcompiler -fPIC -shared "$here/render/render.cu" -o "$build/librender.so"
else
  g++ -O3 -march=native -ffast-math -fopenmp -fPIC -shared -x c++ "$here/render/render.cu" -o "$build/librender.so"
fi
processes=${PROCESSES:-$(nvidia-smi -L 2>/dev/null | grep -c GPU || true)}
export PYTHONUNBUFFERED=1
if [ "$processes" -gt 1 ]; then
  export WORLD_SIZE=$processes MASTER_ADDR=127.0.0.1 MASTER_PORT=29517
  trap 'kill $others 2>/dev/null || true' EXIT
  others=
  for rank in $(seq 1 $((processes - 1))); do
    RANK=$rank LOCAL_RANK=$rank "$python" "$here/train.py" --library "$build/librender.so" "$@" &
    others="$others $!"
  done
  export RANK=0 LOCAL_RANK=0
fi
"$python" "$here/train.py" --library "$build/librender.so" "$@"
