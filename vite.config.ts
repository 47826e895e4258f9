import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** The workbench: a static page in `dist/site`. Nothing is inlined, so that the content security policy can stay strict. */
export default defineConfig({
  root: 'web',
  base: './',
  plugins: [react()],
  build: { outDir: '../dist/site', emptyOutDir: true, assetsInlineLimit: 0, target: 'es2023', sourcemap: false },
  worker: { format: 'es' },
});
