import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, onTestFinished } from 'vitest';
import type { ChangeRecord } from '../../src/core/sync/changeRecord.ts';
import { editThing } from '../../src/core/sync/editThing.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { mergeRecords } from '../../src/core/sync/mergeRecords.ts';
import { createApp } from '../../src/server/app.ts';
import type { AppDeps } from '../../src/server/appDeps.ts';
import { diskSteps, type FileSteps } from '../../src/server/files/fileSteps.ts';
import { openArchive } from '../../src/server/openArchive.ts';

export interface TestServer {
  readonly app: ReturnType<typeof createApp>;
  readonly deps: AppDeps;
  readonly folder: string;
  /** Faults the server did not expect. */
  readonly reported: unknown[];
  readonly get: (path: string) => Promise<{ status: number; body: never }>;
  readonly post: (path: string, body: unknown) => Promise<{ status: number; body: never }>;
  readonly close: () => Promise<void>;
}

/** A server on an empty folder that is removed after the test. */
export async function testServer(
  overrides: Partial<AppDeps> = {},
  steps: FileSteps = diskSteps,
  folder = temporaryFolder(),
): Promise<TestServer> {
  const archive = await openArchive(folder, steps);
  const reported: unknown[] = [];
  const deps: AppDeps = {
    ...archive,
    token: null,
    hosts: ['localhost'],
    uiFolder: null,
    version: '0.0.0',
    report: (error) => reported.push(error),
    ...overrides,
  };
  const app = createApp(deps);
  const told = async (answer: Response) => ({ status: answer.status, body: (await answer.json()) as never });
  return {
    app,
    deps,
    folder,
    reported,
    get: async (path) => told(await app.request(path)),
    post: async (path, body) =>
      told(
        await app.request(path, {
          method: 'POST',
          headers: { 'Content-Type': 'application/json' },
          body: JSON.stringify(body),
        }),
      ),
    close: archive.close,
  };
}

export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'rowledger-test-'));
  const remove = () => rmSync(folder, { recursive: true, force: true });
  try {
    onTestFinished(remove);
  } catch {
    // Made before the tests of a file: it goes after them.
    afterAll(remove);
  }
  return folder;
}

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Bytes that begin like a JPEG and go on as chance has it: enough for keeping, not for looking at. */
export function fakePhoto(seed: number, bytes: number): Uint8Array {
  const photo = new Uint8Array(bytes);
  let state = (seed * 2654435761 + 1) >>> 0;
  for (let i = 0; i < bytes; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    photo[i] = state >>> 24;
  }
  photo.set([0xff, 0xd8, 0xff, 0xe0]);
  return photo;
}

/** One device of one person: records edits to documents, and keeps every record it has. */
export function testDevice(author: string) {
  const records: ChangeRecord[] = [];
  let sequence = 0;
  return {
    author,
    records,
    learn(others: readonly ChangeRecord[]) {
      for (const one of others) if (!records.some((own) => own.id === one.id)) records.push(one);
    },
    document: (kind: ChangeRecord['kind'], thing: string) => mergedOf(records, kind, thing).document,
    edit(kind: ChangeRecord['kind'], thing: string, next: unknown, minute = 0): ChangeRecord {
      const now = mergedOf(records, kind, thing);
      sequence++;
      const record: ChangeRecord = {
        schema: 'rowledger/record@1',
        id: testId(`${author} ${sequence}`),
        device: `phone-of-${author}`,
        sequence,
        author,
        at: `2026-06-20T10:${String(minute).padStart(2, '0')}:00.000Z`,
        kind,
        thing,
        parents: now.frontier,
        changes: editThing(now, next as Json),
      };
      records.push(record);
      return record;
    },
  };
}

function mergedOf(records: readonly ChangeRecord[], kind: string, thing: string) {
  return mergeRecords(records.filter((record) => record.kind === kind && record.thing === thing));
}

/** A UUID that is the same for the same name. */
export function testId(name: string): string {
  const hex = sha256Of(Buffer.from(name));
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-4${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

/** A small valid visit to a field. */
export function testVisit(id: string, parts: Record<string, unknown> = {}) {
  return {
    schema: 'rowledger/visit@2',
    id,
    visitedOn: '2026-06-18',
    units: 'imperial',
    people: [
      { id: 'ada', name: 'Ada Lind' },
      { id: 'ben', name: 'Ben Okoro' },
    ],
    farm: { id: 'farm-1', name: 'Hollow Elm Farm' },
    field: { id: 'field-1', name: 'Ridge Forty' },
    season: 2026,
    planting: { id: 'planting-1', plantedOn: '2026-06-01', marketClass: 'pinto', rowWidth: '30 in' },
    spots: [
      {
        id: 's1',
        by: 'ada',
        position: [47.1, -98.2],
        counts: [{ id: 'c1', kind: 'rows', length: '10 ft', plants: [40] }],
      },
    ],
    ...parts,
  };
}
