// Makes the compiled command executable and reachable as `npx rowledger` inside a checkout.
import { chmodSync, existsSync, mkdirSync, rmSync, symlinkSync } from 'node:fs';

const main = 'dist/cli/main.js';
if (existsSync(main)) chmodSync(main, 0o755);
if (existsSync('node_modules')) {
  mkdirSync('node_modules/.bin', { recursive: true });
  rmSync('node_modules/.bin/rowledger', { force: true });
  symlinkSync(`../../${main}`, 'node_modules/.bin/rowledger');
}
