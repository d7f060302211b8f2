import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { PhotoResult } from '../../src/core/visit/countSchema.ts';
import { COUNTS_FILE, DEMO_PHOTOS, demoPhotoRecords } from '../../src/server/demo/demoPhotos.ts';
import { demoRecords } from '../../src/server/demo/demoRecords.ts';
import { loadDemo } from '../../src/server/demo/loadDemo.ts';
import { loadDemoPhotos } from '../../src/server/demo/loadDemoPhotos.ts';
import { testServer } from './support.ts';

const FOLDER = join(import.meta.dirname, '../../sample-images');
const results = JSON.parse(readFileSync(join(FOLDER, COUNTS_FILE), 'utf8')) as Record<string, PhotoResult>;

test('what the machine said is of the very pictures that lie there', () => {
  for (const { file } of DEMO_PHOTOS) {
    const hash = createHash('sha256')
      .update(readFileSync(join(FOLDER, file)))
      .digest('hex');
    expect([file, results[file]?.photo.sha256]).toEqual([file, hash]);
  }
});

test('its records go on where those of the farm end, each with a name of its own', () => {
  const all = [...demoRecords(), ...demoPhotoRecords(results)];
  expect(all.map(({ sequence }) => sequence)).toEqual(all.map((_, i) => i + 1));
  expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
});

test('two dates of one field with photos, loaded once however often', async () => {
  const server = await testServer();
  expect(await loadDemo(server.deps as never)).toBe(true);
  for (let i = 0; i < 2; i++) expect(await loadDemoPhotos(server.deps as never)).toBe(true);
  const { items } = (await (await server.app.request('/api/things/visit?search=Mill%20Bend')).json()) as {
    items: { id: string; problem: string | null; verdict: unknown }[];
  };
  expect(items).toHaveLength(2);
  for (const { id, problem, verdict } of items) expect([id, problem, verdict !== null]).toEqual([id, null, true]);
  for (const { file } of DEMO_PHOTOS) {
    const answer = await server.app.request(`/api/photos/${results[file]?.photo.sha256}`);
    expect(Buffer.compare(Buffer.from(await answer.arrayBuffer()), readFileSync(join(FOLDER, file)))).toBe(0);
  }
  await server.close();
});
