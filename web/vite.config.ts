import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** Where the server listens while the pages are worked on. */
const SERVER = `http://localhost:${process.env['PORT'] ?? '4170'}`

const fromHere = (path: string) => fileURLToPath(new URL(path, import.meta.url))

export default defineConfig({
  base: '/',
  plugins: [react()],
  resolve: {
    // Our own packages come from their sources, so that a page needs no build of them. Named one by one: a general `source` condition
    // would reach into libraries that name theirs but do not ship it.
    alias: {
      '@haspwright/engine': fromHere('../engine/src/index.ts'),
      '@haspwright/papers/drawing': fromHere('../papers/src/drawing/index.ts'),
      '@haspwright/papers/mesh': fromHere('../papers/src/mesh/index.ts'),
      '@haspwright/server/client': fromHere('../server/src/client.ts'),
    },
  },
  build: {
    outDir: 'dist',
    target: ['chrome123', 'firefox124', 'safari17.5'],
    // The page's security policy allows no data: addresses and no inline scripts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 900,
  },
  worker: { format: 'es' },
  server: { port: 4171, proxy: { '/api': SERVER } },
})
