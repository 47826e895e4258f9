import react from '@vitejs/plugin-react';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { offlineFiles } from './scripts/offline-files.mjs';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/**
 * The workbench: a static page in `dist/site`. Nothing is inlined, so that the content security policy can stay strict. The
 * service worker stands beside the page under its own name; packages are a file apart, so that a change of ours leaves them be.
 */
export default defineConfig({
  root: 'web',
  base: './',
  plugins: [react(), offlineFiles(at('web/public'))],
  build: {
    outDir: '../dist/site',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target: 'es2023',
    sourcemap: false,
    rolldownOptions: {
      input: { index: at('web/index.html'), 'service-worker': at('worker/service-worker.ts') },
      output: {
        entryFileNames: ({ name }) => (name === 'service-worker' ? '[name].js' : 'assets/[name]-[hash].js'),
        codeSplitting: {
          groups: [
            { name: 'react', test: /node_modules[\\/](react|react-dom|scheduler)[\\/]/ },
            { name: 'packages', test: /node_modules[\\/]/ },
          ],
        },
      },
    },
  },
  worker: { format: 'es' },
});
