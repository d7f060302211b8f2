#!/bin/sh
# Generates, trains, evaluates and exports the seedling detector. Arguments go to train.py (see README.md).
#   scripts/train/run.sh --out artifacts/train                    one GPU, about 9 minutes
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
PYTHONUNBUFFERED=1 exec "$python" "$here/train.py" --library "$build/librender.so" "$@"
