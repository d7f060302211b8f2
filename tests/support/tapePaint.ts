import type { StripPaint } from './drawLineScene.ts';

export interface TapeLook {
  readonly system: 'in' | 'cm';
  readonly widthM: number;
  readonly base: readonly [number, number, number];
  readonly ink: readonly [number, number, number];
  /** Finest graduation drawn, in parts of an inch or centimetre: 16, 8, 4, 2, 1 or 10, 2, 1. */
  readonly finest: number;
  readonly edges: 'one' | 'both';
  readonly numerals: boolean;
  /** Foot marks or ten-centimetre marks in red. */
  readonly bigMarks: boolean;
}

/** Paint of a graduated tape: tick lengths by rank, numerals as seven-segment figures, from its own description. */
export function tapePaint(look: TapeLook): StripPaint {
  const unit = look.system === 'in' ? 0.0254 : 0.01;
  const perBig = look.system === 'in' ? 12 : 10;
  const numeralEvery = look.system === 'in' ? 1 : 1;
  return (along, across) => {
    const inUnits = along / unit;
    const w = look.widthM;
    const fromEdge = w / 2 - Math.abs(across);
    if (across < 0 || look.edges === 'both') {
      const slot = Math.round(inUnits * look.finest);
      const offM = Math.abs(inUnits - slot / look.finest) * unit;
      const thick = slot % look.finest === 0 ? 0.00045 : 0.0003;
      if (offM < thick && fromEdge < tickLength(slot, look) * w) return look.ink;
    }
    const whole = Math.round(inUnits);
    if (look.bigMarks && whole % perBig === 0 && Math.abs(inUnits - whole) * unit < 0.0012) return [200, 30, 30];
    if (look.numerals) {
      const n = Math.floor(inUnits + 0.5);
      if (n % numeralEvery === 0 && n > 0) {
        const height = 0.34 * w;
        const text = String(look.system === 'in' ? n : n);
        const digitW = Math.min(height * 0.55, (unit * 0.8) / text.length);
        const x = (inUnits - n) * unit - 0.0012;
        const v = (across - 0.02 * w) / height + 0.5;
        const i = Math.floor(x / digitW);
        if (x >= 0 && i < text.length && v >= 0 && v <= 1) {
          if (figure(Number(text[i]), (x / digitW - i) / 0.8, v)) {
            return look.bigMarks && n % perBig === 0 ? [200, 30, 30] : look.ink;
          }
        }
      }
    }
    return look.base;
  };
}

function tickLength(slot: number, look: TapeLook): number {
  const f = look.finest;
  if (slot % f === 0) return 0.45;
  if (slot % (f / 2) === 0) return 0.32;
  if (look.system === 'cm') return 0.2;
  if (f >= 4 && slot % (f / 4) === 0) return 0.26;
  if (f >= 8 && slot % (f / 8) === 0) return 0.2;
  return 0.14;
}

const SEGMENTS = ['abcdef', 'bc', 'abged', 'abgcd', 'fgbc', 'afgcd', 'afgedc', 'abc', 'abcdefg', 'abcdfg'] as const;

function figure(digit: number, x: number, y: number): boolean {
  if (x < 0 || x > 1) return false;
  const on = SEGMENTS[digit]!;
  const t = 0.2;
  return (
    (on.includes('a') && y > 1 - t) ||
    (on.includes('d') && y < t) ||
    (on.includes('g') && Math.abs(y - 0.5) < t / 2) ||
    (on.includes('f') && x < t && y > 0.5) ||
    (on.includes('e') && x < t && y < 0.5) ||
    (on.includes('b') && x > 1 - t && y > 0.5) ||
    (on.includes('c') && x > 1 - t && y < 0.5)
  );
}
