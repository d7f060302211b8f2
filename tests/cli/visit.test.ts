import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runVisit } from '../../src/cli/commands/visit.ts';
import { windmillEighty } from '../../src/core/visit/demo/windmillEighty.ts';

const folder = mkdtempSync(join(tmpdir(), 'visit-test-'));

async function run(...args: string[]): Promise<{ status: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const status = await runVisit(args, {
    stdout: (text) => {
      out += text;
    },
    stderr: (text) => {
      err += text;
    },
  });
  return { status, out, err };
}

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

describe('rowledger visit', () => {
  const visit = file('visit.json', JSON.stringify(windmillEighty));

  it('prints the verdict page', async () => {
    const { status, out, err } = await run(visit);
    expect(status).toBe(0);
    expect(err).toBe('');
    expect(out).toMatch(/^KEEP THE STAND\n/);
  });

  it('prints all numbers as one JSON object, the sources, or a page', async () => {
    const json = await run(visit, '--json');
    expect(JSON.parse(json.out)).toMatchObject({
      schema: 'rowledger/assessment@1',
      decision: { verdict: { kind: 'keep' } },
    });
    expect((await run(visit, '--explain')).out).toContain('common practice, no source');
    expect((await run(visit, '--html')).out).toMatch(/^<!doctype html>/);
  });

  it('adds hand counts and temperatures from tables, and can keep the whole', async () => {
    const counts = file('counts.csv', 'spot,plants,length\nA,70 72,17 ft 5 in\nB,68,17 ft 5 in\n');
    const soil = file('soil.csv', 'date,min_f,max_f,medium\n2026-06-01,52,66,soil\n');
    const whole = join(folder, 'whole.json');
    const { status, out } = await run(visit, '--csv', counts, '--temperatures', soil, '--out', whole);
    expect(status).toBe(0);
    expect(out).toContain(`${windmillEighty.spots.length + 2} spots`);
    expect(JSON.parse(readFileSync(whole, 'utf8'))).toMatchObject({ weather: { days: [{ minimum: '52 F' }] } });
    const again = await run(visit, '--out', whole);
    expect(again.status).toBe(3);
    expect(again.err).toContain('is there already');
  });

  it('prints the spots of a table alone', async () => {
    const counts = file('alone.csv', 'spot,plants,diameter\n1,7,30 in\n');
    const { status, out } = await run('--csv', counts);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject([{ id: 'spot-1', counts: [{ kind: 'hoop', plants: 7 }] }]);
  });

  it('knows the demonstration fields', async () => {
    const { out } = await run('--demo');
    const names = out.trim().split('\n');
    expect(names.length).toBeGreaterThanOrEqual(6);
    for (const name of names) expect((await run('--demo', name)).status).toBe(0);
    expect((await run('--demo', 'Nowhere')).status).toBe(2);
  });

  it.each([
    [[], 'no visit file'],
    [['a', 'b'], '2 files'],
    [['--colour', 'x'], "Unknown option '--colour'"],
    [['x', '--json', '--html'], '--json and --html'],
  ])('wrong usage %j is 2, in one line', async (args, found) => {
    const { status, out, err } = await run(...args);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(found);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it.each([
    ['missing.json', null, 'no file'],
    ['empty.json', '', 'not JSON'],
    ['list.json', '[]', 'a list'],
    ['newer.json', '{"schema":"rowledger/visit@99"}', 'version 99'],
    ['typo.json', JSON.stringify({ ...windmillEighty, visitedon: '2026-06-16' }), 'does not know "visitedon"'],
  ])('%s is unreadable: 3, in one line', async (name, text, found) => {
    const path = text === null ? join(folder, name) : file(name, text);
    const { status, err } = await run(path);
    expect(status).toBe(3);
    expect(err).toContain(found);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('a folder in place of a file says so', async () => {
    const { status, err } = await run(folder);
    expect(status).toBe(3);
    expect(err).toContain('is a folder');
  });

  it('helps', async () => {
    const { status, out } = await run('--help');
    expect(status).toBe(0);
    expect(out).toContain('--csv');
  });
});
