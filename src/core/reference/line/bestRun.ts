/**
 * The run of greatest sum of (likeness - 0.4), so that gaps are bridged when more lies beyond them (maximum subarray,
 * Bentley 1984). Returns first and last index and how many of the run are above one half; last < first when none is.
 */
export function bestRun(likeness: Float32Array): [number, number, number] {
  let best = 0;
  let sum = 0;
  let start = 0;
  let from = 0;
  let to = -1;
  for (let i = 0; i < likeness.length; i++) {
    sum += likeness[i]! - 0.4;
    if (sum <= 0) {
      sum = 0;
      start = i + 1;
    } else if (sum > best) {
      best = sum;
      from = start;
      to = i;
    }
  }
  let visible = 0;
  for (let i = from; i <= to; i++) if (likeness[i]! > 0.5) visible++;
  return [from, to, visible];
}
