import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';

const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
const PUBLIC = 'src/ui/public';

/** js-aruco2 hangs what it exports on `this`, as Node's modules allow; said here as an export that bundlers know. */
function arucoExports(): Plugin {
  return {
    name: 'aruco-exports',
    transform(code, id) {
      if (!/js-aruco2[\\/]src[\\/]/.test(id)) return null;
      return code.replace(/^this\.(\w+) = \1;/gm, 'module.exports.$1 = $1;').replaceAll('this.CV ||', '');
    },
  };
}

/**
 * Tells the service worker which files there are. Files named by their content and public ones alike are kept whole, so
 * the app opens with no network after one visit, measuring and models included.
 */
function offlineFiles(): Plugin {
  return {
    name: 'offline-files',
    generateBundle(_options, bundle) {
      const worker = bundle['sw.js'];
      if (worker?.type !== 'chunk') throw new Error('the service worker was not built');
      const hash = createHash('sha256');
      const files = ['/index.html'];
      for (const [name, file] of Object.entries(bundle)) {
        if (name === 'sw.js' || name.endsWith('.map')) continue;
        hash.update(name).update(file.type === 'chunk' ? file.code : file.source);
        if (name !== 'index.html') files.push(`/${name}`);
      }
      for (const name of readdirSync(PUBLIC)) {
        hash.update(name).update(readFileSync(join(PUBLIC, name)));
        files.push(`/${name}`);
      }
      worker.code = `const BUILT_FILES = ${JSON.stringify(files)}, BUILD_HASH = ${JSON.stringify(hash.digest('hex').slice(0, 16))};\n${worker.code}`;
    },
  };
}

/** The web app: page, service worker and measuring thread, built into dist/ui and served by `rowledger serve`. */
export default defineConfig({
  root: 'src/ui',
  base: '/',
  plugins: [preact(), arucoExports(), offlineFiles()],
  define: { APP_VERSION: JSON.stringify(version) },
  build: {
    outDir: '../../dist/ui',
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: { index: 'src/ui/index.html', sw: 'src/browser/serviceWorker.ts' },
      output: { entryFileNames: (chunk) => (chunk.name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js') },
    },
  },
  worker: { format: 'es', plugins: () => [arucoExports()] },
});
