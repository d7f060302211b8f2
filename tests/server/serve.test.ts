import { spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { sql } from 'kysely';
import { describe, expect, test } from 'vitest';
import { parseServeArgs } from '../../src/cli/commands/parseServeArgs.ts';
import { runServe } from '../../src/cli/commands/serve.ts';
import { openArchive } from '../../src/server/openArchive.ts';
import { temporaryFolder } from './support.ts';

const quiet = () => {
  const said: string[] = [];
  return {
    said,
    io: { stdout: (text: string) => said.push(text), stderr: (text: string) => said.push(text) } as never,
  };
};

describe('the options of serve', () => {
  test('nothing needs to be set up', () => {
    expect(parseServeArgs([], {})).toMatchObject({
      ok: true,
      value: { host: '127.0.0.1', port: 8417, data: 'rowledger-data', token: null },
    });
    expect(parseServeArgs(['--demo'], {})).toMatchObject({ ok: true, value: { data: 'rowledger-demo' } });
  });

  test('reachable by others only with a passphrase', () => {
    expect(parseServeArgs(['--host', '0.0.0.0'], {})).toMatchObject({ ok: false, wanted: '--token WORDS as well' });
    expect(parseServeArgs(['--host', '0.0.0.0', '--token', 'short'], {})).toMatchObject({ ok: false });
    expect(parseServeArgs(['--host', '0.0.0.0', '--token', 'twelve letters'], {})).toMatchObject({ ok: true });
    expect(parseServeArgs(['--host', '192.168.1.5'], { ROWLEDGER_TOKEN: 'twelve letters' })).toMatchObject({
      ok: true,
    });
  });

  test.each([[['--port', 'x']], [['--port', '70000']], [['--nonsense']], [['extra']], [['--cert', 'a.pem']]])(
    '%j is refused',
    async (args) => {
      const { io, said } = quiet();
      expect(await runServe(args, io)).toBe(2);
      expect(said.join('')).toMatch(/^rowledger serve: .+; wanted: .+\. See rowledger serve --help\.\n$/);
    },
  );
});

describe('a data folder', () => {
  test('is opened by one server at a time; one left locked by a killed server is opened', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'LOCK'), '1');
    const { io, said } = quiet();
    expect(await runServe(['--data', folder, '--port', '0'], io)).toBe(1);
    expect(said.join('')).toContain('process 1 has open');
    // No process has this number: the largest that Linux gives is 4194304.
    writeFileSync(join(folder, 'LOCK'), '99999999');
    await (await openArchive(folder)).close();
    expect(existsSync(join(folder, 'LOCK'))).toBe(false);
  });

  test('made by a newer version is refused by name and left alone', async () => {
    const folder = temporaryFolder();
    const archive = await openArchive(folder);
    await sql`insert into kysely_migration (name, timestamp) values ('999', '2030')`.execute(archive.db);
    await archive.close();
    await expect(openArchive(folder)).rejects.toMatchObject({
      fault: { code: 'too-new', found: 'a data folder at step 999' },
    });
    expect(existsSync(join(folder, 'LOCK'))).toBe(false);
  });
});

test('smoke: the command starts, answers with the demonstration farm, and stops in order when told to', async () => {
  const folder = temporaryFolder();
  const command = ['--import', 'tsx', 'src/cli/main.ts', 'serve', '--demo', '--data', folder, '--port', '0'];
  const server = spawn(process.execPath, command, { stdio: ['ignore', 'pipe', 'pipe'] });
  const address = await new Promise<string>((resolve, reject) => {
    let errors = '';
    server.stdout.once('data', (text) => resolve(String(text).trim()));
    server.stderr.on('data', (text) => {
      errors += String(text);
    });
    server.once('exit', (code) => reject(new Error(`ended with ${code}: ${errors}`)));
  });
  expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  expect(readFileSync(join(folder, 'LOCK'), 'utf8')).toBe(String(server.pid));
  const visits = (await (await fetch(`${address}/api/things/visit`)).json()) as { total: number };
  expect(visits.total).toBeGreaterThan(0);
  const ended = new Promise((resolve) => server.once('exit', resolve));
  server.kill('SIGTERM');
  expect(await ended).toBe(0);
  expect(existsSync(join(folder, 'LOCK'))).toBe(false);
});
