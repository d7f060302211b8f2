import { readdir, stat, writeFile } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { countPhoto } from '../../core/count/countPhoto.ts';
import { countText } from '../../core/count/countText.ts';
import type { Photo } from '../../core/count/photo.ts';
import type { CountTools, PhotoAnalysis } from '../../core/count/photoAnalysis.ts';
import { inOneLine } from '../../core/faults/outcome.ts';
import { countPicture } from '../../core/picture/countPicture.ts';
import { METRES_PER_INCH } from '../../core/units/conversions.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import { chooseDetector } from '../../node/chooseDetector.ts';
import { paintPicture } from '../../node/paintPicture.ts';
import { readPhoto } from '../../node/readPhoto.ts';
import { EXIT } from '../exitCodes.ts';
import type { Io } from '../io.ts';
import { COUNT_HELP } from './countHelp.ts';
import { type CountArgs, parseCountArgs } from './parseCountArgs.ts';
import { withHeadFile } from './withHeadFile.ts';

const PHOTO_ENDINGS = new Set(['.jpg', '.jpeg', '.png', '.webp', '.avif', '.heic', '.heif']);

/** `rowledger count PHOTO...`: counts each photo; the exit status is the worst that happened. */
export async function runCount(args: readonly string[], io: Io): Promise<number> {
  const parsed = parseCountArgs(args);
  if (!parsed.ok) {
    io.stderr(`rowledger count: ${inOneLine(parsed)}\n`);
    return EXIT.usage;
  }
  if (parsed.value.help) {
    io.stdout(COUNT_HELP);
    return EXIT.done;
  }
  const chosen = await chooseDetector(parsed.value.model);
  if (!chosen.ok) {
    io.stderr(`rowledger count: ${inOneLine(chosen)}\n`);
    return EXIT.usage;
  }
  const detector = parsed.value.head === null ? chosen : await withHeadFile(chosen.value, parsed.value.head);
  if (!detector.ok) {
    io.stderr(`rowledger count: ${inOneLine(detector)}\n`);
    return EXIT.usage;
  }
  const tools: CountTools = { ...detector.value, nowMs: () => performance.now() };
  return countAll(await photosOf(parsed.value.photos), parsed.value, tools, io);
}

async function countAll(paths: readonly string[], args: CountArgs, tools: CountTools, io: Io): Promise<number> {
  if (args.picture !== null && paths.length > 1 && extname(args.picture) !== '') {
    io.stderr('rowledger count: one picture file for several photos; wanted: a folder for --picture\n');
    return EXIT.usage;
  }
  const system = systemOf(args);
  const seen = { counted: 0, unreadable: 0, noReference: 0, plants: 0 };
  for (const [i, path] of paths.entries()) {
    if (paths.length > 1) io.stderr(`${i + 1}/${paths.length} ${path}\n`);
    const photo = await readPhoto(path);
    if (!photo.ok) {
      io.stderr(`${inOneLine(photo)}\n`);
      seen.unreadable++;
      continue;
    }
    const analysis = await countPhoto(photo.value, args.options, tools);
    seen.counted++;
    seen.plants += analysis.result.count.value;
    if (analysis.result.reference.kind === 'none') seen.noReference++;
    if (args.json) io.stdout(`${JSON.stringify(analysis.result)}\n`);
    else
      io.stdout(
        `${path}\n${countText(analysis.result, system)
          .map((line) => `  ${line}\n`)
          .join('')}`,
      );
    if (args.picture !== null) await savePicture(analysis, photo.value, args.picture, system, io);
  }
  if (paths.length > 1) {
    io.stderr(
      `${seen.counted} counted (${seen.plants} plants), ${seen.noReference} without scale, ${seen.unreadable} unreadable\n`,
    );
  }
  if (seen.unreadable > 0) return EXIT.unreadable;
  return seen.noReference > 0 ? EXIT.noReference : EXIT.done;
}

async function savePicture(analysis: PhotoAnalysis, photo: Photo, out: string, system: LengthSystem, io: Io) {
  const file = extname(out) === '' ? join(out, `${basename(photo.file, extname(photo.file))}.count.png`) : out;
  const picture = countPicture(analysis, countText(analysis.result, system), system);
  await writeFile(
    file,
    await paintPicture(picture, photo.raster, photo.photoPxPerRasterPx, analysis.strip?.raster ?? null),
  );
  io.stderr(`picture: ${file}\n`);
}

/** Folders stand for the photos in them, by name. */
async function photosOf(paths: readonly string[]): Promise<string[]> {
  const lists = await Promise.all(
    paths.map(async (path) => {
      const info = await stat(path).catch(() => null);
      if (!info?.isDirectory()) return [path];
      const names = (await readdir(path)).filter((name) => PHOTO_ENDINGS.has(extname(name).toLowerCase()));
      return names.sort().map((name) => join(path, name));
    }),
  );
  return lists.flat();
}

/** Metric where the person wrote metric. */
function systemOf({ options: { reference, rowWidthM } }: CountArgs): LengthSystem {
  if (reference.kind === 'tape' && 'graduations' in reference)
    return reference.graduations === 'in' ? 'imperial' : 'metric';
  const lengthM =
    'lengthM' in reference
      ? reference.lengthM
      : 'bandM' in reference
        ? reference.bandM
        : 'alongM' in reference
          ? reference.alongM
          : rowWidthM;
  if (lengthM === null) return 'imperial';
  const inches = lengthM / METRES_PER_INCH;
  return Math.abs(inches - Math.round(inches)) < 1e-6 ? 'imperial' : 'metric';
}
