import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';

const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
const PUBLIC = 'src/ui/public';
const ENGINE = 'node_modules/onnxruntime-web/dist';
/** Kept after the page stands: nobody waits for these to see the first page. */
const IS_LARGE = /\.(wasm|onnx)$|^engine\/|^models\/|libheif|ort\.|tensorflow/;

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

/** Puts the networks and the engine that runs them beside the page, under names that the measuring thread knows. */
function networks(): Plugin {
  return {
    name: 'networks',
    generateBundle() {
      const models = existsSync('models') ? readdirSync('models').filter((name) => /\.(json|onnx)$/.test(name)) : [];
      const files = [
        ...models.map((name) => [`models/${name}`, join('models', name)] as const),
        ...['ort-wasm-simd-threaded.mjs', 'ort-wasm-simd-threaded.wasm'].map(
          (name) => [`engine/${name}`, join(ENGINE, name)] as const,
        ),
        ['engine/givenProgram.mjs', 'src/browser/givenProgram.mjs'] as const,
      ];
      for (const [fileName, path] of files) this.emitFile({ type: 'asset', fileName, source: readFileSync(path) });
    },
  };
}

/** Tells the service worker which files there are. */
function offlineFiles(): Plugin {
  return {
    name: 'offline-files',
    enforce: 'post',
    generateBundle: {
      order: 'post',
      handler(_options, bundle) {
        const worker = bundle['sw.js'];
        if (worker?.type !== 'chunk') throw new Error('the service worker was not built');
        const hash = createHash('sha256');
        const names: string[] = [];
        for (const [name, file] of Object.entries(bundle)) {
          if (name === 'sw.js' || name.endsWith('.map')) continue;
          hash.update(name).update(file.type === 'chunk' ? file.code : file.source);
          names.push(name);
        }
        for (const name of readdirSync(PUBLIC)) {
          hash.update(name).update(readFileSync(join(PUBLIC, name)));
          names.push(name);
        }
        if (!names.includes('index.html')) names.push('index.html');
        const listed = (large: boolean) =>
          JSON.stringify(names.filter((name) => IS_LARGE.test(name) === large).map((name) => `/${name}`));
        const told = `const PAGE_FILES = ${listed(false)}, LARGE_FILES = ${listed(true)}`;
        worker.code = `${told}, BUILD_HASH = "${hash.digest('hex').slice(0, 16)}";\n${worker.code}`;
      },
    },
  };
}

/** The web app: page, service worker and measuring thread, built into dist/ui and served by `rowledger serve`. */
export default defineConfig({
  root: 'src/ui',
  base: '/',
  plugins: [preact(), arucoExports(), networks(), offlineFiles()],
  define: { APP_VERSION: JSON.stringify(version) },
  // The engine's WebAssembly is served as a file of its own, once, instead of being copied into bundles.
  resolve: { conditions: ['onnxruntime-web-use-extern-wasm', 'module', 'browser', 'import', 'default'] },
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
  worker: {
    format: 'es',
    plugins: () => [arucoExports()],
    rollupOptions: {
      // Named, so that the service worker knows it for one of the files that nobody waits for.
      output: {
        chunkFileNames: (chunk) =>
          chunk.moduleIds.some((id) => id.includes('@tensorflow'))
            ? 'assets/tensorflow-[hash].js'
            : 'assets/[name]-[hash].js',
      },
    },
  },
});
