/// <reference types="vitest/config" />
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/**
 * Two builds from one set of sources: the app (default) and, with `--mode cli`, the command line for Node.
 * The tests' projects stand in the order in which `npm test` runs them.
 */
export default defineConfig(({ mode }) => (mode === 'cli' ? commandLineBuild() : appBuild()));

function commandLineBuild() {
  return {
    logLevel: 'warn' as const,
    // Packages built in start several times faster than their many small files do.
    ssr: { noExternal: true as const },
    build: {
      ssr: 'src/cli/main.ts',
      outDir: 'dist/cli',
      target: 'node20',
      emptyOutDir: true,
      rollupOptions: { output: { entryFileNames: 'main.mjs', chunkFileNames: '[name]-[hash].mjs' } },
    },
  };
}

/** Only danfojs's tables are used; its plots and its workbook reader stay out, since they break the page's strict policy. */
const DANFOJS_FOR_TABLES_ALONE = [
  { find: /^danfojs$/, replacement: inProject('node_modules/danfojs/dist/danfojs-base/index.js') },
  { find: /^(plotly\.js-dist-min|xlsx)$/, replacement: inProject('src/export/left-out-of-danfojs.ts') },
];

function inProject(path: string): string {
  return fileURLToPath(new URL(path, import.meta.url));
}

function appBuild() {
  return {
    base: './',
    define: { global: 'globalThis' },
    resolve: { alias: DANFOJS_FOR_TABLES_ALONE },
    build: { outDir: 'dist/app', target: 'es2023', assetsInlineLimit: 0, chunkSizeWarningLimit: 2000 },
    worker: { format: 'es' as const },
    test: {
      projects: [
        project('rules', ['tests/rules/**/*.test.ts']),
        project('unit', ['tests/**/*.test.ts'], ['tests/rules/**', 'tests/oracle/**', 'tests/browser/**']),
        project('oracle', ['tests/oracle/**/*.test.ts']),
      ],
    },
  };
}

/** Tests share their modules within a worker: none of them changes a module's state, and loading all anew for each file took as long as the tests. */
function project(name: string, include: string[], exclude: string[] = []) {
  return {
    extends: true as const,
    test: { name, include, exclude, isolate: false, testTimeout: 120_000, hookTimeout: 120_000 },
  };
}
