import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { runCount } from '../../src/cli/commands/count.ts';
import type { CountResult } from '../../src/core/count/countResult.ts';
import { drawnRow } from '../support/drawnRow.ts';

const folder = mkdtempSync(join(tmpdir(), 'rowledger-cli-'));
/** Ten plants 15 cm apart, then a bare run of 60 cm to the end of a 2.2 m stretch. */
const PLACES_MM = Array.from({ length: 10 }, (_, i) => 200 + 150 * i);
const row = await drawnRow(PLACES_MM, 2200, 1);
const photo = join(folder, 'row.png');
writeFileSync(photo, row.png);

async function count(...args: string[]): Promise<{ status: number; out: string; err: string }> {
  const out: string[] = [];
  const err: string[] = [];
  const io = { stdout: (text: string) => void out.push(text), stderr: (text: string) => void err.push(text) };
  const status = await runCount(args, io);
  return { status, out: out.join(''), err: err.join('') };
}

async function result(...args: string[]): Promise<CountResult> {
  const { out, status, err } = await count(...args, '--model', 'none', '--json');
  expect([0, 4], err).toContain(status);
  return JSON.parse(out) as CountResult;
}

const MARKS = ['--mark', '200,250=0m', '--mark', '800,250=0.6m', '--mark', '1400,250=1.2m', '--mark', '2000,250=1.8m'];

describe('rowledger count', () => {
  it('counts a drawn row by a known scale and places each plant', async () => {
    const r = await result(photo, '--mm-per-px', '1', '--row-width', '75cm');
    expect(r.schema).toBe('rowledger/count@1');
    expect(r.count.value).toBe(10);
    expect(r.count.low).toBeLessThanOrEqual(10);
    expect(r.count.high).toBeGreaterThanOrEqual(10);
    const xs = r.plants
      .filter((p) => p.kind === 'plant')
      .map((p) => p.xPx)
      .sort((a, b) => a - b);
    PLACES_MM.forEach((mm, i) => {
      expect(Math.abs(xs[i]! - mm)).toBeLessThan(12); // half a leaf
    });
  });

  it('measures spacing, gaps and population from hand marks', async () => {
    const r = await result(photo, ...MARKS, '--row-width', '75cm', '--camera-height', '1.6m');
    expect(r.stretch?.lengthM).toBeCloseTo(1.8, 6);
    expect(r.spacing?.meanM).toBeCloseTo(0.15, 1);
    expect(r.gaps.length).toBe(1);
    expect(r.gaps[0]!.toM).toBeCloseTo(1.8, 2);
    const inside = r.plants.filter((p) => p.kind === 'plant' && p.inStretch).length;
    expect(r.count.value).toBe(inside);
    expect(r.population?.perHectare).toBeCloseTo((inside / (1.8 * 0.75)) * 10_000, 3);
    expect(r.population!.lowPerAcre).toBeLessThanOrEqual(r.population!.perAcre);
  });

  it('gives the same answer for the metric and the imperial way of saying the same marks', async () => {
    const metric = await result(photo, ...MARKS, '--row-width', '76.2cm', '--gap', '304.8mm');
    const imperial = await result(
      photo,
      ...[
        '--mark',
        '200,250=0in',
        '--mark',
        '800,250=23.622047244094487in',
        '--mark',
        '1400,250=47.24409448818897in',
        '--mark',
        '2000,250=70.86614173228347in',
      ],
      ...['--row-width', '30in', '--gap', '1ft'],
    );
    expect(imperial.population!.perAcre).toBeCloseTo(metric.population!.perAcre, 3);
    expect(imperial.spacing!.meanM!).toBeCloseTo(metric.spacing!.meanM!, 9);
    expect(imperial.gaps.length).toBe(metric.gaps.length);
  });

  it('lists plants without any length when there is no reference, exit 4', async () => {
    const { status, out } = await count(photo, '--model', 'none', '--json');
    const r = JSON.parse(out) as CountResult;
    expect(status).toBe(4);
    expect(r.reference.kind).toBe('none');
    expect(r.reference.reason!.length).toBeGreaterThan(20);
    expect([r.stretch, r.spacing, r.population, r.gaps]).toEqual([null, null, null, []]);
    expect(r.plants.every((p) => p.alongM === null && p.acrossM === null)).toBe(true);
  });

  it('counts the readable photos and says one line for each other, exit 3', async () => {
    const broken = join(folder, 'broken.jpg');
    writeFileSync(broken, readFileSync(photo).subarray(0, 3000));
    const { status, out, err } = await count(broken, photo, join(folder, 'none.jpg'), '--mm-per-px', '1', '--json');
    expect(status).toBe(3);
    expect(out.trim().split('\n').length).toBe(1);
    expect(err.split('\n').filter((line) => line.includes('broken.jpg: ')).length).toBe(1);
    expect(err).toContain('there is no file');
  });

  it.each([
    [['--reference', 'tape'], 'tape:in'],
    [['--reference', 'rod:6'], 'rod:LENGTH'],
    [['--row-width', '30'], 'unit'],
    [['--row-width', '0in'], 'above 0'],
    [['--mark', '10,10=1ft'], 'two marks'],
    [['--mm-per-px', '-1'], 'above 0'],
    [['--stretch', '10ft..0ft'], 'beyond its beginning'],
    [['--gravity', '0,0,0'], 'X,Y,Z'],
    [['--model', 'none-such'], 'none'],
    [['--colour'], '--help'],
  ])('refuses %j with what is accepted, exit 2', async (args, says) => {
    const { status, out, err } = await count(photo, ...args);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err.trim().split('\n').length).toBe(1);
    expect(err).toContain(says);
  });

  it('takes values that begin with a minus sign', async () => {
    const r = await result(photo, ...MARKS, '--gravity', '-0.02,0.01,0.99');
    expect(r.reference.cues.join(' ')).toMatch(/gravity/);
  });

  it('refuses no photo at all, exit 2', async () => {
    expect((await count()).status).toBe(2);
  });

  it('draws a picture that shows the photo and the numbers', async () => {
    const file = join(folder, 'answer.png');
    await count(photo, '--mm-per-px', '1', '--model', 'none', '--picture', file);
    const meta = await sharp(file).metadata();
    expect(meta.format).toBe('png');
    expect(meta.width).toBe(1800);
  });
});
