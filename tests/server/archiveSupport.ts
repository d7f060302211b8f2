import { expect } from 'vitest';
import { fakePhoto, sha256Of, type TestServer, testDevice, testServer, testVisit } from './support.ts';

export const keep = async (server: TestServer, photo: Uint8Array) =>
  server.deps.photos.append(sha256Of(photo), 0, photo.length, photo);

export const exported = async (server: TestServer, query = ''): Promise<Uint8Array> => {
  const answer = await server.app.request(`/api/export${query}`);
  expect(answer.status).toBe(200);
  return new Uint8Array(await answer.arrayBuffer());
};

export const imported = async (server: TestServer, zip: Uint8Array) => {
  const answer = await server.app.request('/api/import', {
    method: 'POST',
    headers: { 'Content-Type': 'application/zip' },
    body: zip as BodyInit,
  });
  return {
    status: answer.status,
    body: (await answer.json()) as { error?: { code: string; message: string }; photos: number },
  };
};

export const photoCount = (id: string, sha256: string) => ({
  id,
  kind: 'photo',
  result: {
    schema: 'rowledger/count@1',
    photo: { file: '=row.jpg', sha256, takenAt: null },
    stretch: { fromM: 0, toM: 3, lengthM: 3 },
    plants: [],
    count: { value: 30, low: 28, high: 33, level: 0.9 },
    gaps: [],
  },
});

/** Two fields, two visits with a photo each, a field with an outline, a correction by another person. */
export async function filled() {
  const server = await testServer();
  const [ada, ben] = [testDevice('Ada'), testDevice('Ben')];
  const photos = [fakePhoto(1, 3000), fakePhoto(2, 2000)];
  for (const photo of photos) await keep(server, photo);
  const visit = (n: number) =>
    testVisit(`visit-${n}`, {
      field: { id: `field-${n}`, name: `Field "${n}", north` },
      planting: { id: `planting-${n}`, plantedOn: '2026-06-01', marketClass: 'pinto', rowWidth: '30 in' },
      spots: [{ id: 's1', position: [47.1, -98.2], counts: [photoCount('c1', sha256Of(photos[n - 1] as Uint8Array))] }],
    });
  const outline = [
    [47, -98],
    [47, -97.99],
    [47.01, -97.99],
    [47.01, -98],
  ];
  const first = [
    ada.edit('field', 'field-1', {
      schema: 'rowledger/field@1',
      id: 'field-1',
      name: 'Field one',
      farmId: 'farm-1',
      outline,
    }),
    ada.edit('farm', 'farm-1', { schema: 'rowledger/farm@1', id: 'farm-1', name: 'Hollow Elm Farm' }),
    ada.edit('visit', 'visit-1', visit(1)),
    ada.edit('visit', 'visit-2', visit(2)),
  ];
  ben.learn(first);
  const second = ben.edit('visit', 'visit-1', { ...visit(1), visitedOn: '2026-06-19' });
  await server.post('/api/sync', { records: [...first, second], after: null });
  return { server, photos, records: [...first, second] };
}
