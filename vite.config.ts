import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';

/** The web app: page and measuring thread, built into dist/ui and served by `rowledger serve`. */
export default defineConfig({
  root: 'src/ui',
  base: '/',
  plugins: [preact()],
  build: { outDir: '../../dist/ui', emptyOutDir: true, target: 'es2022' },
  worker: { format: 'es' },
});
