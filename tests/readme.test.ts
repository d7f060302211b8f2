import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseCountArgs } from '../src/cli/commands/parseCountArgs.ts';

const README = readFileSync('README.md', 'utf8');

describe('the README', () => {
  it('names only sample images that are there', () => {
    const named = [...README.matchAll(/sample-images\/[\w.-]+/g)].map(([path]) => path);
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((path) => !existsSync(path))).toEqual([]);
  });

  it('counts a sample photo with options that the command knows', () => {
    const [, args] = README.match(/npx rowledger count (.+)/)!;
    const parsed = parseCountArgs(args!.split(' '));
    expect(parsed.ok).toBe(true);
  });

  it('names only scripts that package.json has', () => {
    const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: Record<string, string> };
    const named = [...README.matchAll(/npm run (\w+)/g)].map(([, name]) => name!);
    expect(named.filter((name) => scripts[name] === undefined)).toEqual([]);
  });
});
