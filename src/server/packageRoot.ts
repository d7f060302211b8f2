import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of the installed package: two above this file, both as source and as built. */
const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

export function packageVersion(): string {
  return (JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string }).version;
}

/** The built web app; null when it has not been built. */
export function builtUi(): string | null {
  const folder = join(ROOT, 'dist', 'ui');
  return existsSync(join(folder, 'index.html')) ? folder : null;
}

/** The rendered sample images; null in an installed package, which comes without them. */
export function sampleImages(): string | null {
  const folder = join(ROOT, 'sample-images');
  return existsSync(folder) ? folder : null;
}
